//! Experiments made up for tests: true masses from the equation, what happens at the bench, and what the balance then shows.
//!
//! Nothing here uses the library: the arithmetic is its own, so that both can be wrong only in different ways.

use crate::random::Random;

// Atomic weights, g/mol: T. Prohaska et al., Pure Appl. Chem. 94 (2022) 573, abridged to five figures.
const H: f64 = 1.008;
const C: f64 = 12.011;
const N: f64 = 14.007;
const O: f64 = 15.999;
const NA: f64 = 22.990;
const MG: f64 = 24.305;
const AL: f64 = 26.982;
const S: f64 = 32.06;
const CL: f64 = 35.45;
const CA: f64 = 40.078;
const FE: f64 = 55.845;
const CU: f64 = 63.546;
const ZN: f64 = 65.38;
const AG: f64 = 107.87;
const I: f64 = 126.90;
/// kPa·L/(mol·K): CODATA 2022.
const GAS_CONSTANT: f64 = 8.314_462_618;
const WATER: f64 = 2.0 * H + O;

/// A substance as it is weighed: its coefficient and molar mass.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Substance {
    pub(crate) coefficient: f64,
    pub(crate) molar_mass: f64,
    /// Without the water of its crystals.
    pub(crate) dry: f64,
}

/// A lab: what is taken, and how its readings come about.
pub(crate) struct Model {
    /// The lab's folder.
    pub(crate) lab: &'static str,
    /// The reactant that runs out.
    pub(crate) limiting: Substance,
    /// How much of it is planned: g, or L of a solution.
    pub(crate) planned: f64,
    /// mol/L, where it is taken as a solution.
    pub(crate) concentration: Option<f64>,
    /// How far the volume of that solution may be off, L.
    pub(crate) cylinder: f64,
    /// The reactant in excess, with the mass planned.
    pub(crate) excess: Option<(Substance, f64)>,
    /// What is weighed at the end.
    pub(crate) product: Substance,
    /// Whether the reactant is weighed into the vessel in which the product is weighed.
    pub(crate) in_vessel: bool,
    /// The step of its balance, g.
    pub(crate) step: f64,
    /// The readings by their names, g or mL.
    pub(crate) readings: fn(&Objects) -> Vec<(&'static str, f64, &'static str)>,
}

/// What lies on the balance, true to the last atom.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Objects {
    /// Limiting reactant as it is weighed, g; of a solution the volume shown, mL.
    pub(crate) taken: f64,
    /// Reactant in excess, g.
    pub(crate) excess: f64,
    /// What is in the product's vessel at the last weighing, g; of a gas what has left.
    pub(crate) product: f64,
    /// What is found of the reactant in excess, g.
    pub(crate) left: f64,
    /// In the product's vessel when it counts as empty, gone when it has been heated or dried.
    pub(crate) soiled: f64,
    /// Weighed with the dish, but never put to the rest.
    pub(crate) stayed_in_dish: f64,
    /// Empty vessels.
    pub(crate) empty: [f64; 3],
}

/// An experiment done.
pub(crate) struct Experiment {
    /// What was taken of the limiting reactant, g.
    pub(crate) taken: f64,
    /// The readings by their names, as the instruments show them.
    pub(crate) readings: Vec<(&'static str, String)>,
}

/// What happens at the bench, in g unless it says otherwise; nothing by default.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Happened {
    /// Part of the reaction that does not take place.
    pub(crate) unreacted: f64,
    /// Of the limiting reactant as weighed: something else that stays as it is.
    pub(crate) inert: f64,
    /// Of the limiting reactant as weighed: water that goes with the other water.
    pub(crate) damp: f64,
    /// Of the limiting reactant as weighed: never reached the rest.
    pub(crate) stayed_in_dish: f64,
    /// Of the crystals as weighed: without their water.
    pub(crate) dried_out: f64,
    /// Less in the solution than its label or its volume says, mol.
    pub(crate) missing_moles: f64,
    /// Something else is with the product.
    pub(crate) with_product: f64,
    /// Some of the product is not there.
    pub(crate) product_gone: f64,
    /// On the empty vessel, gone at the end.
    pub(crate) soiled: f64,
    /// Something else is with the leftover.
    pub(crate) with_left: f64,
    /// Some of the leftover is not there.
    pub(crate) left_gone: f64,
    /// Leftover among the product.
    pub(crate) left_in_product: f64,
    /// Product on the leftover.
    pub(crate) product_on_left: f64,
}

impl Model {
    /// Moles of the limiting reactant in the planned amount.
    pub(crate) fn moles(&self) -> f64 {
        self.concentration
            .map_or(self.planned / self.limiting.molar_mass, |molarity| {
                self.planned * molarity
            })
    }

    /// Moles of the product that can form of the planned amount.
    pub(crate) fn product_moles(&self) -> f64 {
        self.moles() / self.limiting.coefficient * self.product.coefficient
    }

    /// One experiment near the plan.
    pub(crate) fn run(&self, happened: &Happened, random: &mut Random) -> Experiment {
        let mut vary = |planned: f64| planned * (1.0 + random.within(0.03));
        let taken = vary(self.planned);
        let excess = self.excess.map_or(0.0, |(_, planned)| vary(planned));
        let empty = [vary(2.0), vary(60.0), vary(1.0)];
        let (shown, moles) = if let Some(molarity) = self.concentration {
            // The cylinder is filled to a mark; what it then holds is within its tolerance.
            let volume = self.planned + random.within(self.cylinder);
            (
                1000.0 * self.planned,
                volume * molarity - happened.missing_moles,
            )
        } else {
            let there = taken - happened.inert - happened.damp - happened.stayed_in_dish;
            let whole = (there - happened.dried_out) / self.limiting.molar_mass;
            (taken, whole + happened.dried_out / self.limiting.dry)
        };
        let mut extent = moles / self.limiting.coefficient;
        if let Some((substance, _)) = self.excess {
            extent = extent.min(excess / substance.molar_mass / substance.coefficient);
        }
        let stays = if self.in_vessel {
            happened.inert + happened.unreacted * (taken - happened.inert)
        } else {
            0.0
        };
        extent *= 1.0 - happened.unreacted;
        let formed = extent * self.product.coefficient * self.product.molar_mass;
        let used = self.excess.map_or(0.0, |(substance, _)| {
            extent * substance.coefficient * substance.molar_mass
        });
        let objects = Objects {
            taken: shown,
            excess,
            product: formed + stays + happened.with_product - happened.product_gone
                + happened.left_in_product
                - happened.product_on_left,
            left: excess - used + happened.with_left
                - happened.left_gone
                - happened.left_in_product
                + happened.product_on_left,
            soiled: happened.soiled,
            stayed_in_dish: happened.stayed_in_dish,
            empty,
        };
        let readings = (self.readings)(&objects).into_iter();
        Experiment {
            taken,
            readings: readings
                .map(|(name, true_value, unit)| (name, self.shown(true_value, unit)))
                .collect(),
        }
    }

    /// What the display shows, or the mark on the cylinder.
    fn shown(&self, value: f64, unit: &str) -> String {
        let (step, decimals) = match unit {
            "mL" | "°C" | "kPa" => (0.1, 1),
            _ if self.step < 0.0005 => (0.0001, 4),
            _ if self.step < 0.005 => (0.001, 3),
            _ => (0.01, 2),
        };
        format!("{:.decimals$} {unit}", (value / step).round() * step)
    }
}

const fn of(coefficient: f64, molar_mass: f64) -> Substance {
    Substance {
        coefficient,
        molar_mass,
        dry: molar_mass,
    }
}

const fn hydrate(coefficient: f64, dry: f64, waters: f64) -> Substance {
    Substance {
        coefficient,
        molar_mass: dry + waters * WATER,
        dry,
    }
}

const fn weighed(
    lab: &'static str,
    (limiting, planned): (Substance, f64),
    product: Substance,
    readings: fn(&Objects) -> Vec<(&'static str, f64, &'static str)>,
) -> Model {
    Model {
        lab,
        limiting,
        planned,
        concentration: None,
        cylinder: 0.0,
        excess: None,
        product,
        in_vessel: false,
        step: 0.01,
        readings,
    }
}

pub(crate) const ZINC: Model = Model {
    excess: Some((of(1.0, ZN), 4.4)),
    ..weighed(
        "samples/zinc-copper-sulfate",
        (hydrate(1.0, CU + S + 4.0 * O, 5.0), 6.0),
        of(1.0, CU),
        |on| {
            vec![
                ("dish_empty", on.empty[0], "g"),
                ("dish_with_salt", on.empty[0] + on.taken, "g"),
                ("zinc_before", on.excess, "g"),
                ("beaker_empty", on.empty[1] + on.soiled, "g"),
                ("water_added", 50.0, "mL"),
                ("beaker_with_copper", on.empty[1] + on.product, "g"),
                ("zinc_dish_empty", on.empty[2], "g"),
                ("zinc_dish_with_zinc", on.empty[2] + on.left, "g"),
            ]
        },
    )
};

pub(crate) const ALUMINIUM: Model = Model {
    excess: Some((of(2.0, AL), 1.3)),
    ..weighed(
        "samples/aluminium-copper-chloride",
        (hydrate(3.0, CU + 2.0 * CL, 2.0), 4.1),
        of(3.0, CU),
        |on| {
            vec![
                ("dish_empty", on.empty[0], "g"),
                ("dish_with_salt", on.empty[0] + on.taken, "g"),
                ("foil_before", on.excess, "g"),
                ("beaker_empty", on.empty[1] + on.soiled, "g"),
                ("water_added", 50.0, "mL"),
                ("beaker_with_copper", on.empty[1] + on.product, "g"),
                ("foil_dish_empty", on.empty[2], "g"),
                ("foil_dish_with_foil", on.empty[2] + on.left, "g"),
            ]
        },
    )
};

pub(crate) const IRON: Model = Model {
    excess: Some((of(1.0, FE), 5.0)),
    ..weighed(
        "samples/iron-copper-chloride",
        (hydrate(1.0, CU + 2.0 * CL, 2.0), 4.0),
        of(1.0, CU),
        |on| {
            vec![
                ("dish_empty", on.empty[0], "g"),
                ("dish_with_salt", on.empty[0] + on.taken, "g"),
                ("nails_before", on.excess, "g"),
                ("beaker_empty", on.empty[1] + on.soiled, "g"),
                ("water_added", 50.0, "mL"),
                ("beaker_with_copper", on.empty[1] + on.product, "g"),
                ("nail_dish_empty", on.empty[2], "g"),
                ("nail_dish_with_nails", on.empty[2] + on.left, "g"),
            ]
        },
    )
};

pub(crate) const SILVER: Model = Model {
    excess: Some((of(1.0, CU), 2.9)),
    step: 0.001,
    ..weighed(
        "samples/copper-silver-nitrate",
        (of(2.0, AG + N + 3.0 * O), 2.0),
        of(2.0, AG),
        |on| {
            vec![
                ("bottle", on.empty[0], "g"),
                ("bottle_with_salt", on.empty[0] + on.taken, "g"),
                ("wire_before", on.excess, "g"),
                ("water_added", 30.0, "mL"),
                ("wire_after", on.left, "g"),
                ("beaker", on.empty[1] + on.soiled, "g"),
                ("beaker_with_silver", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

pub(crate) const IODIDE: Model = Model {
    excess: Some((of(1.0, ZN), 2.0)),
    step: 0.001,
    ..weighed(
        "samples/zinc-iodide",
        (of(1.0, 2.0 * I), 2.0),
        of(1.0, ZN + 2.0 * I),
        |on| {
            vec![
                ("zinc", on.excess, "g"),
                ("iodine", on.taken, "g"),
                ("zinc_left", on.left, "g"),
                ("tube", on.empty[1] + on.soiled, "g"),
                ("tube_with_iodide", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

pub(crate) const CHALK: Model = Model {
    excess: Some((of(1.0, 2.0 * NA + C + 3.0 * O), 1.4)),
    ..weighed(
        "samples/calcium-carbonate-precipitate",
        (hydrate(1.0, CA + 2.0 * CL, 2.0), 1.6),
        of(1.0, CA + C + 3.0 * O),
        |on| {
            vec![
                ("chloride_boat", on.empty[0], "g"),
                ("chloride_boat_with_salt", on.empty[0] + on.taken, "g"),
                ("soda_boat", 2.0 * on.empty[0], "g"),
                ("soda_boat_with_salt", 2.0 * on.empty[0] + on.excess, "g"),
                ("water_each", 25.0, "mL"),
                ("paper", on.empty[2] + on.soiled, "g"),
                ("paper_with_chalk", on.empty[2] + on.product, "g"),
            ]
        },
    )
};

pub(crate) const SODA: Model = Model {
    in_vessel: true,
    step: 0.001,
    ..weighed(
        "samples/baking-soda",
        (of(2.0, NA + H + C + 3.0 * O), 3.0),
        of(1.0, 2.0 * NA + C + 3.0 * O),
        |on| {
            vec![
                ("crucible", on.empty[1] + on.soiled, "g"),
                (
                    "crucible_with_soda",
                    on.empty[1] + on.soiled + on.taken,
                    "g",
                ),
                ("crucible_heated", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

pub(crate) const MAGNESIUM: Model = Model {
    in_vessel: true,
    step: 0.001,
    ..weighed(
        "samples/magnesium-oxide",
        (of(2.0, MG), 0.35),
        of(2.0, MG + O),
        |on| {
            vec![
                ("crucible", on.empty[1] + on.soiled, "g"),
                (
                    "crucible_with_magnesium",
                    on.empty[1] + on.soiled + on.taken,
                    "g",
                ),
                ("crucible_with_oxide", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

/// The product here is the salt that stays; the lab counts the water that goes.
pub(crate) const CRYSTALS_HEATED: Model = Model {
    in_vessel: true,
    step: 0.001,
    ..weighed(
        "samples/water-in-hydrate",
        (hydrate(1.0, CU + S + 4.0 * O, 5.0), 2.5),
        of(1.0, CU + S + 4.0 * O),
        |on| {
            vec![
                ("crucible", on.empty[1] + on.soiled, "g"),
                (
                    "crucible_with_crystals",
                    on.empty[1] + on.soiled + on.taken,
                    "g",
                ),
                ("crucible_heated", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

/// The product here is what has left the flask.
pub(crate) const MARBLE: Model = weighed(
    "samples/marble-and-acid",
    (of(1.0, CA + C + 3.0 * O), 4.27),
    of(1.0, C + 2.0 * O),
    |on| {
        let flask = 2.0 * on.empty[1];
        vec![
            ("acid_volume", 50.0, "mL"),
            ("flask_and_acid", flask, "g"),
            ("marble", on.taken, "g"),
            (
                "flask_final",
                flask + on.taken - on.stayed_in_dish - on.product,
                "g",
            ),
        ]
    },
);

/// Hydrogen over water at 21.5 °C and 100.6 kPa, 2.57 kPa of them water vapour; n = pV / RT.
pub(crate) const HYDROGEN: Model = Model {
    step: 0.0001,
    ..weighed(
        "samples/hydrogen-over-water",
        (of(1.0, MG), 0.038),
        of(1.0, 2.0 * H),
        |on| {
            let moles = on.product / (2.0 * H);
            let litres = moles * GAS_CONSTANT * (21.5 + 273.15) / (100.6 - 2.57);
            vec![
                ("ribbon", on.taken, "g"),
                ("gas_volume", 1000.0 * litres, "mL"),
                ("gas_temperature", 21.5, "°C"),
                ("air_pressure", 100.6, "kPa"),
            ]
        },
    )
};

pub(crate) const CRYSTALS_GROWN: Model = Model {
    concentration: Some(1.0),
    cylinder: 0.0002,
    excess: Some((of(1.0, CU + O), 2.35)),
    ..weighed(
        "samples/copper-sulfate-crystals",
        (of(1.0, 2.0 * H + S + 4.0 * O), 0.025),
        hydrate(1.0, CU + S + 4.0 * O, 5.0),
        |on| {
            vec![
                ("acid_volume", on.taken, "mL"),
                ("oxide", on.excess, "g"),
                ("filter", on.empty[2], "g"),
                ("filter_with_oxide", on.empty[2] + on.left, "g"),
                ("dish", on.empty[1] + on.soiled, "g"),
                ("dish_with_crystals", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

/// Acetic anhydride is far in excess, and nothing of it is measured at the end.
pub(crate) const ASPIRIN: Model = weighed(
    "samples/aspirin",
    (of(1.0, 7.0 * C + 6.0 * H + 3.0 * O), 2.0),
    of(1.0, 9.0 * C + 8.0 * H + 4.0 * O),
    |on| {
        vec![
            ("acid", on.taken, "g"),
            ("anhydride_volume", 5.0, "mL"),
            ("crystals", on.product, "g"),
        ]
    },
);

pub(crate) const EVAPORATED: Model = Model {
    in_vessel: true,
    step: 0.001,
    ..weighed(
        "samples/salt-by-evaporation",
        (of(1.0, 2.0 * NA + C + 3.0 * O), 1.06),
        of(2.0, NA + CL),
        |on| {
            vec![
                ("dish_and_glass", on.empty[1] + on.soiled, "g"),
                (
                    "dish_and_glass_with_soda",
                    on.empty[1] + on.soiled + on.taken,
                    "g",
                ),
                ("acid_volume", 8.0, "mL"),
                ("dish_and_glass_with_salt", on.empty[1] + on.product, "g"),
            ]
        },
    )
};

/// What the deviations of product and leftover show of a happening: causes of one kind cannot be told apart by them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    MoreProduct,
    LessProduct,
    MoreLeft,
    LessLeft,
    Carried,
    Clinging,
    LessReacted,
    MoreReacted,
}

impl Happened {
    /// The kind of the one thing that happened.
    pub(crate) fn sort(&self) -> Sort {
        let less = self.unreacted + self.inert + self.damp + self.stayed_in_dish;
        [
            (self.with_product, Sort::MoreProduct),
            (self.product_gone + self.soiled, Sort::LessProduct),
            (self.with_left, Sort::MoreLeft),
            (self.left_gone, Sort::LessLeft),
            (self.left_in_product, Sort::Carried),
            (self.product_on_left, Sort::Clinging),
            (less + self.missing_moles, Sort::LessReacted),
            (self.dried_out - self.missing_moles, Sort::MoreReacted),
        ]
        .into_iter()
        .find(|(amount, _)| *amount > 0.0)
        .expect("something happened")
        .1
    }
}

/// One cause at the bench.
pub(crate) struct Row {
    /// The cause's id.
    pub(crate) cause: &'static str,
    /// Where it is tried.
    pub(crate) labs: &'static [&'static Model],
    /// Small, middle and large, in whatever `happens` counts.
    pub(crate) sizes: [f64; 3],
    /// What it does; the amount of it in g, in mol of a solution, or as a part of the reaction.
    pub(crate) happens: fn(&Model, &mut Happened, f64) -> f64,
}

const fn row(
    cause: &'static str,
    labs: &'static [&'static Model],
    sizes: [f64; 3],
    happens: fn(&Model, &mut Happened, f64) -> f64,
) -> Row {
    Row {
        cause,
        labs,
        sizes,
        happens,
    }
}

/// So many g of something else with the product.
fn with_product(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.with_product = grams;
    grams
}

fn product_gone(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.product_gone = grams;
    grams
}

fn soiled(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.soiled = grams;
    grams
}

fn with_left(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.with_left = grams;
    grams
}

fn left_gone(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.left_gone = grams;
    grams
}

fn unreacted(_: &Model, happened: &mut Happened, part: f64) -> f64 {
    happened.unreacted = part;
    part
}

fn damp(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.damp = grams;
    grams
}

/// Not in the reaction: grains in the dish, or spilled on the way.
fn not_put_in(_: &Model, happened: &mut Happened, grams: f64) -> f64 {
    happened.stayed_in_dish = grams;
    grams
}

/// Part of the solution spilled, or its molarity lower: a share of its moles.
fn missing_moles(model: &Model, happened: &mut Happened, share: f64) -> f64 {
    happened.missing_moles = share * model.moles();
    happened.missing_moles
}

/// A molarity higher than its label says: a share of the moles comes on top.
fn more_moles(model: &Model, happened: &mut Happened, share: f64) -> f64 {
    -missing_moles(model, happened, -share)
}

fn impure(model: &Model, happened: &mut Happened, share: f64) -> f64 {
    happened.inert = share * model.planned;
    happened.inert
}

/// A metal that hydrogen comes from; millilitres of it at 20 °C and 101.3 kPa, molar volume R·T/p.
fn hydrogen(charge: f64, molar_mass: f64, happened: &mut Happened, millilitres: f64) -> f64 {
    let litres_a_mole = GAS_CONSTANT * 293.15 / 101.325;
    let moles = millilitres / 1000.0 / litres_a_mole * 2.0 / charge;
    happened.left_gone = moles * molar_mass;
    happened.left_gone
}

/// Moles of a gas at 20 °C and 101.3 kPa.
fn gas(millilitres: f64) -> f64 {
    millilitres / 1000.0 / (GAS_CONSTANT * 293.15 / 101.325)
}

/// The volume of the gas seems larger by a share of it; in mol.
fn larger(model: &Model, happened: &mut Happened, share: f64) -> f64 {
    let moles = share * model.product_moles();
    happened.with_product = moles * model.product.molar_mass;
    moles
}

/// Metal that comes out, beside its leftover; two metals of which the product's oxide is known.
const DISPLACED: &[&Model] = &[&ZINC, &ALUMINIUM, &IRON];
const FINE: &[&Model] = &[&SILVER, &IODIDE];
const CRUCIBLES: &[&Model] = &[&SODA, &MAGNESIUM, &CRYSTALS_HEATED];

/// The causes, from what they mean. The largest sizes stay a tenth or more below a physical bound: at the bound itself one in forty
/// is ruled out by the rounding of the readings alone. A table reads better a row a line.
#[rustfmt::skip]
pub(crate) const ROWS: &[Row] = &[
    // Water in it when it is weighed: drops of 0.05 g.
    row("product-damp", DISPLACED, [0.6, 3.0, 12.0], |m, h, drops| with_product(m, h, 0.05 * drops)),
    row("product-damp", FINE, [0.3, 3.0, 8.0], |m, h, drops| with_product(m, h, 0.05 * drops)),
    row("product-damp", &[&CRYSTALS_GROWN], [4.0, 12.0, 40.0], |m, h, drops| with_product(m, h, 0.05 * drops)),
    row("product-damp", &[&EVAPORATED], [0.2, 2.0, 8.0], |m, h, drops| with_product(m, h, 0.05 * drops)),
    // A part of the copper is CuO: one oxygen atom for each.
    row("product-oxidised", DISPLACED, [0.08, 0.3, 0.9], |m, h, part| with_product(m, h, part * m.product_moles() * O)),
    row("salt-not-rinsed", &[&ZINC], [0.0156, 0.0162, 0.0167], with_product),
    row("salt-not-rinsed", &[&SILVER], [0.0040, 0.0045, 0.0050], with_product),
    row("salt-not-rinsed", &[&IRON], [0.016, 0.018, 0.020], with_product),
    // FeO(OH) out of the iron that went into solution anyway, mol.
    row("rust-deposited", &[&IRON], [0.0004, 0.0015, 0.005], |m, h, moles| with_product(m, h, moles * (FE + 2.0 * O + H))),
    row("tap-water-residue", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.025, 0.035, 0.045], with_product),
    row("tap-water-residue", &[&SILVER], [0.01, 0.03, 0.045], with_product),
    row("product-poured-away", DISPLACED, [0.03, 0.15, 0.7], product_gone),
    row("product-poured-away", &[&SILVER], [0.01, 0.15, 0.7], product_gone),
    row("solid-left-behind", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.03, 0.15, 0.7], product_gone),
    row("solid-left-behind", &[&SILVER, &IODIDE, &EVAPORATED], [0.01, 0.1, 0.6], product_gone),
    row("solid-left-behind", &[&CRYSTALS_GROWN], [0.2, 0.6, 2.5], product_gone),
    row("product-spilled", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.03, 0.15, 0.7], product_gone),
    row("product-spilled", &[&SODA, &MAGNESIUM], [0.004, 0.04, 0.2], product_gone),
    row("product-spilled", &[&CRYSTALS_GROWN], [0.2, 0.6, 2.5], product_gone),
    row("stayed-in-solution", &[&CRYSTALS_GROWN], [0.2, 0.6, 2.5], product_gone),
    row("stayed-in-solution", &[&ASPIRIN], [0.03, 0.2, 0.9], product_gone),
    row("liquid-left-in-salt", &[&EVAPORATED], [0.01, 0.06, 0.4], with_product),
    row("splashed-out", &[&EVAPORATED], [0.01, 0.06, 0.4], product_gone),
    row("splashed-out", &[&CRYSTALS_GROWN], [0.2, 0.6, 2.5], product_gone),
    row("spray-lost", &[&MARBLE], [0.03, 0.1, 0.5], with_product),
    row("water-evaporated", &[&MARBLE], [0.03, 0.1, 0.5], with_product),
    // In 50 mL, as g in a litre; saturated at 1.45.
    row("gas-dissolved", &[&MARBLE], [0.6, 1.0, 1.3], |m, h, dissolved| product_gone(m, h, 0.050 * dissolved)),
    // Millilitres of gas at 20 °C and 101.3 kPa, degrees, centimetres of water (0.0981 kPa each).
    row("gas-escaped", &[&HYDROGEN], [0.6, 3.0, 20.0], |_, h, volume| { h.product_gone = gas(volume) * 2.0 * H; gas(volume) }),
    row("gas-dissolved-in-water", &[&HYDROGEN], [0.6, 3.0, 15.0], |_, h, volume| { h.product_gone = gas(volume) * 2.0 * H; gas(volume) }),
    row("air-in-tube", &[&HYDROGEN], [0.6, 3.0, 20.0], |_, h, volume| { h.with_product = gas(volume) * 2.0 * H; gas(volume) }),
    row("gas-still-warm", &[&HYDROGEN], [4.2, 6.0, 9.0], |m, h, degrees| larger(m, h, degrees / 294.65)),
    row("levels-not-equal", &[&HYDROGEN], [13.0, 30.0, 50.0], |m, h, column| larger(m, h, column * 0.0981 / 100.6)),
    row("stopped-early", &[&HYDROGEN], [0.012, 0.1, 0.55], unreacted),
    row("reactant-impure", &[&HYDROGEN], [0.012, 0.1, 0.4], impure),
    row("leftover-damp", DISPLACED, [0.03, 0.1, 0.25], with_left),
    row("leftover-damp", FINE, [0.01, 0.05, 0.25], with_left),
    row("leftover-damp", &[&CRYSTALS_GROWN], [0.06, 0.2, 0.6], with_left),
    row("leftover-oxidised", DISPLACED, [0.03, 0.08, 0.25], with_left),
    row("leftover-oxidised", &[&SILVER], [0.005, 0.05, 0.25], with_left),
    row("leftover-pieces-lost", DISPLACED, [0.03, 0.1, 0.25], left_gone),
    row("leftover-pieces-lost", FINE, [0.01, 0.05, 0.25], left_gone),
    row("leftover-pieces-lost", &[&CRYSTALS_GROWN], [0.06, 0.15, 0.3], left_gone),
    // Hydrogen, mL.
    row("attacked-by-acid", &[&ZINC], [12.0, 50.0, 300.0], |_, h, volume| hydrogen(2.0, ZN, h, volume)),
    row("attacked-by-acid", &[&ALUMINIUM], [40.0, 120.0, 350.0], |_, h, volume| hydrogen(3.0, AL, h, volume)),
    row("attacked-by-acid", &[&IRON], [14.0, 50.0, 300.0], |_, h, volume| hydrogen(2.0, FE, h, volume)),
    // A lacquer that comes off with the copper's last rinse.
    row("coat-on-metal", DISPLACED, [0.03, 0.1, 0.25], left_gone),
    row("coat-on-metal", FINE, [0.01, 0.05, 0.25], left_gone),
    row("metal-in-product", DISPLACED, [0.03, 0.1, 0.25], |_, h, grams| { h.left_in_product = grams; grams }),
    row("metal-in-product", &[&SILVER, &IODIDE], [0.01, 0.05, 0.25], |_, h, grams| { h.left_in_product = grams; grams }),
    row("metal-in-product", &[&CRYSTALS_GROWN], [0.06, 0.15, 0.3], |_, h, grams| { h.left_in_product = grams; grams }),
    row("product-on-metal", DISPLACED, [0.03, 0.1, 0.25], |_, h, grams| { h.product_on_left = grams; grams }),
    row("product-on-metal", &[&SILVER, &IODIDE], [0.01, 0.05, 0.25], |_, h, grams| { h.product_on_left = grams; grams }),
    row("product-on-metal", &[&CRYSTALS_GROWN], [0.06, 0.2, 0.6], |_, h, grams| { h.product_on_left = grams; grams }),
    row("stopped-early", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.04, 0.15, 0.55], unreacted),
    row("stopped-early", &[&SILVER, &IODIDE], [0.01, 0.15, 0.55], unreacted),
    row("stopped-early", &[&MARBLE, &CRYSTALS_GROWN], [0.04, 0.15, 0.55], unreacted),
    row("stopped-early", &[&EVAPORATED], [0.05, 0.2, 0.8], unreacted),
    row("too-little-metal", DISPLACED, [0.04, 0.15, 0.55], unreacted),
    row("too-little-metal", &[&SILVER], [0.01, 0.15, 0.55], unreacted),
    row("more-water-than-stated", &[&ZINC, &ALUMINIUM, &IRON], [0.2, 0.6, 1.8], damp),
    row("more-water-than-stated", &[&CHALK], [0.06, 0.2, 0.7], damp),
    row("reactant-damp", &[&SILVER, &IODIDE], [0.02, 0.2, 0.8], damp),
    row("reactant-vapour", &[&IODIDE], [0.02, 0.2, 0.8], not_put_in),
    row("more-water-than-stated", &[&EVAPORATED], [0.01, 0.1, 0.4], damp),
    row("reactant-damp", &[&MARBLE], [0.1, 0.4, 1.6], damp),
    // A share of the crystals has lost its water; each gram of it counts for more than a gram of crystals.
    row("less-water-than-stated", &[&ZINC, &ALUMINIUM, &IRON], [0.1, 0.4, 0.9], dried_out),
    row("less-water-than-stated", &[&CHALK], [0.08, 0.2, 0.35], dried_out),
    row("drew-water-from-air", &[&CHALK], [0.06, 0.2, 0.7], damp),
    row("left-in-weighing-dish", &[&ZINC, &ALUMINIUM, &IRON], [0.2, 0.6, 1.8], not_put_in),
    row("left-in-weighing-dish", &[&CHALK], [0.06, 0.2, 0.7], not_put_in),
    row("left-in-weighing-dish", &[&SILVER, &IODIDE], [0.02, 0.2, 0.8], not_put_in),
    row("left-in-weighing-dish", &[&MARBLE], [0.1, 0.4, 1.2], not_put_in),
    row("reactant-spilled", &[&ZINC, &ALUMINIUM, &IRON], [0.2, 0.6, 1.8], not_put_in),
    row("reactant-spilled", &[&CHALK], [0.06, 0.2, 0.7], not_put_in),
    row("reactant-spilled", &[&SILVER, &IODIDE], [0.02, 0.2, 0.8], not_put_in),
    row("reactant-spilled", &[&MARBLE], [0.1, 0.4, 1.2], not_put_in),
    row("reactant-spilled", &[&EVAPORATED], [0.01, 0.1, 0.4], not_put_in),
    row("reactant-spilled", &[&CRYSTALS_GROWN], [0.04, 0.15, 0.5], missing_moles),
    row("reactant-impure", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.05, 0.15, 0.5], impure),
    row("reactant-impure", &[&SILVER, &IODIDE], [0.01, 0.1, 0.4], impure),
    row("reactant-impure", &[&SODA, &CRYSTALS_HEATED], [0.004, 0.03, 0.3], impure),
    row("reactant-impure", &[&MAGNESIUM], [0.015, 0.1, 0.4], impure),
    row("reactant-impure", &[&MARBLE, &EVAPORATED], [0.04, 0.15, 0.5], impure),
    row("solution-weaker", &[&CRYSTALS_GROWN], [0.04, 0.15, 0.5], missing_moles),
    row("solution-stronger", &[&CRYSTALS_GROWN], [0.04, 0.08, 0.14], more_moles),
    // A skin that is oxide from the start and stays so.
    row("oxide-on-reactant", &[&MAGNESIUM, &HYDROGEN], [0.012, 0.015, 0.018], impure),
    row("paper-damp", &[&CHALK], [0.6, 3.0, 11.0], |m, h, drops| with_product(m, h, 0.05 * drops)),
    row("salt-in-paper", &[&CHALK], [0.03, 0.05, 0.07], with_product),
    row("water-in-precipitate", &[&CHALK], [0.03, 0.12, 0.5], with_product),
    row("solid-through-paper", &[&CHALK], [0.03, 0.15, 0.7], product_gone),
    row("precipitate-dissolved", &[&CHALK], [0.028, 0.035, 0.045], product_gone),
    // Water in a paper of 1 g, as a share of it.
    row("paper-weighed-damp", &[&CHALK], [0.03, 0.06, 0.09], soiled),
    row("paper-pieces-lost", &[&CHALK], [0.03, 0.08, 0.15], product_gone),
    row("crystals-dried-before", &[&CRYSTALS_HEATED], [0.004, 0.04, 0.3], with_product),
    row("not-heated-enough", &[&CRYSTALS_HEATED], [0.004, 0.05, 0.6], unreacted),
    // CuSO4 → CuO + SO3.
    row("salt-decomposed", &[&CRYSTALS_HEATED], [0.005, 0.05, 0.5], |m, h, part| product_gone(m, h, part * m.product_moles() * (S + 3.0 * O))),
    row("water-taken-up-again", &[&SODA, &CRYSTALS_HEATED], [0.004, 0.04, 0.3], with_product),
    row("not-decomposed", &[&SODA], [0.004, 0.05, 0.6], unreacted),
    row("metal-not-burnt", &[&MAGNESIUM], [0.015, 0.1, 0.6], unreacted),
    row("smoke-lost", &[&MAGNESIUM], [0.004, 0.03, 0.2], product_gone),
    // 3 Mg → Mg3N2 instead of 3 MgO, a part of the metal.
    row("nitride-formed", &[&MAGNESIUM], [0.04, 0.2, 0.9], |m, h, part| {
        product_gone(m, h, part * m.product_moles() * (MG + O - (3.0 * MG + 2.0 * N) / 3.0))
    }),
    // Mg(OH)2 instead of MgO: one water for each.
    row("hydroxide-left", &[&MAGNESIUM], [0.02, 0.1, 0.7], |m, h, part| with_product(m, h, part * m.product_moles() * WATER)),
    row("solid-lost", CRUCIBLES, [0.004, 0.04, 0.2], product_gone),
    row("soot-on-crucible", CRUCIBLES, [0.004, 0.01, 0.018], with_product),
    row("label-added", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.03, 0.15, 0.55], with_product),
    row("label-added", &[&SILVER, &IODIDE, &EVAPORATED], [0.01, 0.1, 0.5], with_product),
    row("label-added", &[&CRYSTALS_GROWN], [0.2, 0.5, 0.9], with_product),
    row("vessel-damp-at-first", DISPLACED, [0.03, 0.15, 0.45], soiled),
    row("vessel-damp-at-first", &[&SILVER, &IODIDE], [0.01, 0.1, 0.45], soiled),
    row("vessel-damp-at-first", &[&CRYSTALS_GROWN], [0.2, 0.3, 0.45], soiled),
    row("vessel-damp-at-first", &[&SODA, &MAGNESIUM, &EVAPORATED, &CRYSTALS_HEATED], [0.005, 0.03, 0.1], soiled),
    row("weighed-warm", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.025, 0.035, 0.045], product_gone),
    row("weighed-warm", &[&SODA, &MAGNESIUM, &CRYSTALS_HEATED], [0.004, 0.02, 0.045], product_gone),
    // The other balance shows that much more, or less.
    row("different-balances", &[&ZINC, &ALUMINIUM, &IRON, &CHALK], [0.025, 0.035, 0.045], with_product),
    row("different-balances", &[&SODA, &MAGNESIUM], [0.0035, 0.004, 0.0045], product_gone),
    row("different-balances", &[&CRYSTALS_HEATED], [0.003, 0.004, 0.0045], product_gone),
    row("different-balances", DISPLACED, [0.03, 0.035, 0.04], with_left),
    row("different-balances", DISPLACED, [0.03, 0.035, 0.04], left_gone),
    row("different-balances", &[&MARBLE], [0.025, 0.035, 0.045], with_product),
    row("vessels-exchanged", &[&ZINC, &ALUMINIUM, &CHALK], [0.35, 0.45, 0.6], with_product),
    row("vessels-exchanged", &[&IRON, &SODA], [0.35, 0.5, 0.8], product_gone),
    row("vessels-exchanged", &[&CRYSTALS_HEATED], [0.35, 0.45, 0.6], with_product),
    row("vessels-exchanged", &[&CRYSTALS_GROWN], [0.4, 1.0, 2.5], with_product),
];

fn dried_out(model: &Model, happened: &mut Happened, share: f64) -> f64 {
    happened.dried_out = share * model.planned;
    happened.dried_out * (model.limiting.molar_mass / model.limiting.dry - 1.0)
}
