//! Orders side by side for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use super::{first, made, more};
use crate::job::Job;
use crate::order::{Choice, Difference};
use crate::report::json::{Amount, Answer, Measure, gap};
use crate::report::order::{GroupSums, SumsAnswer, group_sums, sums};

/// Choices side by side.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CompareAnswer {
    /// Each choice; the others are set against the first that can be had.
    choices: Vec<ChoiceAnswer>,
}

/// One choice.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct ChoiceAnswer {
    /// What is chosen.
    name: String,
    /// What it takes to have it from the command line, behind the job.
    options: String,
    /// What a person should know of it.
    notes: Vec<String>,
    /// Why it cannot be had; null where it can.
    problem: Option<String>,
    /// The fastener; this and all that follows is null where it cannot be had.
    fastener: Option<String>,
    /// How many courses there are.
    courses: Option<u64>,
    /// Width of the last course, as it is laid.
    last_width: Option<Measure>,
    /// Whether that is ripped.
    last_ripped: Option<bool>,
    /// What each group's goods come to.
    groups: Option<GroupSums>,
    /// What the order comes to.
    sums: Option<SumsAnswer>,
    /// `sums.all_in` less that of the first.
    more: Option<Amount>,
    /// How far the plan's cost can be above the best, as a share of it.
    gap: Option<f64>,
    /// Whether no plan can cost less.
    proven: Option<bool>,
    /// The lines that differ from the first's.
    differences: Vec<DifferenceAnswer>,
}

/// A line that two orders have in different numbers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct DifferenceAnswer {
    /// The group it is in.
    group: &'static str,
    /// What it is.
    item: String,
    /// What is counted.
    unit: &'static str,
    /// Pieces in a pack; null for what is no pack.
    pack: Option<u32>,
    /// How many the first has.
    from: u64,
    /// How many this one has.
    to: u64,
}

/// The choices as a JSON answer.
pub fn json(job: &Job, choices: &[Choice]) -> Answer<CompareAnswer> {
    let answers = choices.iter().map(|choice| one(choices, choice));
    let answer = CompareAnswer {
        choices: answers.collect(),
    };
    Answer::new("compare", job.unit, answer)
}

fn one(choices: &[Choice], choice: &Choice) -> ChoiceAnswer {
    let made = made(choice);
    let last = made.and_then(|made| made.plan.courses.last().zip(Some(made)));
    let totals = made.map(|made| &made.plan.totals);
    let differences = first(choices)
        .zip(made)
        .map_or(Vec::new(), |(first, made)| {
            first.order.differences(&made.order)
        });
    ChoiceAnswer {
        name: choice.name.clone(),
        options: choice.options.clone(),
        notes: choice.notes.clone(),
        problem: choice.made.as_ref().err().cloned(),
        fastener: made.map(|made| made.job.fasteners[made.plan.fastener].name.clone()),
        courses: made.map(|made| made.plan.courses.len() as u64),
        last_width: last.map(|(last, made)| Measure::new(last.width, made.job.unit)),
        last_ripped: last.map(|(last, _)| last.ripped),
        groups: made.map(|made| group_sums(&made.order)),
        sums: made.map(|made| sums(&made.order, made.job.unit)),
        more: made.map(|made| Amount(more(choices, made))),
        gap: totals.map(|totals| gap(totals.value, totals.bound)),
        proven: totals.map(|totals| totals.proven),
        differences: differences.into_iter().map(difference).collect(),
    }
}

fn difference(difference: Difference) -> DifferenceAnswer {
    DifferenceAnswer {
        group: difference.group.name(),
        item: difference.item,
        unit: difference.unit.name(),
        pack: difference.unit.pack(),
        from: difference.from,
        to: difference.to,
    }
}
