//! A folder of many data files, each with other readings, made from one sample.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

/// The sample that every file is made from.
pub const SAMPLE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/samples/zinc-copper-sulfate/3-07.toml"
);

/// A folder in memory where there is one, removed when dropped.
pub fn scratch() -> tempfile::TempDir {
    let memory = Path::new("/dev/shm");
    let place = if memory.is_dir() {
        memory.to_path_buf()
    } else {
        std::env::temp_dir()
    };
    tempfile::Builder::new()
        .prefix("gramleaf-bench-")
        .tempdir_in(place)
        .unwrap()
}

/// Writes `count` data files and returns their folder.
pub fn write(scratch: &Path, count: usize) -> PathBuf {
    let sample = fs::read_to_string(SAMPLE).unwrap();
    let folder = scratch.join("class");
    fs::create_dir_all(&folder).unwrap();
    for number in 0..count {
        fs::write(
            folder.join(format!("g-{number:05}.toml")),
            varied(&sample, number),
        )
        .unwrap();
    }
    folder
}

/// The sample with another group and readings that differ from file to file, all of them possible.
pub fn varied(sample: &str, number: usize) -> String {
    let step = |most: usize, prime: usize| ((number * prime) % most) as f64 / 100.0;
    let copper = 105.50 + step(23, 7);
    let readings = [
        ("\"3-07\"", format!("\"g-{number:05}\"")),
        ("\"8.47 g\"", format!("\"{:.2} g\"", 8.35 + step(31, 11))),
        ("\"4.36 g\"", format!("\"{:.2} g\"", 4.30 + step(17, 5))),
        ("\"105.68 g\"", format!("\"{copper:.2} g\"")),
        ("\"105.70 g\"", format!("\"{:.2} g\"", copper + 0.02)),
        ("\"5.14 g\"", format!("\"{:.2} g\"", 5.08 + step(13, 3))),
    ];
    readings.iter().fold(sample.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "the sample has no {old}");
        text.replacen(old, new, 1)
    })
}
