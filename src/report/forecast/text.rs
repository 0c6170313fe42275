//! A forecast for people: where the last course falls, the end of the deck
//! drawn, fasteners side by side, what a wrong gap does, and what it means.

use super::compare::{Row, best};
use super::figures::{figures, gaps_wrong, side_by_side};
use super::meaning::{advice, meaning};
use super::movement;
use super::picture::picture;
use crate::caution::Caution;
use crate::courses::{Forecast, Verdict};
use crate::deck::Surface;
use crate::job::{Finish, Job};
use crate::length::Length;
use crate::report::terms::counted;
use crate::report::{Column, Page, Table, Terms};

/// Where the courses of one fastener end, in a sentence a builder could say.
pub fn answer(forecast: &Forecast, terms: &Terms) -> String {
    let outcome = &forecast.outcome;
    let (laid, at) = (outcome.laid, |length| terms.length(length));
    let courses = counted(laid.max(0) as u64, "course");
    let (Some(first), Some(last)) = (outcome.first_width, outcome.last_width) else {
        return format!(
            "Not one whole course fits: {} is left open.",
            at(outcome.short_by)
        );
    };
    let face = forecast.across.face;
    match outcome.verdict {
        Verdict::Full if laid == 1 => "1 course covers it, and it is whole.".to_string(),
        Verdict::Full => format!("{courses} come out whole, and nothing is short."),
        Verdict::Short
            if forecast.across.finish == Finish::LeaveOut && outcome.last > Length::ZERO =>
        {
            format!(
                "Course {laid} is the last; a ripped one is left out, so that the deck ends {} short of its edge.",
                at(outcome.short_by)
            )
        }
        Verdict::Short => format!(
            "Course {laid} is the last and whole; it ends {} short of the edge.",
            at(outcome.short_by)
        ),
        _ if first < face && last < face && laid > 1 => format!(
            "{courses}, the first ripped to {} and the last to {}.",
            at(first),
            at(last)
        ),
        _ if first < face && laid > 1 => {
            format!("{courses}, the first ripped to {}.", at(first))
        }
        _ if outcome.rip != Some(last) => {
            format!("{courses}, the last two ripped to {}.", at(last))
        }
        Verdict::Sliver => format!("Course {laid} is the last, a sliver of {}.", at(last)),
        Verdict::Rip => format!("Course {laid} is the last, ripped to {}.", at(last)),
    }
}

/// The whole forecast on a page.
pub fn text(
    job: &Job,
    surface: &Surface,
    rows: &[Row],
    cautions: &[Caution],
    terms: &Terms,
    page: &mut Page,
) {
    let (Some(first), Some(best)) = (rows.first(), best(rows)) else {
        return;
    };
    let says = answer(&first.forecast, terms);
    match rows.len() {
        1 => page.answer(&says),
        _ => page.answer(&format!("With {}: {}", name(job, first), lowered(&says))),
    }
    pictures(job, rows, page);
    page.space();
    page.line(&format!(
        "{}: {} across to cover, boards {} wide.",
        job.title,
        terms.length(surface.width),
        terms.length(job.board.face)
    ));
    if let Some(wood) = movement::wood(job, terms) {
        page.line(&wood);
    }
    let groups = side_by_side(job, rows, page.width());
    for group in &groups {
        page.space();
        page.table(&figures(job, group, rows, best, terms));
    }
    page.space();
    page.line(&meaning(job, rows, best, terms));
    page.heading("The same if every gap is off, as courses and the last of them");
    for (k, group) in groups.iter().enumerate() {
        if k > 0 {
            page.space();
        }
        page.table(&gaps_wrong(job, group, terms));
    }
    movement::composite(job, surface, terms, page);
    advice(job, rows, page);
    page.cautions(cautions);
}

pub(super) fn name<'a>(job: &'a Job, row: &Row) -> &'a str {
    &job.fasteners[row.forecast.fastener].name
}

pub(super) fn lowered(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// The end of the deck, one line a fastener.
fn pictures(job: &Job, rows: &[Row], page: &mut Page) {
    const MOST: usize = 6;
    let mut table = Table::new([Column::left(""), Column::right("")]);
    for row in rows.iter().take(MOST) {
        let label = if rows.len() == 1 { "" } else { name(job, row) };
        table.row([label.to_string(), picture(&row.forecast)]);
    }
    page.table(&table);
}
