//! A sweep for people: the cheapest value in a sentence, every value in a row,
//! what is known of how good the plans are, and why some values have none.

use std::collections::BTreeMap;

use crate::courses::{Outcome, Verdict};
use crate::fit::Point;
use crate::job::{Job, SweptValue};
use crate::length::{Form, Printer};
use crate::money::Money;
use crate::plan::{Objective, Totals};
use crate::report::terms::{above, counted, how_good};
use crate::report::{Column, Page, Table, Terms};

/// All points of a sweep on a page.
///
/// # Panics
/// When the job has no such fastener.
pub fn text(
    job: &Job,
    path: &str,
    fastener: usize,
    points: &[Point],
    terms: &Terms,
    page: &mut Page,
) {
    page.answer(&answer(path, points, terms));
    page.line(&format!(
        "{}: {} of `{path}`, laid with {}.",
        job.title,
        counted(points.len() as u64, "value"),
        job.fasteners[fastener].name,
    ));
    let mut planned = points.iter().filter_map(|point| point.plan.as_ref().ok());
    if planned.any(|totals| totals.cost != totals.price) {
        page.line("The money is that of the boards with joints priced in.");
    }
    page.space();
    page.table(&table(job, path, points, terms));
    page.space();
    page.line(&known(points));
    problems(points, terms, page);
}

/// The cheapest value in a sentence.
pub fn answer(path: &str, points: &[Point], terms: &Terms) -> String {
    let best: Vec<(&Point, &Totals)> = points
        .iter()
        .filter(|point| point.cheapest)
        .filter_map(|point| Some((point, point.plan.as_ref().ok()?)))
        .collect();
    let (Some((first, totals)), Some((last, _))) = (best.first(), best.last()) else {
        return match points.iter().any(|point| point.stopped) {
            true => "Stopped before any value was planned.".to_string(),
            false => format!("No value of `{path}` has a plan."),
        };
    };
    let boards = counted(u64::from(totals.boards), "board");
    let joints = counted(u64::from(totals.joints), "joint");
    let money = match totals.cost == totals.price {
        true => terms.money(totals.price),
        false => format!(
            "{}, {} with joints priced in",
            terms.money(totals.price),
            terms.money(totals.cost)
        ),
    };
    let what = match totals.objective {
        Objective::Cost => format!("{boards} for {money}"),
        Objective::Joints => format!("{joints} with {boards} for {money}"),
        Objective::Waste => format!("{boards} of {} in all", terms.length(totals.bought)),
    };
    let word = match totals.objective {
        Objective::Cost => "cheapest",
        Objective::Joints => "with the fewest joints",
        Objective::Waste => "with the least length of boards",
    };
    let values = match best.len() {
        1 => format!("{path} = {} is the {word}", value(first, terms)),
        2 => format!(
            "{path} = {} and {} are both the {word}",
            value(first, terms),
            value(last, terms)
        ),
        count => format!(
            "{path} = {} to {}, {count} values alike, are the {word}",
            value(first, terms),
            value(last, terms)
        ),
    };
    let values = match word {
        "cheapest" => values,
        _ => values.replace("the with", "the one with"),
    };
    let stopped = match points.iter().any(|point| point.stopped) {
        true => "Stopped early: ",
        false => "",
    };
    let good = how_good(totals.objective, totals.value, totals.bound, "plan for it");
    format!("{stopped}{values}: {what}; {good}.")
}

fn value(point: &Point, terms: &Terms) -> String {
    match point.step.value {
        SweptValue::Length(length) => terms.length(length),
        SweptValue::Money(amount) if amount % 100 == 0 => {
            terms.money(Money::from_cents(amount / 100))
        }
        money @ SweptValue::Money(_) => money.typed(terms.unit),
    }
}

fn table(job: &Job, path: &str, points: &[Point], terms: &Terms) -> Table {
    let head = path.rsplit('.').next().unwrap_or(path);
    let is_length = |point: &Point| matches!(point.step.value, SweptValue::Length(_));
    let first = match points.iter().all(is_length) {
        true => Column::length(head),
        false => Column::right(head),
    };
    let mut table = Table::new([
        first,
        Column::right("courses"),
        Column::left("ends"),
        Column::right("boards"),
        Column::right("joints"),
        Column::right("money"),
        Column::right("above best"),
        Column::left(""),
    ]);
    for point in points {
        let across = |text: &dyn Fn(&Outcome) -> String| {
            point.outcome.as_ref().map_or_else(String::new, text)
        };
        let Ok(totals) = &point.plan else {
            table.row([
                value(point, terms),
                across(&|o| o.laid.to_string()),
                across(&|o| ends(job, o)),
                "no plan".to_string(),
            ]);
            continue;
        };
        table.row([
            value(point, terms),
            across(&|o| o.laid.to_string()),
            across(&|o| ends(job, o)),
            totals.boards.to_string(),
            totals.joints.to_string(),
            terms.money(totals.cost),
            at_most(totals),
            if point.cheapest { "cheapest" } else { "" }.to_string(),
        ]);
    }
    table
}

/// How the courses end, in short.
pub fn ends(job: &Job, outcome: &Outcome) -> String {
    let brief = Printer::new(job.unit).form(Form::Short);
    let rip = || match outcome.last_width.filter(|last| *last < job.board.face) {
        Some(last) => brief.show(last),
        None => outcome
            .first_width
            .map(|w| brief.show(w))
            .unwrap_or_default(),
    };
    match outcome.verdict {
        Verdict::Full => "whole".to_string(),
        Verdict::Short => format!("short {}", brief.show(outcome.short_by)),
        Verdict::Sliver => format!("sliver {}", rip()),
        Verdict::Rip => format!("rip {}", rip()),
    }
}

/// How far a plan may be above the best; nothing where it is proven.
fn at_most(totals: &Totals) -> String {
    if totals.proven {
        return String::new();
    }
    let above = above(totals.value, totals.bound);
    above.map_or_else(
        || "not known".to_string(),
        |above| {
            let share = above.trim_end_matches(" above the best");
            share.replace("at most", "≤")
        },
    )
}

/// What is known of the plans' worth.
fn known(points: &[Point]) -> String {
    let planned = || points.iter().filter_map(|point| point.plan.as_ref().ok());
    let open = planned().filter(|totals| !totals.proven).count() as u64;
    match open {
        _ if planned().next().is_none() => "Nothing is planned.".to_string(),
        0 => "Every plan is proven: at its value none can do better.".to_string(),
        _ => format!(
            "{} not proven to be the best: \"above best\" says by how much at most.",
            match open {
                1 => "One plan is".to_string(),
                _ => format!("{} are", counted(open, "plan")),
            }
        ),
    }
}

/// Why values have no plan, each reason once.
fn problems(points: &[Point], terms: &Terms, page: &mut Page) {
    let mut reasons: BTreeMap<&str, Vec<&Point>> = BTreeMap::new();
    for point in points {
        if let Err(why) = &point.plan {
            reasons.entry(why).or_default().push(point);
        }
    }
    for (why, points) in reasons {
        let shown: Vec<String> = points.iter().map(|point| value(point, terms)).collect();
        let at = match shown.as_slice() {
            [one] => one.clone(),
            [one, two] => format!("{one} and {two}"),
            [first, .., last] => format!("{} values from {first} to {last}", shown.len()),
            [] => continue,
        };
        page.space();
        page.line(&format!("No plan at {at}: {why}."));
    }
}
