//! Before the lab: what the planned amounts come to for one group and for all, worked by the same steps as a group's readings.
//!
//! | file | holds |
//! |---|---|
//! | `amounts` | `[plan]` of the lab description, read |
//! | `trial` | the planned experiment, worked |
//! | `reagents` | what is set out, and which reactant runs out first |
//! | `vessels` | what is weighed empty |
//! | `expected` | what a group can expect to weigh, or to catch |
//! | `advice` | how sure the percent yield will be, and what would make it surer |

mod advice;
mod amounts;
mod expected;
mod reagents;
mod trial;
mod vessels;

pub use advice::Halving;
pub use amounts::Amount;
pub use amounts::Item;
pub use amounts::Planned;
pub use amounts::Supply;
pub use amounts::WashLiquid;
pub use expected::Expected;
pub use expected::Gas;
pub use reagents::Reach;
pub use reagents::Reagent;
pub use trial::Trial;

use crate::lab::Lab;
use crate::measure::Unit;
use crate::working::Graph;

/// A class's preparation.
#[derive(Debug)]
pub struct Preparation<'a> {
    /// The lab.
    pub lab: &'a Lab,
    /// The lab's steps.
    pub graph: &'a Graph,
    /// Groups.
    pub groups: u32,
    /// What is set out beyond the need, as a fraction: 0.15 for 15 %.
    pub spare: f64,
    /// What the lab description plans.
    pub planned: Planned,
    /// The planned experiment, worked.
    pub trial: Trial,
}

impl<'a> Preparation<'a> {
    /// The preparation of a lab for so many groups, with a spare fraction.
    #[must_use]
    pub fn new(lab: &'a Lab, graph: &'a Graph, groups: u32, spare: f64) -> Self {
        let planned = Planned::of(lab);
        let trial = Trial::of(lab, graph, &planned);
        Self {
            lab,
            graph,
            groups,
            spare,
            planned,
            trial,
        }
    }

    /// An amount for all trials of all groups, spare counted.
    #[must_use]
    pub fn for_all(&self, each: f64) -> f64 {
        each * self.runs() * (1.0 + self.spare)
    }

    /// How often the experiment is done: trials of all groups.
    #[must_use]
    pub fn runs(&self) -> f64 {
        f64::from(self.groups) * f64::from(self.lab.trials)
    }

    /// How many of a counted supply all groups need, spare counted: no fewer than whole ones.
    #[must_use]
    pub fn count_for_all(&self, each: u32) -> u64 {
        let all = self.for_all(f64::from(each));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number of drops"
        )]
        // 10 groups with 10 % to spare make 11, not 12.
        let whole = (all - 1e-9).ceil() as u64;
        whole
    }

    /// Water that one group needs, in L: to dissolve, to wash, and any other.
    #[must_use]
    pub fn water_each(&self) -> f64 {
        self.planned.water_each()
    }

    /// Liquid that one group has left over at the end, in L: as planned, or all that was poured together.
    #[must_use]
    pub fn liquid_each(&self) -> f64 {
        self.planned.liquid_left.unwrap_or_else(|| {
            let liquids: f64 = self
                .reagents()
                .iter()
                .filter(|reagent| reagent.each.is(Unit::Litre))
                .map(|reagent| reagent.each.base)
                .sum();
            let supplies: f64 = self
                .planned
                .supplies
                .iter()
                .filter_map(|supply| supply.amount.as_ref())
                .filter(|amount| amount.is(Unit::Litre))
                .map(|amount| amount.base)
                .sum();
            self.water_each() + self.planned.wash_liquid_each() + liquids + supplies
        })
    }

    /// How many of a vessel are set out for all trials of all groups.
    #[must_use]
    pub const fn vessels_for_all(&self) -> u32 {
        self.groups.saturating_mul(self.lab.trials)
    }

    /// Shelves of the oven that all groups fill, one vessel for each trial.
    #[must_use]
    pub fn oven_shelves(&self) -> Option<u32> {
        let (places, _) = self.planned.oven_shelf.as_ref()?;
        Some(self.vessels_for_all().div_ceil(*places))
    }
}
