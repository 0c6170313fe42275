//! What was measured, for people: how the deck ends, readings and pace, what to
//! set from here on, whether courses run parallel and the frame is square.

use super::figures;
use super::words::{aim, answer, best, fine, settings};
use crate::job::{FastenerKind, Job};
use crate::length::Length;
use crate::measure::{Ending, Measured, Parallel, SideOfCourses, Skew, Square};
use crate::report::terms::counted;
use crate::report::{Page, Terms};

/// What was measured on a page.
pub fn text(job: &Job, measured: &Measured, terms: &Terms, page: &mut Page) {
    page.answer(&answer(job, measured, terms));
    let fastener = &job.fasteners[measured.fastener];
    page.line(&format!(
        "{}: laid with {} at a gap of {}, tape read to {}.",
        job.title,
        fastener.name,
        fine(fastener.gap.set, terms.unit),
        terms.length(measured.tape)
    ));
    if !measured.readings.is_empty() {
        page.space();
        page.table(&figures::readings(measured, terms));
    }
    if let Some(pace) = &measured.pace {
        page.space();
        page.table(&figures::pace(job, measured, pace, terms));
    }
    if !measured.endings.is_empty() {
        page.heading("The gap from here on");
        page.table(&figures::endings(job, measured, terms));
        unsettable(job, measured, page);
    }
    if let Some(ending) = best(measured).filter(|ending| ending.possible) {
        page.heading(&format!(
            "Where the next courses then fall, to end {}",
            aim(ending)
        ));
        page.table(&figures::marks(ending, terms));
    }
    if let Some(parallel) = &measured.parallel {
        page.space();
        across(parallel, terms, page);
    }
    // Where nothing was measured the answer has said it.
    if !measured.readings.is_empty() || measured.square.measured.is_some() {
        page.space();
        square(&measured.square, terms, page);
    }
    page.cautions(&measured.cautions);
}

/// What to do where the job gives a gap no range.
fn unsettable(job: &Job, measured: &Measured, page: &mut Page) {
    let none = measured.endings.iter().all(|ending| !ending.possible);
    let fixed =
        |ending: &&Ending| !job.fasteners[ending.fastener].gap.is_free() && !ending.possible;
    let Some(ending) = measured.endings.iter().find(fixed).filter(|_| none) else {
        return;
    };
    let fastener = &job.fasteners[ending.fastener];
    page.space();
    page.line(&match fastener.kind {
        FastenerKind::Clip => format!(
            "{} leaves the gap it leaves; where gaps can be set, such as with spacers, the job says so: \
             `gap = {{ set, least, most }}`.",
            fastener.name
        ),
        FastenerKind::Face => format!(
            "If the gap of {} can be set, the job says how far: `gap = {{ set, least, most }}`.",
            fastener.name
        ),
    });
}

/// How courses run that were measured at both ends.
fn across(parallel: &Parallel, terms: &Terms, page: &mut Page) {
    let Parallel {
        off,
        over,
        left,
        right,
        gaps,
        each,
    } = parallel;
    if *off == Length::ZERO {
        page.line("The courses run parallel: both ends are alike.");
        return;
    }
    let (ahead, behind) = match off.is_negative() {
        true => ("left", "right"),
        false => ("right", "left"),
    };
    page.line(&format!(
        "Out of parallel by {} over {}: the {ahead} end is ahead.",
        terms.length(off.abs()),
        terms.length(*over)
    ));
    let width = |side: &SideOfCourses| match side.short_by {
        Length::ZERO => terms.length(side.last_width),
        short => format!(
            "{} and {} short",
            terms.length(side.last_width),
            terms.length(short)
        ),
    };
    page.line(&format!(
        "If nothing changes the last course is {} wide at the left and {} at the right.",
        width(left),
        width(right)
    ));
    if *gaps == 0 {
        return;
    }
    let (wider, by) = match each.is_negative() {
        true => ("right", -*each),
        false => ("left", *each),
    };
    let taken = format!(
        "To take it out over {}, leave each {} wider at the {wider} end",
        counted(gaps.unsigned_abs(), "gap"),
        fine(by, terms.unit)
    );
    let set = |side: &SideOfCourses| {
        let ending = side.ending.as_ref().filter(|ending| ending.possible);
        ending.map(|ending| settings(&ending.settings, terms))
    };
    page.line(&match (set(left), set(right)) {
        (Some(left), Some(right)) => format!("{taken}: {left} at the left, {right} at the right."),
        _ => format!(
            "{taken}; the fastener's range does not go that far, so shave or rip the last course \
             to a taper, or bring the {behind} end up by other means."
        ),
    });
}

/// What the frame's diagonals are and say.
fn square(square: &Square, terms: &Terms, page: &mut Page) {
    page.line(&format!(
        "Square, both diagonals of the frame are {}.",
        terms.length(square.on_tape)
    ));
    if let Some(skew) = &square.measured {
        measured(skew, terms, page);
    }
}

fn measured(skew: &Skew, terms: &Terms, page: &mut Page) {
    let [first, second] = skew.diagonals;
    if let Some(misfit) = &skew.misfit {
        page.line(&format!(
            "Measured they are {} and {}, on average {} too {} for the job's sides: a diagonal was \
             misread, or the frame is not as large as the job says.",
            terms.length(first),
            terms.length(second),
            terms.length(misfit.by.abs()),
            if misfit.by.is_negative() {
                "short"
            } else {
                "long"
            }
        ));
        let other = |name: &str, right: Length, other: Option<Length>| {
            other.map(|other| {
                format!(
                    "If {} is right, the {name} one is {}.",
                    terms.length(right),
                    terms.length(other)
                )
            })
        };
        let both = [
            other("second", first, misfit.second),
            other("first", second, misfit.first),
        ];
        for line in both.into_iter().flatten() {
            page.line(&line);
        }
        page.line("Measure the sides and both diagonals again.");
        return;
    }
    if skew.across == Length::ZERO {
        page.line("Measured they are alike: the frame is square.");
        return;
    }
    let to = match skew.across.is_negative() {
        true => "left",
        false => "right",
    };
    page.line(&format!(
        "Measured they differ by {}: the last edge lies {} too far to the {to} over the frame's \
         size across, which is {} over its size along.",
        terms.length((first - second).abs()),
        fine(skew.across.abs(), terms.unit),
        fine(skew.along.abs(), terms.unit),
    ));
    page.line(match skew.accepted {
        true => {
            "That is within what is usually accepted, half an inch on the third side of a \
             triangle of 12 and 16 ft (a standard for remodelers, as others quote it)."
        }
        false => {
            "That is more than is usually accepted, half an inch on the third side of a \
             triangle of 12 and 16 ft (a standard for remodelers, as others quote it)."
        }
    });
}
