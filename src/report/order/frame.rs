//! The frame behind an order: its joists and edges in a sentence, and the cut
//! list of each size of lumber, for people and for programs.

use schemars::JsonSchema;
use serde::Serialize;

use crate::cutlist::CutList;
use crate::frame::{Border, Skeleton};
use crate::job::{BlockingPattern, FrameRules, Job};
use crate::length::Unit;
use crate::order::{Framing, LumberCut, Order};
use crate::plan::Objective;
use crate::report::cut::{self, CutAnswer};
use crate::report::json::Measure;
use crate::report::terms::{counted, how_good};
use crate::report::{Page, Terms};
use crate::stock::CutPlan;

/// The frame.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub(super) struct FrameAnswer {
    /// The length every joist is cut to.
    joist_length: Measure,
    /// The joists, from the frame's left side.
    joists: Vec<JoistAnswer>,
    /// What lies along the frame's first edge: `rim` or `ledger`.
    first: &'static str,
    /// What lies along its last edge.
    last: &'static str,
    /// The beams' centres across, from the frame's first edge.
    beams: Vec<Measure>,
    /// How the lumber of each size is cut.
    lumber: Vec<LumberAnswer>,
}

/// A joist.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct JoistAnswer {
    /// Its centre along, from the frame's left side.
    at: Measure,
    /// Sticks side by side: 2 where it is doubled.
    plies: u32,
}

/// The lumber of one size.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct LumberAnswer {
    /// The size.
    size: String,
    /// Board feet of all its sticks, to a tenth; null where the size is not nominal in inches.
    board_feet: Option<f64>,
    /// The cut list; a stock's number is its place among the lengths of this size.
    cut_list: CutAnswer,
}

/// The frame's keys.
pub(super) fn frame(job: &Job, order: &Order) -> Option<FrameAnswer> {
    let Framing { skeleton, cuts } = order.framing.as_ref()?;
    let at = |length| Measure::new(length, job.unit);
    let [first, last] = skeleton.edges.map(|edge| match edge {
        Border::Rims(_) => "rim",
        Border::Ledger => "ledger",
    });
    Some(FrameAnswer {
        joist_length: at(skeleton.joist_length()),
        joists: (skeleton.joists.iter())
            .map(|joist| JoistAnswer {
                at: at(joist.at),
                plies: joist.plies,
            })
            .collect(),
        first,
        last,
        beams: skeleton.beams.iter().map(|&beam| at(beam)).collect(),
        lumber: (cuts.iter())
            .map(|cut| LumberAnswer {
                size: job.lumber[cut.size].size.clone(),
                board_feet: board_feet(job, cut).map(|tenths| tenths as f64 / 10.0),
                cut_list: cut::whole(&list(job, cut), &cut.plan),
            })
            .collect(),
    })
}

/// Tenths of a board foot in all sticks of a size.
fn board_feet(job: &Job, cut: &LumberCut) -> Option<u64> {
    let inches = job.unit == Unit::Inch;
    let sticks = cut.plan.boards.iter();
    let length = sticks.map(|stick| cut.problem.stock[stick.stock].length * stick.count as i64);
    let length = length.sum();
    job.lumber[cut.size].board_feet(length).filter(|_| inches)
}

/// A size's cutting problem as a bare cut list.
fn list(job: &Job, cut: &LumberCut) -> CutList {
    CutList {
        unit: job.unit,
        problem: cut.problem.clone(),
        labels: (cut.parts.iter())
            .map(|part| Some(part.name().to_owned()))
            .collect(),
        by_length: None,
    }
}

/// The frame on the order's page.
pub(super) fn text(job: &Job, order: &Order, terms: &Terms, page: &mut Page) {
    let Some((rules, framing)) = job.frame.as_ref().zip(order.framing.as_ref()) else {
        return;
    };
    page.space();
    page.line(&sentence(job, rules, &framing.skeleton, terms));
    for cut in &framing.cuts {
        let size = &job.lumber[cut.size].size;
        let size = match board_feet(job, cut) {
            Some(tenths) => format!("{size} ({}.{} board feet)", tenths / 10, tenths % 10),
            None => size.clone(),
        };
        cut_list(&size, "stick", &list(job, cut), &cut.plan, terms, page);
    }
}

/// How what is sold by the stick or the board is cut: the money, how good that is
/// known to be, and the list.
pub(super) fn cut_list(
    what: &str,
    one: &str,
    list: &CutList,
    plan: &CutPlan,
    terms: &Terms,
    page: &mut Page,
) {
    let count: u64 = plan.boards.iter().map(|board| board.count).sum();
    let good = how_good(
        Objective::Cost,
        plan.cost.cents(),
        plan.bound.cents(),
        "cut list",
    );
    let stopped = if plan.stopped { "stopped early, " } else { "" };
    page.heading(&format!(
        "{what}: {} for {}; {stopped}{good}",
        counted(count, one),
        terms.money(plan.cost),
    ));
    page.table(&cut::cuts(list, plan, terms, &format!("{one}s")));
}

/// What the frame is: `Frame: 25 joists of 17 ft 9 in, 6 of them doubled, ...`.
fn sentence(job: &Job, rules: &FrameRules, skeleton: &Skeleton, terms: &Terms) -> String {
    let size = |size: usize| job.lumber[size].size.as_str();
    let joists = skeleton.joists.len() as u64;
    let mut parts = vec![format!(
        "{} of {} × {}",
        counted(joists, "joist"),
        terms.length(skeleton.joist_length()),
        size(rules.joist)
    )];
    let doubled = skeleton
        .joists
        .iter()
        .filter(|joist| joist.plies > 1)
        .count();
    if doubled > 0 {
        parts.push(format!("{doubled} of them doubled under joints"));
    }
    let edge = |edge: Border| match (edge, rules.ledger) {
        (Border::Ledger, Some(ledger)) => format!("a {} ledger", size(ledger)),
        (Border::Rims(2), _) => format!("a doubled {} rim", size(rules.rim)),
        _ => format!("a {} rim", size(rules.rim)),
    };
    let [first, last] = skeleton.edges.map(edge);
    parts.push(format!("between {first} and {last}"));
    if let Some(blocking) = &rules.blocking {
        let pattern = match blocking.pattern {
            BlockingPattern::InLine => "in line",
            BlockingPattern::Staggered => "staggered",
        };
        let rows = counted(u64::from(blocking.rows), "row");
        parts.push(format!("{rows} of blocking, {pattern}"));
    }
    if let Some(beam) = &rules.beam {
        let beams = counted(skeleton.beams.len() as u64, "beam");
        let at: Vec<String> = skeleton.beams.iter().map(|&at| terms.length(at)).collect();
        parts.push(format!(
            "{beams} of {} × {} centred {} from the first edge",
            beam.plies,
            size(beam.size),
            at.join(", ")
        ));
    }
    format!("Frame: {}.", parts.join(", "))
}
