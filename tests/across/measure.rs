//! Readings of a tape: against figures worked by hand, boards laid one by one,
//! and drawn samples.

use crate::common::{fastener, inches, job, surface_of};
use crate::forecast::Normal;
use lastcourse::courses::{Across, Verdict, layout};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::measure::typed::{self, Word};
use lastcourse::measure::*;
use proptest::prelude::*;

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

/// A deck of a width across, boards of 5-1/2 in with gaps of 3/16 in that can be
/// set from 1/16 to 3/8 in.
fn deck(across: &str) -> Job {
    let mut job = job(inches(240), inch(across));
    job.fasteners[0].gap = Span {
        set: inch("3/16"),
        least: inch("1/16"),
        most: inch("3/8"),
    };
    job
}

fn once(after: u32, at: Length) -> TapeReading {
    TapeReading {
        after,
        tape: Tape::Once(at),
        gap: None,
    }
}

fn ends(after: u32, left: &str, right: &str) -> TapeReading {
    TapeReading {
        after,
        tape: Tape::Ends {
            left: inch(left),
            right: inch(right),
        },
        gap: None,
    }
}

fn try_measured(job: &Job, readings: &[TapeReading]) -> Result<Measured, Doubt> {
    let asked = Asked {
        fastener: 0,
        readings,
        diagonals: None,
        tape: inch("1/16"),
        step: job.unit.setting(),
    };
    measure(job, &surface_of(job), &asked)
}

#[track_caller]
fn measured(job: &Job, readings: &[TapeReading]) -> Measured {
    try_measured(job, readings).unwrap_or_else(|doubt| panic!("{doubt:?}"))
}

#[test]
fn a_deck_on_plan_ends_as_planned() {
    // Computed: 28 courses of 5-11/16 in less a gap are 13 ft 3-1/16 in, and 9 of
    // them 4 ft 3 in.
    let job = deck("159-1/16");
    let measured = measured(&job, &[once(9, inch("51"))]);
    let going = measured.going.unwrap();
    assert_eq!(
        (going.outcome.laid, going.outcome.verdict),
        (28, Verdict::Full)
    );
    assert_eq!(going.outcome, measured.planned);
    assert_eq!(measured.readings[0].off, Length::ZERO);
    assert_eq!(measured.readings[0].pitch, Some(inch("5-11/16")));
    let planned = &measured.endings[0];
    assert_eq!((planned.aim, planned.possible), (Aim::Planned, true));
    let setting = Setting {
        gap: inch("3/16"),
        gaps: 19,
    };
    assert_eq!(planned.settings, [setting]);
    assert!(measured.cautions.is_empty());
}

#[test]
fn a_pace_beyond_all_tolerances_is_that_of_the_tape() {
    // Computed: after 9 courses 1/2 in too far is 1/16 in for each of 8 gaps.
    // 19 gaps later that is 1-3/16 in more: of the last board 5-1/2 in less
    // 1-11/16 in are left. To be back at 28 whole courses, 19 gaps give up 1/2 in
    // and run 1/16 in narrower besides: 3/16 - 1/16 - 1/38 in.
    let job = deck("159-1/16");
    let measured = measured(&job, &[once(9, inch("51-1/2"))]);
    let pace = measured.pace.unwrap();
    assert_eq!(pace.basis, Basis::Beyond);
    assert_eq!(pace.drift, inch("1/16"));
    let going = measured.going.unwrap();
    assert_eq!(going.outcome.last_width, Some(inch("3-13/16")));
    let planned = &measured.endings[0];
    assert_eq!(planned.gap.units(), (203_200 / 8) - 203_200 / 38 - 1);
    assert!(planned.possible);
    let all: i64 = planned.settings.iter().map(|setting| setting.gaps).sum();
    assert_eq!(all, 19);
    let last = planned.marks.last().unwrap();
    assert_eq!(last.course, 28);
    assert!((last.at - inch("159-1/16")).abs() <= inch("1/128"));
    // Two cautions: beyond what may be off, and not the planned count it is.
    assert_eq!(measured.cautions.len(), 1, "{:?}", measured.cautions);
}

#[test]
fn a_reading_is_weighed_against_what_may_be_off_alike() {
    // Worked by hand: gaps may be 1/32 in off alike and the tape 1/16 in, nothing
    // else. After 9 courses (8 gaps) 1/8 in too far: the square of the slope's
    // share is (8/32)², of the tape's (1/16)², so that 16/17 of 1/64 in a gap are
    // taken for the slope.
    let mut job = deck("159-1/16");
    job.fasteners[0].uncertainty = inch("1/32");
    let pace = measured(&job, &[once(9, inch("51-1/8"))]).pace.unwrap();
    assert_eq!(pace.basis, Basis::Weighed);
    assert_eq!(
        pace.drift.units(),
        (3_175.0f64 * 16.0 / 17.0).round() as i64
    );
    // What is left of the slope's own: 1/32 in times the root of 1 - 16/17.
    let left = 6_350.0 * (1.0f64 / 17.0).sqrt();
    assert_eq!(pace.within.units(), left.round() as i64);
    // Where the job says nothing of a slope the same 1/32 in is taken.
    job.fasteners[0].uncertainty = Length::ZERO;
    let assumed = measured(&job, &[once(9, inch("51-1/8"))]);
    assert_eq!(assumed.assumed, Some(inch("1/32")));
    assert_eq!(assumed.pace.unwrap().drift, pace.drift);
}

#[test]
fn a_gap_set_otherwise_is_no_error() {
    // Computed: 5 courses with gaps of 3/16 in, 5 more with 1/4 in.
    let job = deck("159-1/16");
    let mut second = once(10, inch("57"));
    second.gap = Some(inch("1/4"));
    let measured = measured(&job, &[once(5, inch("28-1/4")), second]);
    let pace = measured.pace.unwrap();
    assert_eq!((pace.off, pace.drift), (Length::ZERO, Length::ZERO));
    assert_eq!(measured.gap, inch("1/4"));
    // It goes on at 1/4 in: 57 + 18 × 5-3/4 in leave no whole 28th course.
    let going = measured.going.unwrap();
    assert_eq!(going.outcome.laid, 28);
    assert_eq!(
        going.outcome.last_width,
        Some(inch("5-1/2") - inch("1-7/16"))
    );
    // As planned from there: (159-1/16 - 57 - 18 × 5-1/2) / 18 in.
    assert_eq!(measured.endings[0].gap.units(), (203_200 * 49 / 16) / 18);
}

#[test]
fn a_clip_leaves_what_it_leaves() {
    let mut job = deck("159-1/16");
    job.fasteners[0].gap = Span::fixed(inch("3/16"));
    job.edges.last = Edge::Open {
        fascia: Length::ZERO,
        overhang: Span {
            set: Length::ZERO,
            least: Length::ZERO,
            most: inch("2"),
        },
        allowance: Length::ZERO,
    };
    let measured = measured(&job, &[once(9, inch("51-1/2"))]);
    let planned = &measured.endings[0];
    assert!(!planned.possible && planned.marks.is_empty());
    // What is too much by then, 1-11/16 in, the overhang can give.
    assert_eq!(planned.overhang, Some(inch("1-11/16")));
    job.edges.last = Edge::open(Length::ZERO);
    assert_eq!(measured_overhang(&job), None);
}

fn measured_overhang(job: &Job) -> Option<Length> {
    measured(job, &[once(9, inch("51-1/2"))]).endings[0].overhang
}

#[test]
fn a_wedge_is_told_and_taken_out() {
    // Computed: the left end 1/8 in short of the plan and the right one 1/8 in
    // beyond it after 9 courses.
    let job = deck("157-1/16");
    let all = measured(&job, &[ends(9, "50-7/8", "51-1/8")]);
    assert_eq!(all.readings[0].off, Length::ZERO);
    let parallel = all.parallel.unwrap();
    assert_eq!(parallel.off, inch("1/4"));
    assert_eq!(parallel.gaps, 19);
    let [left, right] = [&parallel.left, &parallel.right];
    assert_eq!(left.pace.drift, -right.pace.drift);
    // Each end goes on as it did: the middle stays 3-1/2 in, the ends do not.
    let middle = all.going.unwrap().outcome.last_width.unwrap();
    assert_eq!(middle, inch("3-1/2"));
    let wedge = inch("1/8") + right.pace.drift * 19;
    assert_eq!(left.last_width, middle + wedge);
    assert_eq!(right.last_width, middle - wedge);
    // Both ends come out as planned with their own gaps.
    for side in [left, right] {
        let ending = side.ending.as_ref().unwrap();
        assert!(ending.possible);
        let width = ending.outcome.last_width.unwrap();
        assert!((width - middle).abs() <= inch("1/64"), "{width:?}");
    }
    let gap = |side: &SideOfCourses| side.ending.as_ref().unwrap().gap;
    assert!((gap(left) - gap(right) - parallel.each).abs() <= Length::from_units(2));
}

#[test]
fn a_course_counted_wrong_is_told() {
    let job = deck("159-1/16");
    // The far edge of course 10, said to be that of 9.
    let doubt = try_measured(&job, &[once(9, inch("56-11/16"))]).unwrap_err();
    assert_eq!((doubt.after, doubt.end), (9, End::Once));
    assert!(doubt.message.contains("where course 10 ends"), "{doubt:?}");
    assert!(doubt.message.contains("one course off"), "{doubt:?}");
    let doubt = try_measured(&job, &[once(9, inch("45-1/4"))]).unwrap_err();
    assert!(doubt.message.contains("where course 8 ends"), "{doubt:?}");
    // Counted wrong since the last time, and at one end alone.
    let readings = [once(9, inch("51-1/8")), ends(12, "68-1/4", "73-7/8")];
    let doubt = try_measured(&job, &readings).unwrap_err();
    assert_eq!((doubt.after, doubt.end), (12, End::Right));
    assert!(doubt.message.contains("where course 13 ends"), "{doubt:?}");
}

#[test]
fn what_no_boards_make_is_told() {
    let job = deck("159-1/16");
    for (after, at, says) in [
        (9, "47", "boards alone are"),
        (2, "13-3/4", "the tape should say"),
        (28, "170", "from the first edge to the last"),
    ] {
        let doubt = try_measured(&job, &[once(after, inch(at))]).unwrap_err();
        assert!(doubt.message.contains(says), "{doubt:?}");
    }
    // Beyond what may be off, but not beyond belief.
    let odd = measured(&job, &[once(9, inch("52"))]);
    assert!(
        odd.cautions[0].message.contains("wider than"),
        "{:?}",
        odd.cautions
    );
}

#[test]
fn a_deck_that_is_laid_is_told_so() {
    let job = deck("159-1/16");
    let done = measured(&job, &[once(28, inch("159-1/8"))]);
    assert_eq!(done.left_open, Some(-inch("1/16")));
    assert!(done.going.is_none() && done.endings.is_empty());
    let short = measured(&job, &[once(28, inch("158-15/16"))]);
    assert_eq!(short.left_open, Some(inch("1/8")));
}

#[test]
fn a_first_course_alone_says_nothing_of_gaps() {
    let job = deck("159-1/16");
    let pace = measured(&job, &[once(1, inch("5-9/16"))]).pace.unwrap();
    assert_eq!((pace.basis, pace.drift), (Basis::Plan, Length::ZERO));
}

#[test]
fn gaps_of_the_other_fastener_come_last() {
    // Computed: 28 boards with 20 gaps of 3/16 in and the last 8 of 1/8 in are
    // 158-3/4 in, which leaves 5/16 in for a 29th course.
    let mut job = deck("159-1/16");
    let mut other = fastener("other", FastenerKind::Face);
    other.gap = Span::fixed(inch("1/8"));
    job.fasteners.push(other);
    job.courses.mixed = Some(Mixed {
        fastener: 1,
        gaps: 8,
    });
    let all = measured(&job, &[once(9, inch("51"))]);
    assert_eq!(all.planned.laid, 29);
    assert_eq!(all.planned.last_width, Some(inch("5/16")));
    assert_eq!(all.going.unwrap().outcome, all.planned);
    let planned = &all.endings[0];
    assert_eq!((planned.gap, planned.settings[0].gaps), (inch("3/16"), 12));
    let marks: Vec<Length> = planned.marks.iter().map(|mark| mark.at).collect();
    let courses = layout(&job, &surface_of(&job), 0).courses;
    let far: Vec<Length> = courses[9..].iter().map(|course| course.to).collect();
    assert_eq!(marks, far);
}

/// Lays whole boards from a place on until the edge is reached.
fn laid(
    width: Length,
    mut courses: i64,
    mut at: Length,
    face: Length,
    gap: Length,
) -> (i64, Length, Length) {
    let mut last = face;
    while at + gap < width {
        last = face.min(width - at - gap);
        at += gap + last;
        courses += 1;
    }
    (courses, last, (width - at).max(Length::ZERO))
}

proptest! {
    #[test]
    fn what_is_left_comes_out_as_boards_laid_one_by_one(
        across in 100i64 * 64..240 * 64,
        after in 2u32..15,
        off in -40i64..40,
        finish in prop_oneof![Just(Finish::RipLast), Just(Finish::RipFirst), Just(Finish::Balanced)],
    ) {
        let mut job = deck("100");
        job.deck.across = Length::from_64ths(across);
        job.courses.finish = finish;
        let plan = layout(&job, &surface_of(&job), 0);
        let at = plan.courses[after as usize - 1].to + Length::from_64ths(off);
        let measured = try_measured(&job, &[once(after, at)]);
        // What cannot be is doubted.
        prop_assume!(measured.is_ok());
        let measured = measured.unwrap();
        let pace = measured.pace.unwrap();
        let gap = job.fasteners[0].gap.set + pace.drift;
        // Boards do not lie over each other.
        prop_assume!(!gap.is_negative());
        let (courses, last, short) = laid(job.deck.across, i64::from(after), at, job.board.face, gap);
        let outcome = measured.going.unwrap().outcome;
        prop_assert_eq!(
            (outcome.laid, outcome.last_width, outcome.short_by),
            (courses, Some(last), short)
        );
        // Every way out that is possible leads where it says.
        for ending in measured.endings.iter().filter(|ending| ending.possible) {
            let mut at = at;
            let mut gaps = ending.settings.iter().flat_map(|s| vec![s.gap; s.gaps as usize]);
            for course in i64::from(after) + 1..ending.courses {
                at += gaps.next().unwrap() + pace.drift + job.board.face;
                let mark = ending.marks[(course - i64::from(after) - 1) as usize];
                prop_assert_eq!((mark.course, mark.at), (course, at));
            }
            let near_edge = at + gaps.next().unwrap() + pace.drift;
            let wanted = match ending.aim {
                Aim::Planned => plan.courses.last().unwrap().from,
                Aim::Whole => job.deck.across - job.board.face,
            };
            // Within half a step, or what a tape shows at the ends of the range.
            prop_assert!((near_edge - wanted).abs() <= job.unit.tape());
            if ending.aim == Aim::Whole {
                prop_assert!(near_edge <= wanted, "never past the edge");
            }
        }
    }
}

#[test]
fn ranges_hold_what_drawn_sites_come_to() {
    // The model itself, drawn: what all are off alike and what each is, the tape,
    // and the frame, every error normal with a third of its tolerance.
    let mut job = deck("160");
    job.deck.tolerance = inch("1/8");
    job.board.face_tolerance = inch("1/32");
    job.board.uncertainty = inch("1/64");
    job.fasteners[0].tolerance = inch("1/32");
    job.fasteners[0].uncertainty = inch("1/32");
    let mut random = Normal(0x9e37_79b9_7f4a_7c15);
    let mut third = |tolerance: f64| random.next() * tolerance / 3.0;
    for after in [3, 9, 18] {
        let (mut outside, mut squares) = (0, 0.0);
        let draws = 8_000;
        for _ in 0..draws {
            let (faces, gaps) = (third(1.0 / 64.0), third(1.0 / 32.0));
            let mut at = 0.0;
            let mut read = 0.0;
            for course in 1..=28 {
                if course == 28 {
                    break;
                }
                at += 5.5 + faces + third(1.0 / 32.0);
                if course == after {
                    read = at + third(1.0 / 16.0);
                }
                at += 0.1875 + gaps + third(1.0 / 32.0);
            }
            let last = 160.0 + third(1.0 / 8.0) - at;
            let units = (read * Length::UNITS_PER_INCH as f64).round() as i64;
            let measured = measured(&job, &[once(after, Length::from_units(units))]);
            let going = measured.going.unwrap();
            // Of course 28, whatever the count.
            let pitch = 5.5 + 0.1875 + measured.pace.unwrap().drift.inches();
            let said = going.outcome.last.inches() + (going.outcome.gaps - 27) as f64 * pitch;
            let missed = (last - said) / (going.spread.inches() / 3.0);
            outside += i32::from(missed.abs() > 3.0);
            squares += missed * missed;
        }
        let deviation = (squares / f64::from(draws)).sqrt();
        assert!(
            (0.95..1.05).contains(&deviation),
            "after {after}: {deviation}"
        );
        // 0.27 % of a normal distribution lies outside three deviations.
        assert!(
            f64::from(outside) / f64::from(draws) < 0.006,
            "after {after}: {outside}"
        );
    }
}

#[test]
fn readings_leave_the_plan_as_it_is() {
    let mut job = deck("159-1/16");
    let plain = Across::of(&job, &surface_of(&job), 0);
    job.readings = vec![once(9, inch("51-1/2"))];
    assert_eq!(Across::of(&job, &surface_of(&job), 0), plain);
}

/// Twelve boards of 5-1/2 in at 3/16 in, with tolerances all stated: the worst
/// case by hand.
#[test]
fn at_worst_every_error_is_at_its_limit() {
    let mut job = deck("100-1/4");
    job.board.face_tolerance = inch("1/32");
    job.board.uncertainty = Length::ZERO;
    job.fasteners[0].tolerance = inch("1/64");
    job.fasteners[0].uncertainty = inch("1/32");
    job.deck.tolerance = inch("1/8");
    let planned = inch("5-1/2") * 9 + inch("3/16") * 8;
    let told = measured(&job, &[once(9, planned)]);
    let going = told.going.expect("courses are left");
    // On plan, the slope is within 1/32 in a gap (the reading alone would allow
    // 9/32 + 8/64 + 1/16 = 15/32 in over 8 gaps, more than that). Ahead are
    // `gaps` gaps and a board fewer: 1/16 of tape, 1/8 of frame, 1/32 a board,
    // 1/64 and 1/32 a gap.
    let gaps = going.outcome.gaps - 8;
    let by_hand = inch("1/16")
        + inch("1/8")
        + inch("1/32") * (gaps - 1)
        + (inch("1/64") + inch("1/32")) * gaps;
    assert_eq!(going.worst, by_hand);
    assert!(going.worst > going.spread);
}

/// From the far edge: what is left is as read, and the frame's tolerance is in
/// the pace alone.
#[test]
fn a_reading_to_the_far_edge_is_turned_round() {
    let mut job = deck("100-1/4");
    job.board.face_tolerance = inch("1/32");
    job.fasteners[0].uncertainty = inch("1/32");
    let far = job.edges.first.reach() + job.deck.across;
    let at = inch("5-1/2") * 9 + inch("3/16") * 8;
    let words = [
        ("--after", "9".to_owned()),
        ("--to-far", (far - at).show(job.unit).to_string()),
    ];
    let words = words.map(|(name, text)| Word { name, text });
    let typed = typed::read(&words, job.unit, far).expect("a reading");
    let back = typed.readings[0];
    assert_eq!(back.tape.middle(), at);
    // With a frame that is sure both say the same; else the far one says more
    // surely how the last course comes out, and less surely at which pace.
    job.deck.tolerance = Length::ZERO;
    let [near, far] = [once(9, at), back].map(|reading| measured(&job, &[reading]));
    assert_eq!(near.going.map(|g| g.spread), far.going.map(|g| g.spread));
    job.deck.tolerance = inch("1/4");
    let [near, far] = [once(9, at), back].map(|reading| measured(&job, &[reading]));
    let within = |told: &Measured| told.pace.expect("a pace").within;
    let spread = |told: &Measured| told.going.expect("courses are left").spread;
    assert!(within(&far) > within(&near));
    assert!(spread(&far) < spread(&near));
}
