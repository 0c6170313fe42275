//! The figures of fasteners side by side: one table of what comes out, and one
//! of what comes out with a wrong gap.

use super::compare::{Row, against};
use super::movement::{gap_in_service, gap_to_set};
use super::text::name;
use crate::courses::{Holds, Outcome, Verdict};
use crate::job::Job;
use crate::length::{Length, Printer, Unit};
use crate::money::Money;
use crate::movement::drying;
use crate::report::json::verdict;
use crate::report::terms::chance;
use crate::report::{Column, Table, Terms};

/// Fasteners that find room beside each other, group by group.
pub(super) fn side_by_side<'a>(job: &Job, rows: &'a [Row], width: usize) -> Vec<&'a [Row]> {
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

pub(super) fn figures(job: &Job, group: &[Row], rows: &[Row], best: usize, terms: &Terms) -> Table {
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
    if let Some(drying) = drying(job) {
        lines.line("gap in service", |row| {
            Some(gap_in_service(job, &drying, row.forecast.across.gap))
        });
        if let Some(wanted) = drying.wood.gap_service {
            let label = format!("set now for {} then", fine(wanted));
            lines.line(&label, |_| gap_to_set(job, &drying));
        }
        lines.line("last course in service", |row| {
            outcome(row).last_width.map(|last| fine(drying.width(last)))
        });
    }
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
pub(super) fn gap_step(unit: Unit) -> Length {
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

pub(super) fn gaps_wrong(job: &Job, group: &[Row], terms: &Terms) -> Table {
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
pub fn brief(outcome: &Outcome, terms: &Terms) -> String {
    let laid = outcome.laid;
    match (outcome.verdict, outcome.first_width.min(outcome.last_width)) {
        (Verdict::Full, _) => format!("{laid}, full"),
        (Verdict::Rip, Some(width)) => format!("{laid}, rip {}", terms.length(width)),
        (Verdict::Sliver, Some(width)) => format!("{laid}, sliver {}", terms.length(width)),
        _ => format!("{laid}, short {}", terms.length(outcome.short_by)),
    }
}
