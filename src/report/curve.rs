//! The curve of joints against money in its three forms.

use schemars::JsonSchema;
use serde::Serialize;

use super::csv::Sheet;
use super::json::{Amount, Answer, gap};
use super::terms::{above, counted};
use super::{Column, Page, Table, Terms};
use crate::job::Job;
use crate::money::Money;
use crate::plan::{Curve, CurvePoint};

/// What each sensible number of joints costs at least.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CurveAnswer {
    /// The fastener the courses are laid with.
    fastener: String,
    /// The points by joints, ascending; each costs less than the one before it.
    points: Vec<OnePoint>,
    /// Whether no plan has fewer joints than the first point.
    fewest_proven: bool,
    /// Whether it is proven that the points are all there are.
    complete: bool,
    /// Whether a limit or the user stopped the planning.
    stopped: bool,
}

/// A number of joints and what it costs.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OnePoint {
    /// Butt joints, as `--joints` takes them.
    joints: u32,
    /// Boards, those from hand included.
    boards: u32,
    /// What the plan costs: boards, and joints where the job gives them a price.
    price: Amount,
    /// No plan with so many joints or fewer costs less than this.
    bound: Amount,
    /// `(price - bound) / price`, 0 when the price is 0.
    gap: f64,
    /// Whether no plan with so many joints or fewer costs less.
    proven: bool,
}

/// The curve as a JSON answer.
///
/// # Panics
/// When the job has no such fastener.
pub fn json(job: &Job, fastener: usize, curve: &Curve) -> Answer<CurveAnswer> {
    let one = |point: &CurvePoint| OnePoint {
        joints: point.joints,
        boards: point.boards,
        price: Amount(point.price),
        bound: Amount(point.bound),
        gap: gap(point.price.cents(), point.bound.cents()),
        proven: point.proven(),
    };
    let body = CurveAnswer {
        fastener: job.fasteners[fastener].name.clone(),
        points: curve.points.iter().map(one).collect(),
        fewest_proven: curve.fewest_proven,
        complete: curve.complete,
        stopped: curve.stopped,
    };
    Answer::new("curve", job.unit, body)
}

/// The curve for a spreadsheet: a row for each point.
pub fn csv(curve: &Curve) -> String {
    let mut sheet = Sheet::new(&["joints", "boards", "price", "bound", "proven"]);
    for point in &curve.points {
        let proven = if point.proven() { "yes" } else { "no" };
        sheet.row([
            point.joints.to_string(),
            point.boards.to_string(),
            point.price.decimal(),
            point.bound.decimal(),
            proven.to_string(),
        ]);
    }
    sheet.finish()
}

/// The curve for people.
///
/// # Panics
/// When the job has no such fastener.
pub fn text(job: &Job, fastener: usize, curve: &Curve, terms: &Terms, page: &mut Page) {
    page.answer(&answer(curve, terms));
    page.line(&format!(
        "{}: laid with {}.",
        job.title, job.fasteners[fastener].name
    ));
    let priced = job.joints.price > Money::ZERO || job.joints.doubled_joist_price > Money::ZERO;
    if priced {
        page.line("The money is that of the boards with joints priced in.");
    }
    page.space();
    let mut table = Table::new([
        Column::right("joints"),
        Column::right("boards"),
        Column::right("money"),
        Column::right("over the least"),
        Column::right("a joint less costs"),
        Column::right("above best"),
    ]);
    let least = curve.points.last().map_or(Money::ZERO, |point| point.price);
    for (n, point) in curve.points.iter().enumerate() {
        let more = point.price - least;
        let dearer = n.checked_sub(1).map(|before| &curve.points[before]);
        let each = dearer.map(|other| {
            // Half a cent rounded up.
            let joints = i64::from(point.joints - other.joints);
            let cents = (other.price - point.price).cents();
            terms.money(Money::from_cents((2 * cents + joints) / (2 * joints)))
        });
        table.row([
            point.joints.to_string(),
            point.boards.to_string(),
            terms.money(point.price),
            match more {
                Money::ZERO => String::new(),
                more => terms.money(more),
            },
            each.unwrap_or_default(),
            known(point),
        ]);
    }
    page.table(&table);
    page.space();
    page.line(match (curve.complete, curve.stopped) {
        (true, _) => {
            "Every line is proven: no plan with so many joints or fewer costs less, and no other \
             number of joints belongs here."
        }
        (false, true) => "Stopped early: there may be more lines, and cheaper plans on them.",
        (false, false) => {
            "Not all of it is proven: where a line says so it can be cheaper, and there may be \
             more lines."
        }
    });
}

/// The curve in a sentence: its two ends.
pub fn answer(curve: &Curve, terms: &Terms) -> String {
    let (Some(first), Some(last)) = (curve.points.first(), curve.points.last()) else {
        return "There is no plan.".to_string();
    };
    let joints = |point: &CurvePoint| counted(u64::from(point.joints), "joint");
    if curve.points.len() == 1 {
        let fewer = match curve.fewest_proven {
            true => "fewer joints cannot be had",
            false => "fewer joints were not found",
        };
        return format!(
            "{} at {}; {fewer}.",
            joints(first),
            terms.money(first.price)
        );
    }
    let fewest = match curve.fewest_proven {
        true => "the fewest there can be",
        false => "the fewest that were found",
    };
    format!(
        "{} at {}; {}, {fewest}, cost {} more.",
        joints(last),
        terms.money(last.price),
        first.joints,
        terms.money(first.price - last.price),
    )
}

/// How far a point may be above the best; nothing where it is proven.
fn known(point: &CurvePoint) -> String {
    if point.proven() {
        return String::new();
    }
    match above(point.price.cents(), point.bound.cents()) {
        Some(above) => above
            .trim_end_matches(" above the best")
            .replace("at most", "≤"),
        None => "not known".to_string(),
    }
}
