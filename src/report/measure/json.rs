//! What was measured, for programs. The keys are stable; new ones may be added.

use schemars::JsonSchema;
use serde::Serialize;

use crate::courses::Outcome;
use crate::job::{Job, Tape};
use crate::length::{Length, Unit};
use crate::measure::{
    Aim, Basis, Ending, Going, Measured, Pace, Parallel, Setting, SideOfCourses, Square,
};
use crate::report::json::{Answer, Measure, Warning, verdict};

/// Where the courses are, and where the last one will fall.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MeasureAnswer {
    /// The fastener.
    fastener: String,
    /// The gap set last.
    gap: Measure,
    /// How exactly the tape is read, plus or minus.
    tape: Measure,
    /// How far all gaps are taken to be off alike; null where the job says how far boards or gaps
    /// may be.
    assumed: Option<Measure>,
    /// What was planned.
    planned: End,
    /// The readings beside the plan, by course.
    readings: Vec<OneReading>,
    /// At which pace the courses come out; null without a reading.
    pace: Option<ThePace>,
    /// How the deck ends if nothing changes; null without a reading, and with nothing left to lay.
    going: Option<TheGoing>,
    /// What is left to the last edge where nothing is left to lay, below 0 past it; else null.
    left_open: Option<Measure>,
    /// Ways to end.
    endings: Vec<OneEnding>,
    /// Whether courses run parallel; null where the last reading is of one end.
    parallel: Option<TheParallel>,
    /// Whether the frame is square.
    square: TheSquare,
    /// What a person should look at.
    cautions: Vec<Warning>,
}

/// How courses end.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct End {
    /// The courses laid.
    courses: i64,
    /// Width of the last course laid.
    last_width: Option<Measure>,
    /// How far the courses end short of the last edge.
    short_by: Measure,
    /// `full`, `short`, `sliver` or `rip`.
    verdict: &'static str,
}

/// A reading beside the plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneReading {
    /// The course it was taken after.
    after: u32,
    /// From the starting edge to its far edge, halfway between the ends where both were read.
    at: Measure,
    /// What the tape said to the frame's last edge, where it was read there; else null.
    to_far: Option<Measure>,
    /// The same at the left end; null where one reading was taken.
    left: Option<Measure>,
    /// The same at the right end.
    right: Option<Measure>,
    /// The gap set since the reading before; null where it is the fastener's.
    gap: Option<Measure>,
    /// Where the far edge was planned.
    planned: Measure,
    /// How much further it is.
    off: Measure,
    /// The distance of the courses so far, board and gap; null after the first course.
    pitch: Option<Measure>,
}

/// At which pace courses come out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct ThePace {
    /// Board and gap as they come out.
    pitch: Measure,
    /// How far that may be off, plus or minus.
    within: Measure,
    /// The gap that makes of boards as wide as the job has them.
    gap: Measure,
    /// What each pitch is wider than board and gap as set.
    drift: Measure,
    /// How far the last reading is from board and gap as set.
    off: Measure,
    /// How far it might be by the job's tolerances and the tape's.
    allowed: Measure,
    /// What the pitch rests on: `plan` (no gap was measured yet), `weighed` (the reading, against
    /// what may be off alike) or `beyond` (the reading alone, which is off further than that).
    basis: &'static str,
}

/// How the deck ends if nothing changes.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct TheGoing {
    /// What comes out.
    end: End,
    /// The same with the last course as narrow, and as wide, as it may yet come out.
    between: [End; 2],
    /// How far the last course's width may be off, half the root-sum-square.
    spread: Measure,
    /// What comes out with every error at its limit, narrow and wide.
    at_worst: [End; 2],
    /// How far the last course's width may then be off.
    worst: Measure,
    /// The chance that more courses are wanted than planned.
    chance_more: f64,
    /// The chance that fewer are.
    chance_fewer: f64,
    /// The chance that a course comes out narrower than the narrowest rip.
    chance_sliver: f64,
}

/// A way to end.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneEnding {
    /// `planned`, or `whole`: a whole last course that ends at the edge.
    aim: &'static str,
    /// The last course.
    courses: i64,
    /// The fastener whose gaps are set.
    fastener: String,
    /// The gap to set from here on, rounded down to 1/8 µm.
    gap: Measure,
    /// Whether the fastener's range allows it.
    possible: bool,
    /// How to set it in steps, one after the other; as near as can be where it is not possible.
    settings: Vec<OneSetting>,
    /// What then comes out.
    end: End,
    /// The overhang of the last edge that does it with the gaps left as they are; null where its
    /// range does not allow that.
    overhang: Option<Measure>,
    /// Where the next courses then fall; empty where it is not possible.
    marks: Vec<OneMark>,
}

/// So many gaps set to the same.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneSetting {
    /// The gap to set.
    gap: Measure,
    /// For how many gaps.
    gaps: i64,
}

/// Where a course falls.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneMark {
    /// The course.
    course: i64,
    /// Its far edge from the starting edge.
    at: Measure,
}

/// Whether courses run parallel.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct TheParallel {
    /// How much further the right end is than the left one.
    off: Measure,
    /// Over this length.
    over: Measure,
    /// Gaps left until the last course as planned.
    gaps: i64,
    /// How much wider each of them is to be at the left end than at the right one.
    each: Measure,
    /// The left end.
    left: OneSide,
    /// The right end.
    right: OneSide,
}

/// One end of the courses.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct OneSide {
    /// What the tape said.
    at: Measure,
    /// What each pitch is wider here than board and gap as set.
    drift: Measure,
    /// Width of the last course here if nothing changes; 0 where nothing is left of it.
    last_width: Measure,
    /// How far it then ends short of the edge.
    short_by: Measure,
    /// The gap to set here to end as planned; null where nothing is left to lay.
    gap: Option<Measure>,
    /// Whether the fastener's range allows it.
    possible: bool,
    /// How to set it in steps.
    settings: Vec<OneSetting>,
}

/// Whether the frame is square.
#[derive(Debug, Clone, Serialize, JsonSchema)]
struct TheSquare {
    /// Both diagonals of the square frame, to 1/8 µm.
    diagonal: Measure,
    /// The same to the nearest 1/16 in or millimetre.
    on_tape: Measure,
    /// Both diagonals as measured: from the first edge's left end to the last edge's right end,
    /// then the other; null where none were.
    measured: Option<[Measure; 2]>,
    /// How far the last edge lies too far to the right of the first one, to the left below 0: over
    /// the frame's size across.
    across: Option<Measure>,
    /// The same over its size along.
    along: Option<Measure>,
    /// Whether a frame with the job's sides can have these diagonals.
    fits: Option<bool>,
    /// What the two are too long as their root mean square, where they do not fit; else null.
    too_long: Option<Measure>,
    /// What the second would then be if the first is right; null where there is no such frame.
    second: Option<Measure>,
    /// What the first would be if the second is right.
    first: Option<Measure>,
    /// Whether it is within half an inch on the third side of a triangle of 12 and 16 ft.
    accepted: Option<bool>,
}

/// What was measured as a JSON answer.
pub fn json(job: &Job, measured: &Measured) -> Answer<MeasureAnswer> {
    let unit = job.unit;
    let at = |length: Length| Measure::new(length, unit);
    let body = MeasureAnswer {
        fastener: job.fasteners[measured.fastener].name.clone(),
        gap: at(measured.gap),
        tape: at(measured.tape),
        assumed: measured.assumed.map(at),
        planned: end(&measured.planned, unit),
        readings: readings(measured, unit),
        pace: measured.pace.as_ref().map(|p| pace(measured, p, unit)),
        going: measured.going.as_ref().map(|g| going(g, unit)),
        left_open: measured.left_open.map(at),
        endings: measured.endings.iter().map(|e| ending(job, e)).collect(),
        parallel: measured.parallel.as_ref().map(|p| parallel(p, unit)),
        square: square(&measured.square, unit),
        cautions: Warning::list(&measured.cautions),
    };
    Answer::new("measure", unit, body)
}

fn end(outcome: &Outcome, unit: Unit) -> End {
    End {
        courses: outcome.laid,
        last_width: outcome.last_width.map(|width| Measure::new(width, unit)),
        short_by: Measure::new(outcome.short_by, unit),
        verdict: verdict(outcome.verdict),
    }
}

fn readings(measured: &Measured, unit: Unit) -> Vec<OneReading> {
    let at = |length: Length| Measure::new(length, unit);
    let readings = measured.readings.iter().map(|beside| {
        let ends = beside.reading.tape.ends();
        OneReading {
            after: beside.reading.after,
            at: at(beside.reading.tape.middle()),
            to_far: match beside.reading.tape {
                Tape::ToFar { left_over, .. } => Some(at(left_over)),
                _ => None,
            },
            left: ends.map(|[left, _]| at(left)),
            right: ends.map(|[_, right]| at(right)),
            gap: beside.reading.gap.map(at),
            planned: at(beside.planned),
            off: at(beside.off),
            pitch: beside.pitch.map(at),
        }
    });
    readings.collect()
}

fn pace(measured: &Measured, pace: &Pace, unit: Unit) -> ThePace {
    let at = |length: Length| Measure::new(length, unit);
    let gap = measured.gap + pace.drift;
    ThePace {
        pitch: at(measured.face + gap),
        within: at(pace.within),
        gap: at(gap),
        drift: at(pace.drift),
        off: at(pace.off),
        allowed: at(pace.allowed),
        basis: match pace.basis {
            Basis::Plan => "plan",
            Basis::Weighed => "weighed",
            Basis::Beyond => "beyond",
        },
    }
}

fn going(going: &Going, unit: Unit) -> TheGoing {
    TheGoing {
        end: end(&going.outcome, unit),
        between: [&going.between[0], &going.between[1]].map(|outcome| end(outcome, unit)),
        spread: Measure::new(going.spread, unit),
        at_worst: [&going.at_worst[0], &going.at_worst[1]].map(|outcome| end(outcome, unit)),
        worst: Measure::new(going.worst, unit),
        chance_more: going.chance_more,
        chance_fewer: going.chance_fewer,
        chance_sliver: going.chance_sliver,
    }
}

fn settings(settings: &[Setting], unit: Unit) -> Vec<OneSetting> {
    let settings = settings.iter().map(|setting| OneSetting {
        gap: Measure::new(setting.gap, unit),
        gaps: setting.gaps,
    });
    settings.collect()
}

fn ending(job: &Job, ending: &Ending) -> OneEnding {
    let at = |length: Length| Measure::new(length, job.unit);
    let marks = ending.marks.iter().map(|mark| OneMark {
        course: mark.course,
        at: at(mark.at),
    });
    OneEnding {
        aim: match ending.aim {
            Aim::Planned => "planned",
            Aim::Whole => "whole",
        },
        courses: ending.courses,
        fastener: job.fasteners[ending.fastener].name.clone(),
        gap: at(ending.gap),
        possible: ending.possible,
        settings: settings(&ending.settings, job.unit),
        end: end(&ending.outcome, job.unit),
        overhang: ending.overhang.map(at),
        marks: marks.collect(),
    }
}

fn parallel(parallel: &Parallel, unit: Unit) -> TheParallel {
    let at = |length: Length| Measure::new(length, unit);
    let side = |side: &SideOfCourses| {
        let ending = side.ending.as_ref();
        OneSide {
            at: at(side.at),
            drift: at(side.pace.drift),
            last_width: at(side.last_width),
            short_by: at(side.short_by),
            gap: ending.map(|ending| at(ending.gap)),
            possible: ending.is_some_and(|ending| ending.possible),
            settings: ending.map_or(Vec::new(), |ending| settings(&ending.settings, unit)),
        }
    };
    TheParallel {
        off: at(parallel.off),
        over: at(parallel.over),
        gaps: parallel.gaps,
        each: at(parallel.each),
        left: side(&parallel.left),
        right: side(&parallel.right),
    }
}

fn square(square: &Square, unit: Unit) -> TheSquare {
    let at = |length: Length| Measure::new(length, unit);
    let skew = square.measured.as_ref();
    let misfit = skew.and_then(|skew| skew.misfit);
    TheSquare {
        diagonal: at(square.diagonal),
        on_tape: at(square.on_tape),
        measured: skew.map(|skew| skew.diagonals.map(at)),
        across: skew.map(|skew| at(skew.across)),
        along: skew.map(|skew| at(skew.along)),
        fits: skew.map(|skew| skew.misfit.is_none()),
        too_long: misfit.map(|misfit| at(misfit.by)),
        second: misfit.and_then(|misfit| misfit.second).map(at),
        first: misfit.and_then(|misfit| misfit.first).map(at),
        accepted: skew.map(|skew| skew.accepted),
    }
}
