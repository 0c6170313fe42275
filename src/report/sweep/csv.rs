//! A sweep for a spreadsheet: a row for each value.

use crate::fit::Point;
use crate::job::{Job, SweptValue};
use crate::report::csv::{Sheet, length, unit};
use crate::report::json::verdict;

const HEADS: [&str; 15] = [
    "field",
    "value",
    "courses",
    "first_width",
    "last_width",
    "short_by",
    "ends",
    "boards",
    "joints",
    "price",
    "cost",
    "proven",
    "cheapest",
    "problem",
    "unit",
];

/// The points of a sweep as CSV.
pub fn csv(job: &Job, path: &str, points: &[Point]) -> String {
    let yes = |yes: bool| if yes { "yes" } else { "no" }.to_string();
    let mut sheet = Sheet::new(&HEADS);
    for point in points {
        let outcome = point.outcome.as_ref();
        let totals = point.plan.as_ref().ok();
        let across = |text: &dyn Fn(&crate::courses::Outcome) -> String| {
            outcome.map_or_else(String::new, text)
        };
        let planned =
            |text: &dyn Fn(&crate::plan::Totals) -> String| totals.map_or_else(String::new, text);
        let width = |width| match width {
            Some(width) => length(width, job.unit),
            None => String::new(),
        };
        sheet.row([
            path.to_string(),
            match point.step.value {
                SweptValue::Length(value) => length(value, job.unit),
                money @ SweptValue::Money(_) => money.typed(job.unit),
            },
            across(&|o| o.laid.to_string()),
            across(&|o| width(o.first_width)),
            across(&|o| width(o.last_width)),
            across(&|o| length(o.short_by, job.unit)),
            across(&|o| verdict(o.verdict).to_string()),
            planned(&|t| t.boards.to_string()),
            planned(&|t| t.joints.to_string()),
            planned(&|t| t.price.decimal()),
            planned(&|t| t.cost.decimal()),
            planned(&|t| yes(t.proven)),
            yes(point.cheapest),
            point.plan.as_ref().err().cloned().unwrap_or_default(),
            unit(job.unit).to_string(),
        ]);
    }
    sheet.finish()
}
