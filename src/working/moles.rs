//! Moles of one substance turned into those of another on a worked line: by the coefficients, or because one stands for the other.

use crate::measure::Unit;
use crate::say;
use crate::working::factors::Layout;
use crate::working::layout::Body;
use crate::working::layout::Factor;
use crate::working::math::Math;
use crate::working::show;
use crate::working::symbols::Amount;
use crate::working::symbols::substance_of;

impl Layout<'_, '_> {
    /// So many moles of one substance for so many of another.
    fn moles_for(
        &mut self,
        (up, product): (u32, String),
        (down, reactant): (u32, String),
    ) -> Factor {
        let mole = |number: u32, of: &str| format!("{number}{}mol {of}", show::NO_BREAK);
        self.give(say!(
            self.scene.lab.words,
            "{product} for {reactant}",
            product = mole(up, &product),
            reactant = mole(down, &reactant)
        ));
        let symbol = Math::Brackets(Box::new(Math::Row(vec![
            Math::Words(product.clone()),
            Math::Operator(":"),
            Math::Words(reactant.clone()),
        ])));
        let mole = |number: u32, substance: String| Amount {
            number: number.to_string(),
            unit: "mol",
            substance,
        };
        Factor {
            symbol,
            body: Body::Rate(mole(up, product), mole(down, reactant)),
            over: false,
        }
    }

    /// Moles of what the lab description works with, one for one into those of the substance that they stand for: copper of a wire
    /// into copper sulfate.
    pub(in crate::working) fn name_the_answer(&mut self) {
        let substance = substance_of(self.scene.lab, self.scene.graph, self.scene.of);
        if substance.is_empty() || self.scene.graph.step(self.scene.of).unit != Unit::Mole {
            return;
        }
        let Some((place, other)) = self.moles_left() else {
            return;
        };
        if other != substance {
            let factor = self.moles_for((1, substance), (1, other));
            self.factors.insert(place + 1, factor);
        }
    }

    /// Joins coefficients above and below into fractions: 1 mol Cu for 1 mol CuSO₄.
    pub(in crate::working) fn pair_coefficients(&mut self) {
        while let (Some((up, product)), Some((down, reactant))) =
            (self.above.first().cloned(), self.below.first().cloned())
        {
            self.above.remove(0);
            self.below.remove(0);
            // What a reactant that runs out needs of itself is all of it: nobody writes 1 mol of it for 1 mol of it.
            if (up, &product) == (down, &reactant) {
                continue;
            }
            let factor = self.moles_for((up, product), (down, reactant));
            // Behind the moles it turns into others, before the molar mass that takes those on.
            let place = self
                .factors
                .iter()
                .position(|factor| matches!(factor.body, Body::Rate(..)))
                .unwrap_or(self.factors.len());
            self.factors.insert(place, factor);
        }
        let rest: Vec<(u32, bool)> = self
            .above
            .drain(..)
            .map(|(count, _)| (count, false))
            .chain(self.below.drain(..).map(|(count, _)| (count, true)))
            .collect();
        for (count, over) in rest {
            let amount = Amount {
                number: count.to_string(),
                unit: "",
                substance: String::new(),
            };
            self.push(Math::Number(count.to_string()), Body::Plain(amount), over);
        }
    }

    /// The factor whose moles stand above the line and cancel against none below, and the substance they are of.
    fn moles_left(&self) -> Option<(usize, String)> {
        let struck = self.cancelled();
        let mut left = Vec::new();
        for (place, (factor, (top, bottom))) in self.factors.iter().zip(struck).enumerate() {
            let amount = match &factor.body {
                Body::Plain(amount) if !factor.over && !top => amount,
                Body::Rate(up, _) if !factor.over && !top => up,
                Body::Rate(_, down) if factor.over && !bottom => down,
                _ => continue,
            };
            if amount.unit == "mol" && !amount.substance.is_empty() {
                left.push((place, amount.substance.clone()));
            }
        }
        (left.len() == 1).then(|| left.remove(0))
    }
}
