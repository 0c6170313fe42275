//! A forecast for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use super::compare::{Boards, Row, against, best};
use super::movement::{CompositeAnswer, WoodAnswer, composite_json, wood_json};
use crate::caution::Caution;
use crate::courses::{Forecast, Holds, Outcome};
use crate::deck::Surface;
use crate::fit;
use crate::job::Job;
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::movement::drying;
use crate::report::json::{Amount, Answer, Measure, Warning, verdict};

/// Where the last course falls, for each fastener of a job.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ForecastAnswer {
    /// The surface's width across the boards.
    surface: Measure,
    /// How the courses are finished: `rip-last`, `rip-first`, `balanced`, `shared` or `leave-out`.
    finish: &'static str,
    /// What moisture does to boards of wood; null where the job does not say.
    wood: Option<WoodAnswer>,
    /// What heat does to composite boards; null where the job does not say.
    composite: Option<CompositeAnswer>,
    /// One forecast for each fastener, in the job's order.
    forecasts: Vec<OneForecast>,
    /// What a person should look at.
    cautions: Vec<Warning>,
}

/// The forecast for one fastener.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneForecast {
    /// The fastener.
    fastener: String,
    /// Its gap.
    gap: Measure,
    /// Whether the gap was measured by a dry run.
    measured: bool,
    /// The courses laid.
    courses: i64,
    /// The gaps between them.
    gaps: i64,
    /// Width of the first course laid.
    first_width: Option<Measure>,
    /// Width of the last course laid.
    last_width: Option<Measure>,
    /// What is ripped off a ripped course, the later of two.
    ripped_off: Measure,
    /// How far the courses end short of the last edge.
    short_by: Measure,
    /// How far they would if a ripped last course were not laid; null unless one is ripped.
    short_if_omitted: Option<Measure>,
    /// The gap in service of boards of wood, below 0 where they press on each other; else null.
    gap_service: Option<Measure>,
    /// The gap to set now for the one wanted in service, below 0 where there is none; else null.
    gap_to_set: Option<Measure>,
    /// Width of the last course in service; null unless the job says what becomes of its wood.
    last_width_service: Option<Measure>,
    /// `full`, `short`, `sliver` or `rip`.
    verdict: &'static str,
    /// Least and greatest gap with which as many courses are laid; no greatest for one course.
    gap_holds: [Option<Measure>; 2],
    /// Least and greatest gap with which the verdict stays the same as well.
    verdict_holds: [Option<Measure>; 2],
    /// The same with a gap that is not what it is said to be.
    gap_wrong: Vec<GapWrong>,
    /// What one unit more takes from the last course, before a course is added or dropped.
    sensitivity: Sensitivity,
    /// Least and greatest width of the last course with every error at its limit, before a
    /// course is added or dropped; null when nothing is said to be off.
    worst: Option<[Measure; 2]>,
    /// The same by root-sum-square.
    rss: Option<[Measure; 2]>,
    /// The chance that one more course is wanted.
    chance_extra_course: Option<f64>,
    /// The chance that a course comes out narrower than the narrowest rip.
    chance_sliver: Option<f64>,
    /// What its board plan comes to; null when the job says nothing of boards, or when all
    /// fasteners take the same.
    plan: Option<Planned>,
    /// What it takes more than the best fastener; all 0 for the best itself.
    against_best: Against,
}

/// The courses with a wrong gap; null where the gap would be below zero.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct GapWrong {
    /// How much wider the gap is; narrower below zero.
    by: Measure,
    /// The courses laid.
    courses: Option<i64>,
    /// Width of the last course laid.
    last_width: Option<Measure>,
    /// How far the courses end short of the last edge.
    short_by: Option<Measure>,
    /// `full`, `short`, `sliver` or `rip`.
    verdict: Option<&'static str>,
}

/// What one unit more takes from the last course.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Sensitivity {
    /// Of every gap of the fastener.
    gap: i64,
    /// Of every board's face.
    face: i64,
    /// Of the frame; it gives, so this is below zero.
    frame: i64,
}

/// A board plan in figures.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Planned {
    /// Boards used, those from hand included.
    boards: Option<u32>,
    /// Money for the boards bought.
    price: Option<Amount>,
    /// The same with joints priced in.
    cost: Option<Amount>,
    /// A lower bound on the cost of any plan.
    bound: Option<Amount>,
    /// Whether no plan can cost less.
    proven: Option<bool>,
    /// Why there is no plan.
    problem: Option<String>,
}

/// What a fastener takes more than the best.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct Against {
    /// Courses more.
    courses: i64,
    /// Boards more.
    boards: Option<i64>,
    /// Money more.
    cost: Option<Amount>,
}

/// The forecasts as a JSON answer.
pub fn json(
    job: &Job,
    surface: &Surface,
    rows: &[Row],
    cautions: &[Caution],
) -> Answer<ForecastAnswer> {
    let best = best(rows).map(|k| &rows[k]);
    let forecasts = rows
        .iter()
        .zip(best.iter().cycle())
        .map(|(row, best)| one(job, row, best))
        .collect();
    let body = ForecastAnswer {
        surface: Measure::new(surface.width, job.unit),
        finish: job.courses.finish.name(),
        wood: wood_json(job),
        composite: composite_json(job, surface),
        forecasts,
        cautions: Warning::list(cautions),
    };
    Answer::new("forecast", job.unit, body)
}

fn one(job: &Job, row: &Row, best: &Row) -> OneForecast {
    let unit = job.unit;
    let at = |length: Length| Measure::new(length, unit);
    let Forecast {
        outcome,
        sensitivity,
        risk,
        ..
    } = &row.forecast;
    let fastener = &job.fasteners[row.forecast.fastener];
    let wrong = row.forecast.gap_wrong.iter();
    let against = against(row, best);
    let drying = drying(job);
    OneForecast {
        fastener: fastener.name.clone(),
        gap: at(fastener.gap.set),
        measured: fastener.trial.is_some(),
        courses: outcome.laid,
        gaps: (outcome.laid - 1).max(0),
        first_width: outcome.first_width.map(at),
        last_width: outcome.last_width.map(at),
        ripped_off: at(outcome.ripped_off),
        short_by: at(outcome.short_by),
        short_if_omitted: outcome.short_if_omitted.map(at),
        gap_service: drying.map(|drying| at(drying.gap(fastener.gap.set))),
        gap_to_set: drying.and_then(|drying| Some(at(drying.to_set(drying.wood.gap_service?)))),
        last_width_service: drying
            .zip(outcome.last_width)
            .map(|(drying, last)| at(drying.width(last))),
        verdict: verdict(outcome.verdict),
        gap_holds: holds(row.forecast.gap_holds, unit),
        verdict_holds: holds(row.forecast.verdict_holds, unit),
        gap_wrong: wrong.map(|w| gap_wrong(w.by, w.outcome, unit)).collect(),
        sensitivity: Sensitivity {
            gap: sensitivity.gap,
            face: sensitivity.face,
            frame: sensitivity.frame,
        },
        worst: risk.map(|risk| risk.worst.map(at)),
        rss: risk.map(|risk| risk.rss.map(at)),
        chance_extra_course: risk.map(|risk| risk.chance_extra_course),
        chance_sliver: risk.map(|risk| risk.chance_sliver),
        plan: match &row.boards {
            Boards::Planned(plan) => Some(planned(plan)),
            Boards::Unknown | Boards::Alike => None,
        },
        against_best: Against {
            courses: against.courses,
            boards: against.boards,
            cost: against.cost.map(Amount),
        },
    }
}

fn planned(plan: &fit::Planned) -> Planned {
    let totals = plan.as_ref().ok();
    Planned {
        boards: totals.map(|totals| totals.boards),
        price: totals.map(|totals| Amount(totals.price)),
        cost: totals.map(|totals| Amount(totals.cost)),
        bound: totals.map(|totals| Amount(Money::from_cents(totals.bound))),
        proven: totals.map(|totals| totals.proven),
        problem: plan.as_ref().err().map(ToString::to_string),
    }
}

fn holds(holds: Holds, unit: Unit) -> [Option<Measure>; 2] {
    let at = |length| Measure::new(length, unit);
    [Some(at(holds.least)), holds.most.map(at)]
}

fn gap_wrong(by: Length, outcome: Option<Outcome>, unit: Unit) -> GapWrong {
    let at = |length| Measure::new(length, unit);
    GapWrong {
        by: at(by),
        courses: outcome.map(|o| o.laid),
        last_width: outcome.and_then(|o| o.last_width).map(at),
        short_by: outcome.map(|o| at(o.short_by)),
        verdict: outcome.map(|o| verdict(o.verdict)),
    }
}
