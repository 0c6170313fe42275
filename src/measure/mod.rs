//! On the site, with a tape: where the courses are, where the last one will
//! fall, and what to set so that the deck ends as planned; whether courses run
//! parallel, and whether the frame is square. It knows readings of a tape, a
//! job's plan across the boards and its errors; boards along and money are left
//! to the plan.
//!
//! Readings count from the starting edge, where the layout marks have their
//! zero, to a course's far edge; one taken from there on to the frame's last edge
//! is turned round by the frame's size, and is off by what the frame is. Places and gaps are whole units; a pace is a
//! quotient rounded once, and only ranges and chances are floating numbers.

mod doubt;
mod finish;
mod pace;
mod parallel;
mod rest;
mod site;
mod square;
pub mod typed;

pub use doubt::{Doubt, End};
pub use finish::{Aim, Ending, Mark, Setting};
pub use pace::{Basis, Pace};
pub use parallel::{Parallel, SideOfCourses};
pub use rest::{Going, alike};
pub use square::{Misfit, Skew, Square};

use crate::caution::Caution;
use crate::courses::Outcome;
use crate::deck::Surface;
use crate::job::{Job, Tape, TapeReading};
use crate::length::Length;

use doubt::{Judged, judge};
use pace::Point;
use rest::Rest;
use site::Site;

/// What was measured, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Asked<'a> {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// The readings, by course; no course twice.
    pub readings: &'a [TapeReading],
    /// The frame's diagonals, if they were measured.
    pub diagonals: Option<[Length; 2]>,
    /// How exactly the tape is read, plus or minus.
    pub tape: Length,
    /// The steps in which a gap can be set; above zero.
    pub step: Length,
}

/// What the readings mean for the deck.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// How exactly the tape is read.
    pub tape: Length,
    /// How far all gaps are taken to be off alike; none where the job says how
    /// far boards or gaps may be.
    pub assumed: Option<Length>,
    /// The boards' face.
    pub face: Length,
    /// The gap set last.
    pub gap: Length,
    /// What was planned.
    pub planned: Outcome,
    /// Each reading beside the plan.
    pub readings: Vec<Beside>,
    /// The pace of the courses; none without a reading.
    pub pace: Option<Pace>,
    /// How the deck ends if nothing changes; none without a reading, or with
    /// nothing left to be laid.
    pub going: Option<Going>,
    /// What is left to the last edge, where nothing is left to be laid: below
    /// zero where the courses reach past it.
    pub left_open: Option<Length>,
    /// Ways to end.
    pub endings: Vec<Ending>,
    /// Whether courses run parallel; none where the last reading is of one end.
    pub parallel: Option<Parallel>,
    /// What the frame's diagonals are and say.
    pub square: Square,
    /// What a person should look at.
    pub cautions: Vec<Caution>,
}

/// A reading beside the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beside {
    /// As it was read.
    pub reading: TapeReading,
    /// Where the course's far edge was planned.
    pub planned: Length,
    /// How much further it is, halfway between both ends where both were read.
    pub off: Length,
    /// The distance of the courses so far: board and gap.
    pub pitch: Option<Length>,
}

/// Says what readings mean for a deck.
///
/// # Errors
/// When a reading cannot be.
///
/// # Panics
/// When the job has no such fastener.
pub fn measure(job: &Job, surface: &Surface, asked: &Asked<'_>) -> Result<Measured, Doubt> {
    let site = Site::new(job, surface, asked.fastener, asked.readings, asked.tape);
    let mut measured = Measured {
        fastener: asked.fastener,
        tape: asked.tape,
        assumed: site.assumed,
        face: site.across.face,
        gap: site.gap_now(asked.readings),
        planned: site.across.outcome(),
        readings: beside(&site, asked.readings),
        pace: None,
        going: None,
        left_open: None,
        endings: Vec::new(),
        parallel: None,
        square: square::square(job, asked.diagonals, asked.tape),
        cautions: doubts(&site, asked.readings)?,
    };
    let Some(last) = asked.readings.last() else {
        return Ok(measured);
    };
    let point = Point {
        after: i64::from(last.after),
        at: last.tape.middle(),
        readings: if last.tape.ends().is_some() { 2 } else { 1 },
        frame: site.frame_in(last.tape),
    };
    let pace = Pace::of(&site, point);
    let gap = measured.gap;
    let rest = Rest::of(&site, &pace, gap);
    measured.pace = Some(pace);
    if rest.is_done() {
        measured.left_open = Some(site.across.width - point.at);
        return Ok(measured);
    }
    let going = rest.going(&site, &pace);
    measured.going = Some(going);
    measured.endings = finish::endings(&site, &pace, gap, asked.step);
    measured.parallel = last.tape.ends().map(|ends| {
        parallel::parallel(
            &site,
            point.after,
            ends,
            gap,
            going.outcome.laid,
            asked.step,
        )
    });
    measured
        .cautions
        .extend(count_changes(&measured.planned, &going.outcome));
    let thin = measured
        .parallel
        .as_ref()
        .and_then(|p| p.thin(&site, &going));
    measured.cautions.extend(thin);
    Ok(measured)
}

/// Each reading beside the plan.
fn beside(site: &Site<'_>, readings: &[TapeReading]) -> Vec<Beside> {
    let beside = |reading: &TapeReading| {
        let after = i64::from(reading.after);
        let planned = site.planned(after);
        let at = reading.tape.middle();
        // The first course may be a ripped one.
        let first = site.width(1);
        let pitches = after - 1;
        Beside {
            reading: *reading,
            planned,
            off: at - planned,
            pitch: (pitches > 0).then(|| Length::from_units((at - first).units() / pitches)),
        }
    };
    readings.iter().map(beside).collect()
}

/// Judges every reading by the one before it; cautions of those that may be.
fn doubts(site: &Site<'_>, readings: &[TapeReading]) -> Result<Vec<Caution>, Doubt> {
    let mut cautions = Vec::new();
    let mut before: Option<&TapeReading> = None;
    for reading in readings {
        let lines: &[End] = match reading.tape {
            Tape::Once(_) | Tape::ToFar { .. } => &[End::Once],
            Tape::Ends { .. } => &[End::Left, End::Right],
        };
        for &end in lines {
            let point = |reading: &TapeReading| Point {
                after: i64::from(reading.after),
                at: at_end(reading.tape, end),
                readings: 1,
                frame: site.frame_in(reading.tape),
            };
            match judge(site, before.map(point), point(reading)) {
                Judged::Sound => {}
                Judged::Odd(caution) => cautions.push(caution),
                Judged::Wrong { message, help } => {
                    let message = match reading.tape {
                        Tape::ToFar { left_over, .. } => format!(
                            "with {} left to the frame's last edge, {message}",
                            left_over.show(site.job.unit)
                        ),
                        _ => message,
                    };
                    return Err(Doubt {
                        after: reading.after,
                        end,
                        message,
                        help,
                    });
                }
            }
        }
        before = Some(reading);
    }
    Ok(cautions)
}

/// What the tape said at an end, or once for both.
fn at_end(tape: Tape, end: End) -> Length {
    match (tape, end) {
        (Tape::Ends { left, .. }, End::Left) => left,
        (Tape::Ends { right, .. }, End::Right) => right,
        (tape, _) => tape.middle(),
    }
}

/// A caution where more or fewer courses come out than were planned.
fn count_changes(planned: &Outcome, going: &Outcome) -> Option<Caution> {
    let by = going.laid - planned.laid;
    let (more, help) = match by {
        0 => return None,
        1.. => (
            "more",
            "the boards were ordered for fewer: see how many are left",
        ),
        _ => ("fewer", "its last board, or its rip, is then not wanted"),
    };
    let courses = match by.abs() {
        1 => "one course".to_owned(),
        n => format!("{n} courses"),
    };
    Some(Caution::new(
        format!(
            "at this pace there are {} courses, {courses} {more} than planned",
            going.laid
        ),
        help,
    ))
}
