//! What a forecast means for the deck, in a sentence, and what one could do
//! about it.

use super::compare::{Boards, Row, against};
use super::figures::gap_step;
use super::text::{answer, lowered, name};
use crate::job::{Fastener, Job};
use crate::length::Printer;
use crate::report::terms::counted;
use crate::report::{Page, Terms};
use crate::text::clean;

/// One sentence on what the figures mean for this deck.
pub(super) fn meaning(job: &Job, rows: &[Row], best: usize, terms: &Terms) -> String {
    let row = &rows[best];
    let others = || rows.iter().filter(|other| !std::ptr::eq(*other, row));
    if rows.len() == 1 {
        return alone(row, terms);
    }
    let dearest = others().max_by_key(|other| {
        let against = against(other, row);
        (against.cost, against.courses)
    });
    let Some(dearest) = dearest else {
        return alone(row, terms);
    };
    let more = against(dearest, row);
    let mut parts = Vec::new();
    if more.courses > 0 {
        parts.push(counted_more(more.courses, "course"));
    }
    if let Some(boards) = more.boards.filter(|boards| *boards > 0) {
        parts.push(counted_more(boards, "board"));
    }
    if let Some(cost) = more.cost.filter(|cost| cost.cents() > 0) {
        parts.push(terms.money(cost));
    }
    if parts.is_empty() {
        return alike(job, rows, row, terms);
    }
    let as_dear: Vec<String> = others()
        .filter(|other| against(other, row) == more)
        .map(|other| name(job, other).to_string())
        .collect();
    format!(
        "For this deck {} {} {} more than {}.",
        joined(&as_dear),
        if as_dear.len() == 1 {
            "costs"
        } else {
            "each cost"
        },
        joined(&parts),
        name(job, row),
    )
}

/// What to say where no fastener costs more than another.
fn alike(job: &Job, rows: &[Row], row: &Row, terms: &Terms) -> String {
    let ends = |row: &Row| {
        let outcome = row.forecast.outcome;
        (
            outcome.rip.is_none(),
            outcome.first_width.min(outcome.last_width),
        )
    };
    let laid = row.forecast.outcome.laid;
    let same = match rows.iter().all(|row| row.forecast.outcome.laid == laid) {
        true => format!(
            "For this deck every fastener takes {}",
            counted(laid.unsigned_abs(), "course")
        ),
        false => "For this deck every fastener costs the same".to_string(),
    };
    let Some(widest) = rows.iter().max_by_key(|row| ends(row)) else {
        return same;
    };
    if rows.iter().all(|row| ends(row) == ends(widest)) {
        return format!("{same} and ends alike; what differs is how sure that is.");
    }
    format!(
        "{same}; {} ends best: {}",
        name(job, widest),
        lowered(&answer(&widest.forecast, terms))
    )
}

fn alone(row: &Row, terms: &Terms) -> String {
    let step = gap_step(terms.unit);
    let gaps = row.forecast.sensitivity.gap;
    if gaps == 0 {
        return "For this deck the gap does not matter: there is one course.".to_string();
    }
    let fine = |length| Printer::new(terms.unit).to_64ths().show(length);
    let said = format!(
        "For this deck a gap {} off moves the last edge by {}",
        fine(step),
        terms.length(step * gaps)
    );
    match row.forecast.changed_by() {
        Some(by) if by == step => format!("{said}, and that changes what comes out."),
        Some(by) => format!("{said}, and {} off changes what comes out.", fine(by)),
        None => format!("{said}, and even twice that changes neither count nor verdict."),
    }
}

fn counted_more(count: i64, one: &str) -> String {
    counted(count.unsigned_abs(), one)
}

fn joined(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// What one could do next: see why there is no plan, measure gaps that the
/// forecast hangs on.
pub(super) fn advice(job: &Job, rows: &[Row], page: &mut Page) {
    for row in rows {
        if let Boards::Planned(Err(problem)) = &row.boards {
            page.space();
            page.line(&format!("No board plan for {}: {problem}.", name(job, row)));
        }
    }
    const BOARDS: i64 = 10;
    let unmeasured: Vec<&Fastener> = rows
        .iter()
        .filter(|row| row.forecast.changed_by().is_some())
        .map(|row| &job.fasteners[row.forecast.fastener])
        .filter(|fastener| fastener.trial.is_none())
        .collect();
    if unmeasured.is_empty() {
        return;
    }
    page.space();
    page.line(&format!(
        "This hangs on {} nobody has measured. Fix {BOARDS} boards together on the ground, \
         measure over all, and give what the tape says as the fastener's `trial`, in the job \
         file or with --set; as stated it would be:",
        if unmeasured.len() == 1 {
            "a gap"
        } else {
            "gaps"
        },
    ));
    for fastener in unmeasured {
        let over = job.board.face * BOARDS + fastener.gap.set * (BOARDS - 1);
        page.figure(&format!(
            "  trial = {{ boards = {BOARDS}, over = \"{}\" }}   # {}",
            over.exact(job.unit),
            clean(&fastener.name),
        ));
    }
}
