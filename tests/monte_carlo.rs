//! The uncertainty of every step held against a Monte Carlo propagation of distributions, worked apart from the program.
//!
//! Source: JCGM 101:2008 (Supplement 1 to the GUM): inputs are drawn from their distributions (6.4.2 rectangular, 6.4.7
//! normal) and put through the model (7.4); the first-order result is validated when both agree within the numerical
//! tolerance of 7.9.2 for two significant digits: u = c × 10ˡ with c a whole number of two digits, δ = ½ × 10ˡ (clause 8).

#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::print_stdout,
    reason = "the number of draws is small, and the tables that the tests print are to be read"
)]

mod support;

#[path = "support/random.rs"]
mod random;

use std::collections::BTreeMap;
use std::fs;

use gramleaf::measure::Reading;
use gramleaf::measure::Spread;
use gramleaf::record::Record;
use gramleaf::working::Constant;
use gramleaf::working::Expression;
use gramleaf::working::Graph;
use gramleaf::working::Variable;
use gramleaf::working::Worked;
use gramleaf::working::line::Line;
use random::Random;

/// Labs and the groups whose sheets are full: with what is left, hydrates, volumes with a concentration or a density, drying
/// to constant mass, quantities of the lab's own.
const GROUPS: &[(&str, &str)] = &[
    ("samples/zinc-copper-sulfate", "3-07.toml"),
    ("samples/zinc-copper-sulfate", "3-11.toml"),
    ("samples/aluminium-copper-chloride", "5-03.toml"),
    ("samples/calcium-carbonate-precipitate", "2-05.toml"),
    ("samples/baking-soda", "4-01.toml"),
    ("samples/magnesium-oxide", "6-12.toml"),
    ("samples/water-in-hydrate", "1-09.toml"),
    ("samples/aspirin", "6-03.toml"),
    ("samples/copper-sulfate-crystals", "8-05.toml"),
    ("samples/marble-and-acid", "1-03.toml"),
    ("samples/salt-by-evaporation", "4-06.toml"),
    ("samples/calcium-phosphate", "2-09.toml"),
    ("samples/copper-silver-nitrate", "7-04.toml"),
    ("samples/copper-cycle", "8-10.toml"),
    ("samples/iron-powder", "8-02.toml"),
    ("samples/zinc-iodide", "7-11.toml"),
    ("samples/iron-copper-chloride", "7-08.toml"),
    ("samples/hydrogen-over-water", "9-02.toml"),
];

/// A sampled standard deviation has a standard uncertainty of about u/√(2M) (exact for a normal distribution, less for flatter
/// ones). So many of those make up the tolerance.
const SURE: f64 = 5.0;

/// Standard uncertainties within which the reactant that runs out may not change.
const CLEAR: f64 = 4.0;

#[test]
fn the_uncertainty_of_every_step_is_that_of_a_simulation() {
    let (mut compared, mut worst) = (0, Worst::default());
    for (lab, group) in GROUPS {
        let lab_text = read(&format!("{lab}/lab.toml"));
        let data = read(&format!("{lab}/{group}"));
        let outcome = simulate(lab, &lab_text, &data, &mut worst);
        println!(
            "{lab}/{group}: {} steps, {} draws",
            outcome.compared, outcome.draws
        );
        assert_eq!(
            outcome.skipped, [""; 0],
            "{lab}: no reactant is near another there"
        );
        assert!(outcome.compared >= 5, "{lab}: {}", outcome.compared);
        compared += outcome.compared;
    }
    println!(
        "{compared} steps; farthest apart, by {:.2} of the tolerance: {}",
        worst.part, worst.what
    );
}

/// A standard uncertainty in brackets is that of a normal distribution.
#[test]
fn a_standard_uncertainty_in_brackets_is_drawn_from_a_normal_distribution() {
    let lab = "samples/aspirin";
    let lab_text = read(&format!("{lab}/lab.toml")).replace("1.08 g/mL", "1.080(12) g/mL");
    let data =
        read(&format!("{lab}/6-03.toml")).replace("\"1.94 g\", \"\"", "\"1.940(7) g\", \"\"");
    assert!(lab_text.contains("(12)") && data.contains("(7)"));
    let outcome = simulate(lab, &lab_text, &data, &mut Worst::default());
    assert_eq!(outcome.normal, 2);
    assert!(outcome.compared >= 5 && outcome.skipped.is_empty());
}

/// Where the reactants are so even that the readings do not say which runs out first, a first-order uncertainty means nothing;
/// what does not hang on that is still right.
#[test]
fn steps_behind_a_tie_of_reactants_are_left_out() {
    let lab = "samples/zinc-copper-sulfate";
    let data = read(&format!("{lab}/3-07.toml"));
    // As many moles of zinc as of the salt, to within 0.01 g.
    let even = data
        .replace("\"4.36 g\"", "\"1.58 g\"")
        .replace("\"5.14 g\"", "\"2.40 g\"");
    assert_ne!(even, data, "the sample has other readings now");
    let outcome = simulate(
        lab,
        &read(&format!("{lab}/lab.toml")),
        &even,
        &mut Worst::default(),
    );
    println!("left out: {:?}", outcome.skipped);
    for step in [
        "limiting",
        "theoretical_copper",
        "percent_yield",
        "expected_left_zinc",
    ] {
        assert!(
            outcome.skipped.iter().any(|skipped| skipped == step),
            "{step}"
        );
    }
    for step in [
        "moles_salt",
        "moles_zinc",
        "collected_copper",
        "used_zinc",
        "ratio_copper_zinc",
    ] {
        assert!(
            !outcome.skipped.iter().any(|skipped| skipped == step),
            "{step}"
        );
    }
}

/// Where simulation and first order are farthest apart.
#[derive(Default)]
struct Worst {
    /// Difference ÷ tolerance.
    part: f64,
    what: String,
}

/// What became of one group.
struct Outcome {
    compared: usize,
    draws: u32,
    /// Inputs drawn from a normal distribution.
    normal: usize,
    /// Steps behind a tie.
    skipped: Vec<String>,
}

/// Simulates a group and compares every step with a value.
fn simulate(name: &str, lab_text: &str, data: &str, worst: &mut Worst) -> Outcome {
    support::worked(lab_text, data, |_, graph, record, worked| {
        let mut program = Program::of(graph, record, worked);
        let line = Line::new(graph, &worked.inputs);
        let steps: Vec<(usize, f64, f64)> = graph
            .ids()
            .filter_map(|id| {
                let value = worked.value(id)?;
                // What is left of a difference of equal numbers in binary arithmetic is no doubt.
                let size = line.scale(&graph.step(id).expression)?;
                let standard = value.standard_uncertainty(&worked.inputs);
                Some((id.index(), standard, 1e-13 * size))
            })
            .collect();
        let largest = steps
            .iter()
            .map(|(_, u, _)| digits(*u).0)
            .fold(10.0, f64::max);
        // u/√(2M) ≤ δ/SURE with δ = u/(2c).
        let draws = (2.0 * (SURE * largest).powi(2)).ceil() as u32;
        let mut random = Random::named(&[name]);
        program.agrees_with_the_line(graph, worked, &mut random);
        let mut moments = vec![(0.0_f64, 0.0_f64); program.slots.len()];
        program.draw(None);
        let middle = program.slots.clone();
        for _ in 0..draws {
            program.draw(Some(&mut random));
            for ((sum, squares), (value, nominal)) in
                moments.iter_mut().zip(program.slots.iter().zip(&middle))
            {
                let off = value - nominal;
                *sum += off;
                *squares += off * off;
            }
        }
        let count = f64::from(draws);
        let deviation = |slot: usize| {
            let (sum, squares) = moments[slot];
            ((squares - sum * sum / count) / (count - 1.0))
                .max(0.0)
                .sqrt()
        };
        let tied = |slot: &usize| middle[*slot].abs() < CLEAR * deviation(*slot);
        let mut outcome = Outcome {
            compared: 0,
            draws,
            normal: program.inputs.iter().filter(|input| input.normal).count(),
            skipped: Vec::new(),
        };
        for (step, standard, nothing) in steps {
            let id = &graph.steps()[step].id;
            let place = &program.steps[step];
            if place.gaps.iter().any(tied) {
                outcome.skipped.push(id.clone());
                continue;
            }
            let found = deviation(place.slot);
            outcome.compared += 1;
            if standard <= nothing {
                assert!(
                    found <= nothing,
                    "{name} {id}: {found} where there is no doubt"
                );
                continue;
            }
            let (_, unit) = digits(standard);
            let part = (found - standard).abs() / (0.5 * unit);
            if part > worst.part {
                worst.part = part;
                worst.what =
                    format!("{id} of {name}: {standard:.6e} by first order, {found:.6e} drawn");
            }
            assert!(
                part <= 1.0,
                "{name} {id}: u is {standard} by first order, {found} by simulation, with a tolerance of {}",
                0.5 * unit
            );
        }
        outcome
    })
}

/// c and 10ˡ of a number written as c × 10ˡ, c of two digits.
fn digits(number: f64) -> (f64, f64) {
    if number <= 0.0 {
        return (10.0, 0.0);
    }
    let unit = 10_f64.powf(number.log10().floor() - 1.0);
    let count = (number / unit).round();
    if count >= 100.0 {
        (10.0, 10.0 * unit)
    } else {
        (count, unit)
    }
}

/// An input's distribution.
struct Input {
    variable: Variable,
    slot: usize,
    value: f64,
    /// Half-width of a rectangle, or the standard deviation of a normal distribution.
    width: f64,
    normal: bool,
}

/// One operation on two slots.
#[derive(Clone, Copy)]
enum Operation {
    Add,
    Subtract,
    Multiply,
    Divide,
    Least,
}

/// Where a step's value is, and the differences between reactants that it hangs on.
struct Place {
    slot: usize,
    gaps: Vec<usize>,
}

/// All steps of a graph as a list of operations on a row of numbers: one pass a draw.
#[derive(Default)]
struct Program {
    inputs: Vec<Input>,
    slots: Vec<f64>,
    code: Vec<(Operation, usize, usize, usize)>,
    steps: Vec<Place>,
    known: BTreeMap<Variable, usize>,
    /// Whether a gas shares its pressure with water vapour.
    over_water: bool,
}

impl Program {
    fn of(graph: &Graph, record: &Record, worked: &Worked<'_>) -> Self {
        let mut program = Self::default();
        for step in graph.steps() {
            let mut gaps = Vec::new();
            let slot = program.expression(&step.expression, (graph, record, worked), &mut gaps);
            program.steps.push(Place { slot, gaps });
        }
        program
    }

    fn number(&mut self, value: f64) -> usize {
        self.slots.push(value);
        self.slots.len() - 1
    }

    fn operation(&mut self, operation: Operation, a: usize, b: usize) -> usize {
        let slot = self.number(f64::NAN);
        self.code.push((operation, a, b, slot));
        slot
    }

    /// The slot of an input with its distribution.
    fn input(
        &mut self,
        variable: Variable,
        value: f64,
        spread: Option<Spread>,
        half: f64,
    ) -> usize {
        if let Some(slot) = self.known.get(&variable) {
            return *slot;
        }
        let slot = self.number(value);
        let normal = matches!(spread, Some(Spread::Standard(_)));
        // The half-width of what is stated as a standard uncertainty is that times √3.
        let width = if normal { half / 3.0_f64.sqrt() } else { half };
        self.inputs.push(Input {
            variable,
            slot,
            value,
            width,
            normal,
        });
        self.known.insert(variable, slot);
        slot
    }

    fn expression(
        &mut self,
        expression: &Expression,
        from: (&Graph, &Record, &Worked<'_>),
        gaps: &mut Vec<usize>,
    ) -> usize {
        let (graph, record, worked) = from;
        let half = |variable| worked.inputs.doubt(variable).half_width;
        let base = |reading: &Reading| {
            let power = reading
                .unit
                .map_or(0, gramleaf::measure::Unit::power_to_base);
            reading.number.to_f64() * 10_f64.powi(power)
        };
        match expression {
            Expression::Reading(index) => {
                let variable = Variable::Reading(*index);
                match record.readings[*index].usable() {
                    Some(reading) => {
                        self.input(variable, base(reading), reading.spread, half(variable))
                    }
                    None => self.number(f64::NAN),
                }
            }
            Expression::Given(index) => {
                let variable = Variable::Given(*index);
                let given = &graph.givens[*index].value;
                self.input(variable, base(given), given.spread, half(variable))
            }
            Expression::Constant(Constant::Number(number)) => self.number(number.to_f64()),
            Expression::Constant(Constant::Hundred) => self.number(100.0),
            Expression::Constant(Constant::Coefficient { count, .. }) => {
                self.number(f64::from(*count))
            }
            Expression::Constant(Constant::MolarMass(formula)) => {
                let mut total = self.number(0.0);
                for (element, count) in formula.atoms() {
                    let weight = worked.inputs.weights.get(*element).expect("a weight");
                    let variable = Variable::Element(*element);
                    let half = weight.half_width.to_f64();
                    let one = self.input(variable, weight.value.to_f64(), None, half);
                    let count = self.number(f64::from(*count));
                    let part = self.operation(Operation::Multiply, one, count);
                    total = self.operation(Operation::Add, total, part);
                }
                total
            }
            Expression::Constant(Constant::Gas) => self.number(8.314_462_618),
            Expression::Absolute(celsius) => {
                let celsius = self.expression(celsius, from, gaps);
                let zero = self.number(273.15);
                self.operation(Operation::Add, celsius, zero)
            }
            // Between 21 °C and 22 °C it rises from 2.488 to 2.645 kPa (Wagner and Pruß, IAPWS SR1-86).
            Expression::VapourPressure(celsius) => {
                self.over_water = true;
                let celsius = self.expression(celsius, from, gaps);
                let (half, at_half, rise) =
                    (self.number(21.5), self.number(2.57), self.number(0.157));
                let above = self.operation(Operation::Subtract, celsius, half);
                let more = self.operation(Operation::Multiply, above, rise);
                self.operation(Operation::Add, at_half, more)
            }
            Expression::Step(step) => {
                let place = &self.steps[step.index()];
                gaps.extend(&place.gaps);
                place.slot
            }
            Expression::Sum(terms) => self.chain(Operation::Add, terms, from, gaps),
            Expression::Product(factors) => self.chain(Operation::Multiply, factors, from, gaps),
            Expression::Difference(a, b) => self.pair(Operation::Subtract, a, b, from, gaps),
            Expression::Quotient(a, b) => self.pair(Operation::Divide, a, b, from, gaps),
            Expression::Smallest(candidates) => {
                let mut shares = Vec::new();
                for candidate in candidates {
                    shares.push(self.expression(&candidate.share, from, gaps));
                }
                for (place, one) in shares.iter().enumerate() {
                    for other in &shares[place + 1..] {
                        gaps.push(self.operation(Operation::Subtract, *one, *other));
                    }
                }
                let (first, rest) = shares.split_first().expect("a candidate");
                rest.iter().fold(*first, |least, share| {
                    self.operation(Operation::Least, least, *share)
                })
            }
        }
    }

    fn pair(
        &mut self,
        operation: Operation,
        a: &Expression,
        b: &Expression,
        from: (&Graph, &Record, &Worked<'_>),
        gaps: &mut Vec<usize>,
    ) -> usize {
        let a = self.expression(a, from, gaps);
        let b = self.expression(b, from, gaps);
        self.operation(operation, a, b)
    }

    fn chain(
        &mut self,
        operation: Operation,
        parts: &[Expression],
        from: (&Graph, &Record, &Worked<'_>),
        gaps: &mut Vec<usize>,
    ) -> usize {
        let (first, rest) = parts.split_first().expect("a part");
        let mut slot = self.expression(first, from, gaps);
        for part in rest {
            let next = self.expression(part, from, gaps);
            slot = self.operation(operation, slot, next);
        }
        slot
    }

    /// Draws every input, or takes each as it stands, and works everything.
    fn draw(&mut self, mut random: Option<&mut Random>) {
        for input in &self.inputs {
            self.slots[input.slot] = input.value
                + random.as_mut().map_or(0.0, |random| {
                    if input.normal {
                        input.width * normal(random)
                    } else {
                        random.within(input.width)
                    }
                });
        }
        for (operation, a, b, to) in &self.code {
            let (a, b) = (self.slots[*a], self.slots[*b]);
            self.slots[*to] = match operation {
                Operation::Add => a + b,
                Operation::Subtract => a - b,
                Operation::Multiply => a * b,
                Operation::Divide => a / b,
                Operation::Least => a.min(b),
            };
        }
    }

    /// The program's own working of draws comes to the same: what is simulated here is what the report shows.
    fn agrees_with_the_line(&mut self, graph: &Graph, worked: &Worked<'_>, random: &mut Random) {
        const DRAWS: usize = 20;
        for _ in 0..DRAWS {
            self.draw(Some(random));
            let mut line = Line::new(graph, &worked.inputs);
            for input in &self.inputs {
                line.vary(input.variable, self.slots[input.slot]);
            }
            for (id, place) in graph.ids().zip(&self.steps) {
                let Some(value) = line.current(id) else {
                    continue;
                };
                let here = self.slots[place.slot];
                // Differences of near numbers keep fewer digits than their terms.
                let terms = line
                    .scale(&graph.step(id).expression)
                    .unwrap_or(value)
                    .abs();
                // The table's vapour pressure is rounded to 0.01 kPa of about 98; the straight line drawn here is not.
                let near = if self.over_water { 1e-4 } else { 1e-9 };
                assert!(
                    (here - value).abs() <= near * terms.max(value.abs()),
                    "{}: {here} and {value}",
                    graph.step(id).id
                );
            }
        }
    }
}

/// From a normal distribution of mean 0 and standard deviation 1 (Box and Muller; JCGM 101:2008, C.4).
fn normal(random: &mut Random) -> f64 {
    let radius = (-2.0 * (1.0 - random.part()).ln()).sqrt();
    radius * (std::f64::consts::TAU * random.part()).cos()
}

fn read(path: &str) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{path}: {error}"))
}
