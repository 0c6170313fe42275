//! A forecast for people: where the last course falls, the end of the deck
//! drawn, fasteners side by side, what a wrong gap does, and what it means.

use super::compare::{Boards, Row, against, best};
use super::picture::picture;
use crate::caution::Caution;
use crate::courses::{Forecast, Holds, Outcome, Verdict};
use crate::deck::Surface;
use crate::job::{Fastener, Finish, Job};
use crate::length::{Length, Printer, Unit};
use crate::money::Money;
use crate::report::json::verdict;
use crate::report::terms::{chance, counted};
use crate::report::{Column, Page, Table, Terms};
use crate::text::clean;

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
    let groups = side_by_side(job, rows, page.width());
    for group in &groups {
        page.space();
        page.table(&figures(job, group, rows, best, terms));
    }
    page.space();
    page.line(&meaning(job, rows, best, terms));
    page.heading("The same if every gap is off, as courses and the last of them");
    for group in &groups {
        page.table(&gaps_wrong(job, group, terms));
    }
    advice(job, rows, page);
    page.cautions(cautions);
}

fn name<'a>(job: &'a Job, row: &Row) -> &'a str {
    &job.fasteners[row.forecast.fastener].name
}

fn lowered(sentence: &str) -> String {
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

/// Fasteners that find room beside each other, group by group.
fn side_by_side<'a>(job: &Job, rows: &'a [Row], width: usize) -> Vec<&'a [Row]> {
    const LABELS: usize = 28;
    const NARROWEST: usize = 18;
    let mut groups = Vec::new();
    let mut start = 0;
    let mut used = LABELS;
    for (k, row) in rows.iter().enumerate() {
        let wide = name(job, row).chars().count().max(NARROWEST) + 2;
        if k > start && used + wide > width {
            groups.push(&rows[start..k]);
            start = k;
            used = LABELS;
        }
        used += wide;
    }
    groups.push(&rows[start..]);
    groups
}

fn columns(job: &Job, group: &[Row]) -> Table {
    let names = group.iter().map(|row| Column::left(name(job, row)));
    Table::new(std::iter::once(Column::left("")).chain(names))
}

/// A line of the side-by-side table: a label and a cell for each fastener. It
/// is left out where no cell says anything.
struct Lines<'a> {
    table: Table,
    group: &'a [Row],
}

impl Lines<'_> {
    fn line(&mut self, label: &str, cell: impl Fn(&Row) -> Option<String>) {
        let cells: Vec<Option<String>> = self.group.iter().map(cell).collect();
        if cells.iter().any(Option::is_some) {
            let said = cells
                .into_iter()
                .map(|cell| cell.unwrap_or_else(|| "-".to_string()));
            self.table
                .row(std::iter::once(label.to_string()).chain(said));
        }
    }
}

fn figures(job: &Job, group: &[Row], rows: &[Row], best: usize, terms: &Terms) -> Table {
    let mut lines = Lines {
        table: columns(job, group),
        group,
    };
    let at = |length| terms.length(length);
    let above_zero = |length: Length| (length > Length::ZERO).then(|| terms.length(length));
    let outcome = |row: &Row| row.forecast.outcome;
    let ripped = |row: &Row, width: Option<Length>| {
        width.map(|w| match w < row.forecast.across.face {
            true => at(w),
            false => "whole".to_string(),
        })
    };
    let fine = |length| Printer::new(job.unit).to_64ths().show(length);
    lines.line("gap", |row| {
        let fastener = &job.fasteners[row.forecast.fastener];
        let measured = if fastener.trial.is_some() {
            ", measured"
        } else {
            ""
        };
        Some(format!("{}{measured}", fine(fastener.gap.set)))
    });
    lines.line("courses", |row| Some(outcome(row).laid.to_string()));
    lines.line("gaps", |row| {
        Some((outcome(row).laid - 1).max(0).to_string())
    });
    let first_ripped = rows.iter().any(|row| {
        outcome(row).first_width < Some(row.forecast.across.face) && outcome(row).laid > 1
    });
    if first_ripped {
        lines.line("first course", |row| ripped(row, outcome(row).first_width));
    }
    lines.line("last course", |row| ripped(row, outcome(row).last_width));
    lines.line("ripped off", |row| above_zero(outcome(row).ripped_off));
    lines.line("short of the edge", |row| above_zero(outcome(row).short_by));
    lines.line("left open if not laid", |row| {
        outcome(row).short_if_omitted.map(at)
    });
    lines.line("verdict", |row| {
        Some(verdict(outcome(row).verdict).to_string())
    });
    lines.line("count stays with gaps", |row| {
        Some(interval(row.forecast.gap_holds, job.unit))
    });
    lines.line("verdict stays with gaps", |row| {
        Some(interval(row.forecast.verdict_holds, job.unit))
    });
    let step = gap_step(job.unit);
    let takes = |count: i64| Some(format!("takes {}", at(step * count)));
    lines.line(&format!("{} more in each gap", fine(step)), |row| {
        takes(row.forecast.sensitivity.gap)
    });
    lines.line(&format!("{} more in each face", fine(step)), |row| {
        takes(row.forecast.sensitivity.face)
    });
    lines.line(&format!("{} more frame", fine(step)), |row| {
        Some(format!(
            "adds {}",
            fine(step * -row.forecast.sensitivity.frame)
        ))
    });
    let between = |[least, most]: [Length; 2]| format!("{} to {}", at(least), at(most));
    let risk = |row: &Row| row.forecast.risk;
    lines.line("last course, worst case", |row| {
        risk(row).map(|r| between(r.worst))
    });
    lines.line("root-sum-square", |row| risk(row).map(|r| between(r.rss)));
    lines.line("chance of one course more", |row| {
        risk(row).map(|r| chance(r.chance_extra_course))
    });
    lines.line("chance of a sliver", |row| {
        risk(row).map(|r| chance(r.chance_sliver))
    });
    let count = |row: &Row| row.totals().map(|t| t.boards.to_string());
    lines.line("boards", count);
    lines.line("money", |row| row.totals().map(|t| terms.money(t.cost)));
    if rows.len() > 1 {
        compared(&mut lines, &rows[best], terms);
    }
    lines.table
}

/// What each fastener costs more than the best.
fn compared(lines: &mut Lines, best: &Row, terms: &Terms) {
    let is_best = |row: &Row| row.forecast.fastener == best.forecast.fastener;
    let signed = |count: i64| match count {
        0 => "the same".to_string(),
        _ => format!("{count:+}"),
    };
    let more = |row: &Row, text: Option<String>| match is_best(row) {
        true => Some("the best".to_string()),
        false => text,
    };
    lines.line("courses against the best", |row| {
        more(row, Some(signed(against(row, best).courses)))
    });
    if against(best, best).boards.is_some() {
        lines.line("boards against the best", |row| {
            more(row, against(row, best).boards.map(signed))
        });
        lines.line("money against the best", |row| {
            let cost = against(row, best).cost;
            let differs = |cost: Money| match cost {
                Money::ZERO => "the same".to_string(),
                _ => cost.show_difference(&terms.currency),
            };
            more(row, cost.map(differs))
        });
    }
}

/// The smallest error of a gap that is looked at.
fn gap_step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_64ths(2),
        Unit::Millimetre => Length::from_mm(1),
    }
}

/// An interval of gaps to what can be set, rounded inwards so that what it says
/// is true; exact where nothing that can be set lies inside.
fn interval(holds: Holds, unit: Unit) -> String {
    let step = match unit {
        Unit::Inch => Length::UNITS_PER_INCH / 64,
        Unit::Millimetre => Length::UNITS_PER_MM / 10,
    };
    let show = |length| Printer::new(unit).to_64ths().show(length);
    let least = -(-holds.least.units()).div_euclid(step) * step;
    let Some(most) = holds.most else {
        return format!("{} and more", show(Length::from_units(least)));
    };
    let inner = most.units().div_euclid(step) * step;
    if inner >= least {
        let [least, most] = [least, inner].map(Length::from_units).map(show);
        return match least == most {
            true => least,
            false => format!("{least} to {most}"),
        };
    }
    match holds.least == most {
        true => most.exact(unit),
        false => format!("{} to {}", holds.least.exact(unit), most.exact(unit)),
    }
}

fn gaps_wrong(job: &Job, group: &[Row], terms: &Terms) -> Table {
    let mut lines = Lines {
        table: columns(job, group),
        group,
    };
    let errors = group.first().map_or(&[][..], |row| &row.forecast.gap_wrong);
    for (k, wrong) in errors.iter().enumerate() {
        let fine = Printer::new(job.unit).to_64ths().show(wrong.by.abs());
        let way = if wrong.by < Length::ZERO {
            "narrower"
        } else {
            "wider"
        };
        lines.line(&format!("{fine} {way}"), |row| {
            let wrong = row.forecast.gap_wrong.get(k)?;
            wrong.outcome.map(|outcome| brief(&outcome, terms))
        });
    }
    lines.table
}

/// An outcome in few words: `26, sliver 1-13/16 in`.
fn brief(outcome: &Outcome, terms: &Terms) -> String {
    let laid = outcome.laid;
    match (outcome.verdict, outcome.first_width.min(outcome.last_width)) {
        (Verdict::Full, _) => format!("{laid}, full"),
        (Verdict::Rip, Some(width)) => format!("{laid}, rip {}", terms.length(width)),
        (Verdict::Sliver, Some(width)) => format!("{laid}, sliver {}", terms.length(width)),
        _ => format!("{laid}, short {}", terms.length(outcome.short_by)),
    }
}

/// One sentence on what the figures mean for this deck.
fn meaning(job: &Job, rows: &[Row], best: usize, terms: &Terms) -> String {
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
    format!(
        "For this deck {} costs {} more than {}.",
        name(job, dearest),
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
    let same = format!(
        "For this deck every fastener takes {}",
        counted(row.forecast.outcome.laid.max(0) as u64, "course")
    );
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
    let outcome = &row.forecast.outcome;
    let step = gap_step(terms.unit);
    let gaps = row.forecast.sensitivity.gap;
    if gaps == 0 {
        return "For this deck the gap does not matter: there is one course.".to_string();
    }
    let fine = Printer::new(terms.unit).to_64ths().show(step);
    let said = format!(
        "For this deck a gap {fine} off is {} at the last edge",
        terms.length(step * gaps)
    );
    match (row.forecast.hangs_on_the_gap(), outcome.verdict) {
        (true, _) => format!("{said}, enough to change what comes out."),
        (false, _) => format!("{said}, and twice that changes neither count nor verdict."),
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
fn advice(job: &Job, rows: &[Row], page: &mut Page) {
    for row in rows {
        if let Boards::Planned(Err(problem)) = &row.boards {
            page.space();
            page.line(&format!("No board plan for {}: {problem}.", name(job, row)));
        }
    }
    const BOARDS: i64 = 10;
    let unmeasured: Vec<&Fastener> = rows
        .iter()
        .filter(|row| row.forecast.hangs_on_the_gap())
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
