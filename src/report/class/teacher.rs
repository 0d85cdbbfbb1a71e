//! The teacher's page of a class: codes with names, verdicts, slips, vessels that may be exchanged, balances that differ.

use std::collections::BTreeMap;

use crate::answers;
use crate::answers::Verdict;
use crate::answers::slips;
use crate::class::statistics::middle;
use crate::lab::Lab;
use crate::record::Record;
use crate::report::class::TeacherPage;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::say;
use crate::words::Words;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Worked;

/// One group as its teacher sees it, or a student who hands in apart.
#[derive(Debug, Clone, Default)]
pub struct Judged {
    /// As typed.
    pub label: String,
    /// On shared pages, where it is another one.
    pub alias: Option<String>,
    /// As typed.
    pub names: Vec<String>,
    /// As typed.
    pub section: String,
    /// The data file's name.
    pub path: String,
    /// Readings missing or impossible.
    pub missing: usize,
    /// Answers that stand, and answers that need another look.
    pub verdicts: (usize, usize),
    /// Ids of the steps to look at again.
    pub look_again: Vec<String>,
    /// Slips recognised and remarks, each once, as the tally of a check has them.
    pub slips: Vec<&'static str>,
    /// Percent yield.
    pub percent_yield: Option<f64>,
    /// The balance that a reading names.
    pub balance: Option<String>,
    /// Full vessel, empty vessel, and the most that could form, in g.
    pub vessel: Option<(f64, f64, f64)>,
    /// Whether this is a student's own file, answers on the readings of the group with that label.
    pub apart: bool,
}

impl Judged {
    /// What a case says to the teacher.
    #[must_use]
    pub fn of(
        path: String,
        (lab, graph): (&Lab, &Graph),
        record: &Record,
        worked: &Worked<'_>,
        judged: &answers::Judged,
    ) -> Self {
        let looks = |verdict: &&answers::Judgement| verdict.verdict == Verdict::LookAgain;
        let stand = judged.answers.iter();
        let percent_yield = graph.ids().find_map(|id| {
            let step = graph.step(id);
            let yields = matches!(step.kind, Kind::PercentYield(_)) && step.equation == 0;
            yields.then(|| worked.value(id)).flatten()
        });
        Self {
            label: record.who.group.clone(),
            alias: None,
            names: record.who.names.clone(),
            section: record.who.section.clone(),
            path,
            missing: record.missing(|index, _| graph.needs(index)),
            verdicts: (
                stand.filter(|judgement| judgement.verdict.stands()).count(),
                judged.answers.iter().filter(looks).count(),
            ),
            look_again: judged
                .answers
                .iter()
                .filter(looks)
                .map(|judgement| graph.step(judgement.step).id.clone())
                .collect(),
            slips: judged.slips(),
            percent_yield: percent_yield.map(crate::working::Value::approximate),
            balance: balance(record),
            vessel: vessel(lab, graph, record, worked),
            apart: false,
        }
    }

    /// The same of a student's own file: answers alone. What the readings say is said with the group, once.
    #[must_use]
    pub fn apart(self) -> Self {
        Self {
            missing: 0,
            percent_yield: None,
            balance: None,
            vessel: None,
            apart: true,
            ..self
        }
    }

    /// Where it stands on the page: by section and group, the group before its students.
    #[must_use]
    pub fn order(&self) -> (String, String, bool, String) {
        let (section, label) = (self.section.clone(), self.label.clone());
        (section, label, self.apart, self.path.clone())
    }
}

/// The balance that the notes of the readings name, where they name just one: `(balance 3)`.
fn balance(record: &Record) -> Option<String> {
    let mut found: Option<String> = None;
    let notes = record
        .readings
        .iter()
        .flat_map(crate::record::Recorded::values)
        .filter_map(|reading| reading.note.as_deref());
    for note in notes {
        let lower = note.to_lowercase();
        let mut called = ["balance", "waage"].iter();
        let Some((_, rest)) = called.find_map(|word| lower.split_once(word)) else {
            continue;
        };
        let rest = rest.trim_start_matches([' ', '#', ':']);
        let name: String = rest
            .strip_prefix("nr.")
            .unwrap_or(rest)
            .trim_start()
            .chars()
            .take_while(|c| c.is_alphanumeric())
            .collect();
        if name.is_empty() {
            continue;
        }
        match &found {
            Some(known) if *known != name => return None,
            _ => found = Some(name),
        }
    }
    found
}

/// The product's vessel full and empty, possible or not, and the most that could be in it.
fn vessel(
    lab: &Lab,
    graph: &Graph,
    record: &Record,
    worked: &Worked<'_>,
) -> Option<(f64, f64, f64)> {
    let product = (0..lab.substances.len()).find(|index| lab.substances[*index].yields)?;
    let collected = graph.of_kind(Kind::Collected(product))?;
    let Expression::Difference(full, empty) = &graph.step(collected).expression else {
        return None;
    };
    let read = |expression: &Expression| match expression {
        Expression::Reading(index) => {
            let reading = record.readings[*index].last_value()?;
            let power = reading.unit.map_or(0, crate::measure::Unit::power_to_base);
            Some(reading.number.shifted(power).to_f64())
        }
        _ => None,
    };
    let theory = worked.value(graph.of_kind(Kind::Theoretical(product))?)?;
    Some((read(full)?, read(empty)?, theory.approximate()))
}

/// The page of a class.
#[must_use]
pub fn teacher(lab: &Lab, groups: &[Judged]) -> TeacherPage {
    let wording = &lab.words;
    let aliased = groups.iter().any(|group| group.alias.is_some());
    let mut columns = vec![words(wording.say("group"))];
    if aliased {
        columns.push(words(wording.say("on shared pages")));
    }
    columns.extend([
        words(wording.say("names")),
        words(wording.say("section")),
        words(wording.say("data file")),
        figures(wording.say("readings missing")),
        figures(wording.say("answers that stand")),
        figures(wording.say("to look at again")),
        words(wording.say("which")),
    ]);
    let rows = groups.iter().map(|group| {
        let mut row = vec![if group.apart {
            say!(wording, "{group} (own file)", group = group.label)
        } else {
            group.label.clone()
        }];
        if aliased {
            row.push(group.alias.clone().unwrap_or_default());
        }
        // The readings that a student lacks are the group's, and counted there.
        let missing = (!group.apart).then(|| group.missing.to_string());
        row.extend([
            group.names.join(", "),
            group.section.clone(),
            group.path.clone(),
            missing.unwrap_or_default(),
            group.verdicts.0.to_string(),
            group.verdicts.1.to_string(),
            group.look_again.join(", "),
        ]);
        row
    });
    let mut remarks = exchanged(groups, wording);
    remarks.extend(balances(groups, wording));
    TeacherPage {
        words: wording.clone(),
        title: lab.title.clone(),
        count: count(groups, wording),
        table: Table {
            caption: say!(
                wording,
                "For the teacher only: who is who, and what needs another look."
            ),
            columns,
            rows: rows.collect(),
        },
        slips: slips_of(groups, wording),
        remarks,
    }
}

/// How many groups there are, and how many students beside them.
fn count(all: &[Judged], words: &Words) -> String {
    let students = all.iter().filter(|one| one.apart).count();
    let groups = match all.len() - students {
        1 => say!(words, "1 group"),
        several => say!(words, "{n} groups", n = several),
    };
    match students {
        0 => groups,
        1 => say!(
            words,
            "{groups}; 1 student hands in apart, on the readings of the group",
            groups = groups
        ),
        several => say!(
            words,
            "{groups}; {n} students hand in apart, on the readings of their groups",
            groups = groups,
            n = several
        ),
    }
}

/// The slips of the class, the commonest first; students who hand in apart are counted in a column of their own.
fn slips_of(all: &[Judged], wording: &Words) -> Option<Table> {
    let mut tally: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
    for one in all {
        for slip in &one.slips {
            tally.entry(slip).or_default()[usize::from(one.apart)] += 1;
        }
    }
    let mut tally: Vec<(&str, [usize; 2])> = tally.into_iter().collect();
    tally.sort_by_key(|(slip, count)| (std::cmp::Reverse(count[0] + count[1]), *slip));
    let mut columns = vec![words(wording.say("slip")), figures(wording.say("groups"))];
    if all.iter().any(|one| one.apart) {
        columns.push(figures(wording.say("own files")));
    }
    let shown = columns.len() - 1;
    let row = |(slip, count): (&str, [usize; 2])| {
        let name = slips::by_id(slip).map(|slip| slip.name(wording));
        let mut row = vec![name.unwrap_or_default()];
        row.extend(count.iter().take(shown).map(usize::to_string));
        row
    };
    (!tally.is_empty()).then(|| Table {
        caption: say!(
            wording,
            "Slips, and remarks on units and figures, the commonest first: in how many groups. Each may have another reason."
        ),
        columns,
        rows: tally.into_iter().map(row).collect(),
    })
}

/// Groups whose full vessel fits the empty mass of another group better than their own.
fn exchanged(groups: &[Judged], words: &Words) -> Vec<String> {
    let fits = |full: f64, empty: f64, most: f64| {
        let share = (full - empty) / most;
        (0.9..=1.05).contains(&share)
    };
    let mut remarks = Vec::new();
    for group in groups {
        let Some((full, empty, most)) = group.vessel.filter(|(.., most)| *most > 0.0) else {
            continue;
        };
        let share = (full - empty) / most;
        // Odd enough to look for another vessel.
        if (0.5..=1.2).contains(&share) {
            continue;
        }
        let others: Vec<&str> = groups
            .iter()
            .filter(|other| other.label != group.label || other.section != group.section)
            .filter(|other| {
                other
                    .vessel
                    .is_some_and(|(_, their_empty, _)| fits(full, their_empty, most))
            })
            .map(|other| other.label.as_str())
            .collect();
        if !others.is_empty() && others.len() <= 3 {
            remarks.push(say!(
                words,
                "Group {group}: the full vessel does not fit its own empty mass, but that of {others}: are they exchanged?",
                group = group.label,
                others = others.join(words.say(" or "))
            ));
        }
    }
    remarks
}

/// Balances whose groups' yields differ from those of the others by more than their spread.
fn balances(groups: &[Judged], words: &Words) -> Vec<String> {
    const FEWEST: usize = 3;
    let mut by_balance: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for group in groups {
        if let (Some(balance), Some(value)) = (&group.balance, group.percent_yield) {
            by_balance.entry(balance).or_default().push(value);
        }
    }
    let mut remarks = Vec::new();
    for (balance, values) in &by_balance {
        let others: Vec<f64> = by_balance
            .iter()
            .filter(|(other, _)| *other != balance)
            .flat_map(|(_, values)| values.iter().copied())
            .collect();
        if values.len() < FEWEST || others.len() < FEWEST {
            continue;
        }
        let (Some(own), Some(rest)) = (middle(values), middle(&others)) else {
            continue;
        };
        // Standard error of a median from the median absolute deviation (1.4826) and 1.2533 σ ÷ √n, as for normal data.
        let error = |values: &[f64], median: f64| {
            let distances: Vec<f64> = values.iter().map(|value| (value - median).abs()).collect();
            1.2533 * 1.4826 * middle(&distances).unwrap_or(0.0) / (values.len() as f64).sqrt()
        };
        let together = error(values, own).hypot(error(&others, rest));
        if (own - rest).abs() > 3.0 * together && together > 0.0 {
            remarks.push(say!(
                words,
                "Balance {balance}: its {count} groups have a median yield of {own} %, the others {rest} %. Weigh one object on each balance.",
                balance = balance,
                count = values.len(),
                own = words.number(&format!("{own:.1}")),
                rest = words.number(&format!("{rest:.1}"))
            ));
        }
    }
    remarks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group(label: &str, vessel: (f64, f64, f64), balance: &str, percent_yield: f64) -> Judged {
        Judged {
            label: label.to_owned(),
            vessel: Some(vessel),
            balance: Some(balance.to_owned()),
            percent_yield: Some(percent_yield),
            ..Judged::default()
        }
    }

    #[test]
    fn exchanged_beakers_are_found_both_ways() {
        let groups = [
            group("1", (101.0, 102.5, 1.5), "1", 97.0),
            group("2", (104.0, 99.5, 1.5), "1", 97.0),
            group("3", (110.5, 109.0, 1.5), "1", 97.0),
        ];
        let remarks = exchanged(&groups, &Words::english());
        assert_eq!(remarks.len(), 2, "{remarks:?}");
        assert!(remarks[0].contains("Group 1") && remarks[0].contains("that of 2"));
    }

    #[test]
    fn a_balance_that_reads_high_is_named() {
        let mut groups: Vec<Judged> = [97.0, 97.4, 96.8, 97.2]
            .into_iter()
            .map(|value| group("x", (1.0, 0.5, 1.0), "1", value))
            .collect();
        groups.extend(
            [103.0, 103.5, 102.8]
                .into_iter()
                .map(|value| group("x", (1.0, 0.5, 1.0), "2", value)),
        );
        let remarks = balances(&groups, &Words::english());
        assert_eq!(remarks.len(), 2, "{remarks:?}");
        groups.truncate(4);
        assert!(balances(&groups, &Words::english()).is_empty());
    }
}
