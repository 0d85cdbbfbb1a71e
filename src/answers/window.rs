//! How near an answer has to be to a value: by its own last figure, other atomic weights, and rounding on the way.

use crate::answers::given::Number;
use crate::answers::writing;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Unit;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::Habit;
use crate::working::line::to_figures;

/// What molar masses of other tables may move a product or quotient by.
pub(super) const MOLAR_MASS_VARIANTS: f64 = 0.0015;

/// The same for an answer of one or two figures, whose last figure hides nearly all of it: what rounded weights move it by.
const COARSE_VARIANTS: f64 = 0.0008;

/// Half a unit of the last of three figures, at most, as a part of the value.
const THREE_FIGURES: f64 = 0.005;

/// What honest rounding on the way may move a result by.
pub(super) const ROUNDING: f64 = 0.01;

/// The largest distance, as a part of it, between a ratio and the whole numbers claimed for it.
const WHOLE_NUMBERS: f64 = 0.05;

/// Floating point noise, so that a value just on the edge of a window is inside.
pub(super) const NOISE: f64 = 1e-9;

/// How students round what nobody asks them for.
pub(super) const HABITS: &[Habit] = &[Habit::Figures(3), Habit::Figures(4), Habit::Decimals(4)];

/// An answer, and what may lie between it and the value it stands for.
pub(super) struct Window<'n> {
    number: &'n Number,
    /// A difference of readings, where nothing is rounded.
    exact: bool,
    /// A whole number for the waters of a hydrate, which may be known before anything is weighed.
    waters: bool,
    /// A percentage that compares two values, of which one in a hundred would be everything.
    compares: bool,
    /// The unit of the step: the zeros at the end of a percentage may have been rounded to.
    unit: Unit,
}

impl<'n> Window<'n> {
    /// The window of an answer to a step.
    pub(super) fn of(lab: &Lab, graph: &Graph, id: StepId, number: &'n Number) -> Self {
        Self {
            number,
            exact: graph.uses(id).is_difference,
            waters: writing::is_whole_waters(lab, graph, id, number),
            compares: matches!(graph.step(id).kind, Kind::LeftError(_) | Kind::FindError(_)),
            unit: graph.step(id).unit,
        }
    }

    /// Whether the answer is a value as written, from any table of atomic weights.
    pub(super) fn within(&self, target: f64) -> bool {
        let coarse = self.half() > THREE_FIGURES * target.abs();
        let variants = match (self.exact || self.waters, coarse) {
            (true, _) => 0.0,
            // Both rooms in full would let 12 stand for 11.49.
            (false, true) => COARSE_VARIANTS * target.abs(),
            (false, false) => MOLAR_MASS_VARIANTS * target.abs(),
        };
        // Nothing is rounded to less than its first figure: a hundred does not stand for sixty.
        let first_figure = 0.5 * 10.0_f64.powf(target.abs().log10().floor());
        self.near(target, self.half().min(first_figure) + variants)
    }

    /// Whether rounding on the way explains the distance; `scale` is the largest term on the way.
    pub(super) fn roughly(&self, target: f64, scale: impl Fn() -> Option<f64>) -> bool {
        if self.exact {
            return false;
        }
        let scale = scale().filter(|scale| scale.is_finite() && !self.compares);
        self.near(target, ROUNDING * scale.unwrap_or(0.0).max(target.abs()))
    }

    /// Whether a percentage in whole tens is a value honestly rounded to them: 110 % for 106, 60 % for 63. A hundred has to be what two
    /// figures give: above it means that something was measured too large, below it that nothing was lost.
    pub(super) fn in_tens(&self, target: f64) -> bool {
        let written = self.number.written;
        let zeros = zeros_in_doubt(written, 1);
        if self.unit != Unit::Percent || self.number.whole || zeros == 0 || self.number.value == 0.0
        {
            return false;
        }
        let hundred = written.coefficient().abs() == 100;
        let sure = written.significant_figures() - zeros + i32::from(hundred);
        (to_figures(target, sure) - self.number.value).abs() <= NOISE * self.number.value.abs()
    }

    /// Whether the answer could stand for a value by its figures alone, however few they are.
    pub(super) fn stands_for(&self, target: f64) -> bool {
        self.near(target, self.half())
    }

    /// Half a unit of the last figure. A difference has all its decimals from the balance, zeros as well.
    fn half(&self) -> f64 {
        if self.exact {
            self.number.half
        } else {
            self.number.doubt()
        }
    }

    /// Whether the answer lies within a width of a target; whole numbers claimed for a ratio within their own.
    fn near(&self, target: f64, width: f64) -> bool {
        let number = self.number;
        let width = if number.whole {
            WHOLE_NUMBERS * target.abs()
        } else {
            width
        };
        // A zero has no figures: it stands for nothing but zero.
        if number.value == 0.0 && target != 0.0 && number.half >= target.abs() {
            return false;
        }
        (number.value - target).abs() <= width + NOISE * target.abs().max(number.value.abs())
    }
}

/// How many zeros at the end of a whole number may only hold a place; the first `sure` digits count.
pub(super) fn zeros_in_doubt(written: Decimal, sure: u32) -> i32 {
    let least = 10_i128.pow(sure);
    let mut rest = written.coefficient().abs();
    let mut zeros = 0;
    while written.places() == 0 && rest >= least && rest % 10 == 0 {
        rest /= 10;
        zeros += 1;
    }
    zeros
}

/// Steps whose value may honestly be below zero.
pub(super) fn may_be_negative(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::LeftError(_) | Kind::FindError(_) | Kind::Find(_) | Kind::Accepted(_)
    )
}
