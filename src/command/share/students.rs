//! Students who hand in apart: beside their groups on the teacher's page, and nowhere else.

use std::collections::BTreeMap;
use std::path::PathBuf;

use crate::command::files;
use crate::command::share::gather::Gathered;
use crate::command::terminal;
use crate::report::class::Judged;

/// A student's own file, which takes its readings from a group's.
#[derive(Debug)]
pub(super) struct Student {
    /// Its file.
    pub path: PathBuf,
    /// The group's file that it points at.
    pub group_file: PathBuf,
    /// What the teacher sees.
    pub judged: Judged,
}

/// Puts each student, with the id of the lab, into its class, under the code and section of the group whose readings the
/// student takes. A group that is not among those of the class, since its file lies elsewhere or cannot be used, is called
/// as the student calls it.
pub(super) fn beside_their_groups(students: Vec<(String, Student)>, gathered: &mut Gathered) {
    if students.is_empty() {
        return;
    }
    let groups = gathered.classes.values().flat_map(|class| &class.groups);
    let labels: BTreeMap<PathBuf, (String, String)> = groups
        .map(|group| {
            let labels = (group.entry.code.clone(), group.entry.section.clone());
            (files::real(&group.path), labels)
        })
        .collect();
    for (lab, mut student) in students {
        let Some(class) = gathered.classes.get_mut(&lab) else {
            gathered.students_unread += 1;
            terminal::stopped(
                &format!(
                    "{} is on no teacher's page: no group of its lab, {lab}, is here",
                    student.path.display()
                ),
                &format!(
                    "share it together with the group's file, {}",
                    student.group_file.display()
                ),
            );
            continue;
        };
        let judged = &mut student.judged;
        if let Some(labels) = labels.get(&files::real(&student.group_file)) {
            (judged.label, judged.section) = labels.clone();
        } else if judged.label.is_empty() {
            let name = student.group_file.file_name();
            judged.label =
                name.map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        }
        class.students.push(student);
    }
}
