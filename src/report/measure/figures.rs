//! The figures of what was measured: readings beside the plan, the pace and
//! what it leads to, ways to end, and the marks of the next courses.

use super::words::{brief, decimal, fine, settings};
use crate::job::Job;
use crate::length::Length;
use crate::measure::{Aim, Basis, Ending, Going, Measured, Pace};
use crate::report::terms::chance;
use crate::report::{Column, Table, Terms};

/// Readings beside the plan.
pub fn readings(measured: &Measured, terms: &Terms) -> Table {
    let heads = ["after", "tape", "left", "right", "planned", "off", "pitch"];
    let mut table = Table::new(heads.map(|head| match head {
        "after" => Column::right(head),
        _ => Column::length(head),
    }));
    for beside in &measured.readings {
        let tape = beside.reading.tape;
        let ends = tape.ends().map(|ends| ends.map(|end| terms.length(end)));
        let once = ends.is_none().then(|| terms.length(tape.middle()));
        let [left, right] = ends.unwrap_or_default();
        table.row([
            beside.reading.after.to_string(),
            once.unwrap_or_default(),
            left,
            right,
            terms.length(beside.planned),
            signed(beside.off, terms),
            beside
                .pitch
                .map(|p| fine(p, terms.unit))
                .unwrap_or_default(),
        ]);
    }
    table
}

/// A length with its sign, also above zero.
fn signed(length: Length, terms: &Terms) -> String {
    let shown = terms.length(length.abs());
    let (mark, shown) = match shown.strip_prefix("≈ ") {
        Some(rest) => ("≈ ", rest),
        None => ("", shown.as_str()),
    };
    match length.units().signum() {
        0 => shown.to_owned(),
        1 => format!("{mark}+{shown}"),
        _ => format!("{mark}-{shown}"),
    }
}

/// The pace, and what it leads to.
pub fn pace(job: &Job, measured: &Measured, pace: &Pace, terms: &Terms) -> Table {
    let unit = terms.unit;
    let mut table = Table::new([Column::left(""), Column::left("")]);
    let planned = measured.face + job.fasteners[measured.fastener].gap.set;
    let gap = measured.gap + pace.drift;
    table.row([
        "pitch, board and gap".to_owned(),
        format!(
            "{}, ± {}; {} planned",
            fine(measured.face + gap, unit),
            decimal(pace.within, unit),
            fine(planned, unit)
        ),
    ]);
    table.row([
        "the gap that makes of it".to_owned(),
        format!(
            "{}, if boards are {}",
            fine(gap, unit),
            terms.length(measured.face)
        ),
    ]);
    let basis = match (pace.basis, measured.assumed) {
        (Basis::Plan, _) => "the job: no gap was measured yet".to_owned(),
        (Basis::Weighed, None) => "the reading, weighed against the job's uncertainty".to_owned(),
        (Basis::Weighed, Some(gap)) => {
            format!("the reading, weighed against gaps {} off", fine(gap, unit))
        }
        (Basis::Beyond, _) => "the reading alone, beyond all tolerances".to_owned(),
    };
    table.row(["that rests on", &basis]);
    table.row(["planned", &brief(&measured.planned, job, terms)]);
    if let Some(going) = &measured.going {
        ahead(&mut table, job, going, terms);
    }
    table
}

fn ahead(table: &mut Table, job: &Job, going: &Going, terms: &Terms) {
    let brief = |outcome| brief(outcome, job, terms);
    table.row(["if nothing changes", &brief(&going.outcome)]);
    let [narrow, wide] = &going.between;
    table.row([
        "that may be".to_owned(),
        match brief(narrow) == brief(wide) {
            true => brief(narrow),
            false => format!("from {} to {}", brief(narrow), brief(wide)),
        },
    ]);
    let [narrow, wide] = &going.at_worst;
    table.row([
        "at worst".to_owned(),
        match brief(narrow) == brief(wide) {
            true => brief(narrow),
            false => format!("from {} to {}", brief(narrow), brief(wide)),
        },
    ]);
    table.row(["chance of more courses", &chance(going.chance_more)]);
    table.row(["chance of fewer courses", &chance(going.chance_fewer)]);
    table.row(["chance of a sliver", &chance(going.chance_sliver)]);
}

/// What to set from here on.
pub fn endings(job: &Job, measured: &Measured, terms: &Terms) -> Table {
    let mut table = Table::new([
        Column::left("to end"),
        Column::left("gap"),
        Column::left("set").wrapping(),
        Column::left("comes out").wrapping(),
    ]);
    for ending in &measured.endings {
        let aim = match ending.aim {
            Aim::Planned => "as planned".to_owned(),
            Aim::Whole => format!("whole, with {}", ending.courses),
        };
        let brief = brief(&ending.outcome, job, terms);
        let fixed = !job.fasteners[ending.fastener].gap.is_free();
        table.row([
            aim,
            fine(ending.gap, terms.unit),
            how(job, ending, terms),
            match ending.possible {
                true => brief,
                false if fixed => String::new(),
                false => format!("at best {brief}"),
            },
        ]);
    }
    table
}

/// How an ending is set, or why it cannot be.
fn how(job: &Job, ending: &Ending, terms: &Terms) -> String {
    let fastener = &job.fasteners[ending.fastener];
    let set = settings(&ending.settings, terms);
    let overhang = match ending.overhang {
        Some(to) => format!("; or last overhang {}", terms.length(to)),
        None => String::new(),
    };
    let set = match (ending.possible, fastener.gap.is_free()) {
        (true, _) => set,
        (false, true) => format!(
            "not within {} to {}",
            fine(fastener.gap.least, terms.unit),
            fine(fastener.gap.most, terms.unit)
        ),
        (false, false) => format!("{} leaves {set}", fastener.name),
    };
    format!("{set}{overhang}")
}

/// Where the next courses fall: the next few and the last.
pub fn marks(ending: &Ending, terms: &Terms) -> Table {
    const NEXT: usize = 6;
    let mut table = Table::new([Column::right("course"), Column::length("far edge")]);
    let last = ending.marks.len().saturating_sub(1);
    for (k, mark) in ending.marks.iter().enumerate() {
        if k < NEXT || k == last {
            table.row([mark.course.to_string(), terms.length(mark.at)]);
        }
    }
    table
}
