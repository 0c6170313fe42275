//! What readings mean in words: where the last course falls, how far the
//! courses have run, and how gaps are set.

use crate::courses::{Outcome, Verdict};
use crate::job::Job;
use crate::length::{Length, Printer, Unit};
use crate::measure::{Aim, Ending, Measured, Setting, alike};
use crate::report::Terms;
use crate::report::terms::counted;

/// What becomes of the last course.
enum Last {
    Whole,
    /// Whole, and so much short of its edge.
    Short(Length),
    Sliver(Length),
    Rip(Length),
}

fn last(outcome: &Outcome, job: &Job) -> Last {
    // Less than can be set is nothing.
    let some = |length: Length| length * 2 > job.unit.setting();
    let width = outcome.last_width.unwrap_or_default();
    if some(outcome.short_by) {
        Last::Short(outcome.short_by)
    } else if !some(job.board.face - width) {
        Last::Whole
    } else if width < job.board.narrowest_rip {
        Last::Sliver(width)
    } else {
        Last::Rip(width)
    }
}

/// How the courses end, of the last one: `course 28 is the last, ripped to 4 in`.
pub fn ends(outcome: &Outcome, job: &Job, terms: &Terms) -> String {
    let at = |length| terms.length(length);
    let what = match last(outcome, job) {
        Last::Whole => "and whole".to_owned(),
        Last::Short(by) => format!("whole and {} short of its edge", at(by)),
        Last::Sliver(width) => format!("a sliver of {}", at(width)),
        Last::Rip(width) => format!("ripped to {}", at(width)),
    };
    format!("course {} is the last, {what}", outcome.laid)
}

/// The same in few words for a table: `28, rip 4 in`.
pub fn brief(outcome: &Outcome, job: &Job, terms: &Terms) -> String {
    let at = |length| terms.length(length);
    let what = match last(outcome, job) {
        Last::Whole => "full".to_owned(),
        Last::Short(by) => format!("short {}", at(by)),
        Last::Sliver(width) => format!("sliver {}", at(width)),
        Last::Rip(width) => format!("rip {}", at(width)),
    };
    format!("{}, {what}", outcome.laid)
}

/// The answer, in a sentence a builder could say.
pub fn answer(job: &Job, measured: &Measured, terms: &Terms) -> String {
    let (Some(beside), Some(_)) = (measured.readings.last(), measured.pace) else {
        return nothing_yet(measured, terms);
    };
    let after = beside.reading.after;
    let near = |length: Length| length.abs() <= measured.tape;
    let ran = match beside.off {
        off if near(off) => "the courses are where they should be".to_owned(),
        off => format!(
            "the courses have run {} {}",
            terms.length(off.abs()),
            match off.is_negative() {
                true => "narrow",
                false => "wide",
            }
        ),
    };
    if let Some(open) = measured.left_open {
        let left = match open {
            open if near(open) => "ends at its edge".to_owned(),
            open if open.is_negative() => {
                format!("reaches {} past its edge", terms.length(open.abs()))
            }
            open => format!("ends {} short of its edge", terms.length(open)),
        };
        return format!("Course {after} is the last, and {left}.");
    }
    let Some(going) = &measured.going else {
        return format!("After course {after} {ran}.");
    };
    let ends = ends(&going.outcome, job, terms);
    if alike(&going.outcome, &measured.planned, measured.tape) {
        let and = if near(beside.off) { "and" } else { "but" };
        return format!("After course {after} {ran}, {and} it ends as planned: {ends}.");
    }
    let as_is = |ending: &Ending| ending.settings.iter().all(|s| s.gap == measured.gap);
    let way_out = match best(measured) {
        Some(ending) if ending.possible && as_is(ending) => String::new(),
        Some(ending) if ending.possible => match &ending.settings[..] {
            [first, second] => format!(
                "; with {} of {} and {} after that it ends {}",
                counted(first.gaps.unsigned_abs(), "gap"),
                fine(first.gap, terms.unit),
                fine(second.gap, terms.unit),
                aim(ending)
            ),
            settings => format!(
                "; with gaps of {} from here on it ends {}",
                self::settings(settings, terms),
                aim(ending)
            ),
        },
        Some(Ending {
            aim: Aim::Planned,
            overhang: Some(to),
            ..
        }) => format!(
            "; with the last overhang at {} it ends as planned",
            terms.length(*to)
        ),
        _ => String::new(),
    };
    format!("After course {after} {ran}: if nothing changes, {ends}{way_out}.")
}

/// The answer where nothing was measured but perhaps the frame.
fn nothing_yet(measured: &Measured, terms: &Terms) -> String {
    let square = &measured.square;
    let Some(skew) = &square.measured else {
        return format!(
            "Both diagonals of a square frame are {}; no course was measured yet.",
            terms.length(square.diagonal)
        );
    };
    if skew.misfit.is_some() {
        return "These diagonals are of no frame with the job's sides.".to_owned();
    }
    match skew.across {
        Length::ZERO => "The frame is square.".to_owned(),
        across => format!(
            "The frame is {} out of square.",
            fine(across.abs(), terms.unit)
        ),
    }
}

/// The ending to recommend: as planned where that is possible and no sliver,
/// else a whole course where that is possible.
pub fn best(measured: &Measured) -> Option<&Ending> {
    let sliver = measured.planned.verdict == Verdict::Sliver;
    let possible = |aim: Aim| {
        let mut endings = measured.endings.iter();
        endings.find(|ending| ending.aim == aim && ending.possible)
    };
    let (first, second) = match sliver {
        true => (Aim::Whole, Aim::Planned),
        false => (Aim::Planned, Aim::Whole),
    };
    possible(first)
        .or_else(|| possible(second))
        .or_else(|| measured.endings.first())
}

/// How an ending ends: `as planned`.
pub fn aim(ending: &Ending) -> String {
    match ending.aim {
        Aim::Planned => "as planned".to_owned(),
        Aim::Whole => format!("whole, with {} courses", ending.courses),
    }
}

/// Gaps one after the other: `11/64 in 12 times, then 3/16 in`.
pub fn settings(settings: &[Setting], terms: &Terms) -> String {
    let mut words = Vec::new();
    for (k, setting) in settings.iter().enumerate() {
        let gap = fine(setting.gap, terms.unit);
        words.push(match k + 1 < settings.len() {
            true => {
                let times = counted(setting.gaps.unsigned_abs(), "time");
                format!("{gap} {times}")
            }
            false => gap,
        });
    }
    words.join(", then ")
}

/// A length to 1/64 in or a tenth of a millimetre.
pub fn fine(length: Length, unit: Unit) -> String {
    Printer::new(unit).to_64ths().show(length)
}

/// A small length as a decimal, which no tape shows: `0.007 in`.
pub fn decimal(length: Length, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{:.3} in", length.inches()),
        Unit::Millimetre => format!("{:.2} mm", length.mm()),
    }
}
