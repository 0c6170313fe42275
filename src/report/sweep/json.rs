//! A sweep for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use crate::fit::Point;
use crate::job::{Job, SweptValue};
use crate::report::json::{Amount, Answer, Measure, Value, gap, objective, verdict};

/// What a job comes to over a range of values of one of its fields.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SweepAnswer {
    /// The field that goes through the range, as `--set` takes it.
    path: String,
    /// The fastener the courses are laid with.
    fastener: String,
    /// What the job comes to at each value, in the order of the values.
    points: Vec<OnePoint>,
    /// Whether a limit or the user stopped the planning.
    stopped: bool,
}

/// What the job comes to at one value.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OnePoint {
    /// The value: a length, or a price as a text.
    value: At,
    /// The change that makes it, as `--set` takes it.
    set: String,
    /// The courses laid; null where there is no deck.
    courses: Option<i64>,
    /// Width of the first course laid.
    first_width: Option<Measure>,
    /// Width of the last course laid.
    last_width: Option<Measure>,
    /// How far the courses end short of the last edge.
    short_by: Option<Measure>,
    /// `full`, `short`, `sliver` or `rip`.
    verdict: Option<&'static str>,
    /// Boards of its plan, those from hand included; null without a plan.
    boards: Option<u32>,
    /// Butt joints; null without a plan.
    joints: Option<u32>,
    /// Money for the boards bought; null without a plan.
    price: Option<Amount>,
    /// The same with joints and doubled joists priced in; null without a plan.
    cost: Option<Amount>,
    /// What was minimised first: `cost`, `joints` or `waste`; null without a plan.
    objective: Option<&'static str>,
    /// The objective's value; null without a plan.
    objective_value: Option<Value>,
    /// A lower bound on the objective over all plans, in the same terms; null without a plan.
    bound: Option<Value>,
    /// `(objective_value - bound) / objective_value`; null without a plan.
    gap: Option<f64>,
    /// Whether no plan can do better; null without a plan.
    proven: Option<bool>,
    /// Whether no other value's plan is known to be better.
    cheapest: bool,
    /// Why there is no plan; null where there is one.
    problem: Option<String>,
}

/// A value of the range.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
enum At {
    /// A length.
    Length(Measure),
    /// A price, with two decimals, or four by the foot or the metre.
    Price(String),
}

/// The points of a sweep as a JSON answer.
///
/// # Panics
/// When the job has no such fastener.
pub fn json(job: &Job, path: &str, fastener: usize, points: &[Point]) -> Answer<SweepAnswer> {
    let at = |length| Measure::new(length, job.unit);
    let one = |point: &Point| {
        let outcome = point.outcome.as_ref();
        let totals = point.plan.as_ref().ok();
        OnePoint {
            value: match point.step.value {
                SweptValue::Length(length) => At::Length(at(length)),
                money @ SweptValue::Money(_) => At::Price(money.typed(job.unit)),
            },
            set: point.step.set.text(),
            courses: outcome.map(|o| o.laid),
            first_width: outcome.and_then(|o| o.first_width).map(at),
            last_width: outcome.and_then(|o| o.last_width).map(at),
            short_by: outcome.map(|o| at(o.short_by)),
            verdict: outcome.map(|o| verdict(o.verdict)),
            boards: totals.map(|t| t.boards),
            joints: totals.map(|t| t.joints),
            price: totals.map(|t| Amount(t.price)),
            cost: totals.map(|t| Amount(t.cost)),
            objective: totals.map(|t| objective(t.objective)),
            objective_value: totals.map(|t| Value::of(t.objective, t.value, job.unit)),
            bound: totals.map(|t| Value::of(t.objective, t.bound, job.unit)),
            gap: totals.map(|t| gap(t.value, t.bound)),
            proven: totals.map(|t| t.proven),
            cheapest: point.cheapest,
            problem: point.plan.as_ref().err().cloned(),
        }
    };
    let body = SweepAnswer {
        path: path.to_owned(),
        fastener: job.fasteners[fastener].name.clone(),
        points: points.iter().map(one).collect(),
        stopped: points.iter().any(|point| point.stopped),
    };
    Answer::new("sweep", job.unit, body)
}
