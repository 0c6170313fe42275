//! Ways to finish for programs. The keys are stable; new ones may be added.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::fit::{Ending, Priced};
use crate::job::Job;
use crate::length::Length;
use crate::money::Money;
use crate::report::json::{Amount, Answer, Measure, verdict};

/// Ways to finish, ranked.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FitAnswer {
    /// The ways, best first.
    ways: Vec<OneWay>,
    /// Whether a limit or the user stopped the planning behind the prices.
    stopped: bool,
}

/// One way to finish.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneWay {
    /// Its number, from 1, as `--choose` takes it.
    number: usize,
    /// `leave`, `overhang`, `gap`, `mixed-fasteners`, `frame`, `length`, `balanced`, `shared` or
    /// `rip-first`, or several joined by `+`.
    kind: String,
    /// The job's fields that it changes and their new values, as `--set` takes them.
    changes: BTreeMap<String, String>,
    /// The fastener the courses are laid with.
    fastener: String,
    /// The courses laid.
    courses: i64,
    /// Width of the first course laid.
    first_width: Option<Measure>,
    /// Width of the last course laid.
    last_width: Option<Measure>,
    /// How far the courses end short of the last edge.
    short_by: Measure,
    /// `full`, `short`, `sliver` or `rip`.
    verdict: &'static str,
    /// How the ranking takes that: `whole` (also short by no more than the last overhang
    /// allows), `short`, `half-board`, `rip` or `sliver`.
    ending: &'static str,
    /// The chance that it still comes out so; null when nothing is said to be off.
    chance: Option<f64>,
    /// What the joists across are cut to; null unless the frame's size across is changed.
    joist_length: Option<Measure>,
    /// Boards of its plan, those from hand included; null without a plan.
    boards: Option<u32>,
    /// Money for the boards bought; null without a plan.
    price: Option<Amount>,
    /// The same with joints priced in; null without a plan.
    cost: Option<Amount>,
    /// A lower bound on the cost of any plan; null without a plan.
    bound: Option<Amount>,
    /// Whether no plan can cost less; null without a plan.
    proven: Option<bool>,
    /// Its cost less that of `leave` with the same fastener.
    difference: Option<Amount>,
    /// Its boards less those of `leave` with the same fastener.
    more_boards: Option<i64>,
    /// Why there is no plan; null where there is one.
    problem: Option<String>,
}

/// The name of an ending.
fn ending(ending: Ending) -> &'static str {
    match ending {
        Ending::Whole => "whole",
        Ending::Short => "short",
        Ending::HalfBoard => "half-board",
        Ending::Rip => "rip",
        Ending::Sliver => "sliver",
    }
}

/// Numbered ways as a JSON answer.
pub fn json(job: &Job, ways: &[(usize, &Priced)]) -> Answer<FitAnswer> {
    let at = |length: Length| Measure::new(length, job.unit);
    let one = |&(number, priced): &(usize, &Priced)| {
        let way = &priced.way;
        let totals = priced.totals();
        let changes = way.changes.iter();
        OneWay {
            number,
            kind: way.kind(),
            changes: changes.map(|c| (c.path(job), c.value(job))).collect(),
            fastener: job.fasteners[way.fastener].name.clone(),
            courses: way.outcome.laid,
            first_width: way.outcome.first_width.map(at),
            last_width: way.outcome.last_width.map(at),
            short_by: at(way.outcome.short_by),
            verdict: verdict(way.outcome.verdict),
            ending: ending(way.ending),
            chance: way.chance,
            joist_length: way.joist_length.map(at),
            boards: totals.map(|t| t.boards),
            price: totals.map(|t| Amount(t.price)),
            cost: totals.map(|t| Amount(t.cost)),
            bound: totals.map(|t| Amount(Money::from_cents(t.bound))),
            proven: totals.map(|t| t.proven),
            difference: priced.difference.map(Amount),
            more_boards: priced.more_boards,
            problem: priced.problem(),
        }
    };
    let body = FitAnswer {
        ways: ways.iter().map(one).collect(),
        stopped: ways.iter().any(|(_, priced)| priced.is_stopped()),
    };
    Answer::new("fit", job.unit, body)
}
