//! Courses of a surface: counts, widths and finishes against figures worked by
//! hand, and against boards laid one by one.

use lastcourse::courses::{Across, Outcome, Verdict};
use lastcourse::job::Finish;
use lastcourse::length::{Length, Unit};
use proptest::prelude::*;

fn inches(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).unwrap()
}

fn mm(text: &str) -> Length {
    Length::parse(text, Some(Unit::Millimetre)).unwrap()
}

fn across(width: Length, face: Length, gap: Length, finish: Finish) -> Across {
    Across {
        width,
        face,
        narrowest_rip: Length::from_inches(2),
        gap,
        mixed: None,
        finish,
    }
}

/// Widths, faces and gaps with what they come to: courses, the rip, and the
/// width of both edges when balanced. Computed; no published source.
const RIPS: [(&str, &str, &str, i64, &str, &str); 9] = [
    ("144", "5-1/2", "1/8", 26, "3-3/8", "4-7/16"),
    ("144", "5-1/2", "3/16", 26, "1-13/16", "3-21/32"),
    ("144", "5-1/2", "1/4", 26, "1/4", "2-7/8"),
    ("120", "5-1/2", "1/8", 22, "1-7/8", "3-11/16"),
    ("192", "5-1/2", "3/16", 34, "4-5/16", "4-29/32"),
    ("146", "5-1/2", "3/16", 26, "3-13/16", "4-21/32"),
    ("96", "3-1/2", "1/4", 26, "2-1/4", "2-7/8"),
    ("106", "5-1/2", "0", 20, "1-1/2", "3-1/2"),
    ("49-1/2", "24", "0", 3, "1-1/2", "12-3/4"),
];

#[test]
fn rips_come_out_as_worked_by_hand() {
    for (width, face, gap, courses, rip, balanced) in RIPS {
        let given = [width, face, gap].map(inches);
        let lay = |finish| across(given[0], given[1], given[2], finish).outcome();
        let (rip, balanced) = (inches(rip), inches(balanced));
        let last = lay(Finish::RipLast);
        assert_eq!(
            (last.laid, last.last_width),
            (courses, Some(rip)),
            "{width}"
        );
        assert_eq!(last.ripped_off, given[1] - rip);
        assert_eq!(last.short_by, Length::ZERO);
        assert_eq!(last.short_if_omitted, Some(rip + given[2]));
        let sliver = rip < Length::from_inches(2);
        assert_eq!(last.verdict == Verdict::Sliver, sliver, "{width}");
        let both = lay(Finish::Balanced);
        assert_eq!(
            (both.laid, both.first_width, both.last_width),
            (courses, Some(balanced), Some(balanced)),
            "{width}"
        );
    }
}

#[test]
fn metric_rips_come_out_as_worked_by_hand() {
    // Computed; no published source.
    for (width, face, gap, courses, rip, balanced) in [
        ("3600", "145", "6", 24, "127", "136"),
        ("4000", "140", "5", 28, "85", "112.5"),
        ("3000", "120", "8", 24, "56", "88"),
    ] {
        let given = [width, face, gap].map(mm);
        let lay = |finish| across(given[0], given[1], given[2], finish).outcome();
        let last = lay(Finish::RipLast);
        assert_eq!((last.laid, last.last_width), (courses, Some(mm(rip))));
        assert_eq!(last.verdict, Verdict::Rip);
        assert_eq!(lay(Finish::Balanced).first_width, Some(mm(balanced)));
    }
}

#[test]
fn a_last_course_of_nothing_is_not_laid() {
    // Computed; no published source. Width, face, gap: courses, short by.
    let cases = [
        (
            inches("143-9/16"),
            inches("5-1/2"),
            inches("1/4"),
            25,
            inches("1/16"),
            inches("-3/16"),
        ),
        (
            inches("115"),
            inches("5-1/2"),
            inches("1/4"),
            20,
            inches("1/4"),
            inches("0"),
        ),
        (mm("3600"), mm("145"), mm("5"), 24, mm("5"), mm("0")),
    ];
    for (width, face, gap, courses, short, last) in cases {
        let outcome = across(width, face, gap, Finish::RipLast).outcome();
        assert_eq!(outcome.laid, courses);
        assert_eq!(outcome.last, last);
        assert_eq!(outcome.short_by, short);
        assert_eq!(outcome.last_width, Some(face));
        assert_eq!(outcome.ripped_off, Length::ZERO);
        assert_eq!(outcome.short_if_omitted, None);
        assert_eq!(outcome.verdict, Verdict::Short);
    }
}

#[test]
fn an_exact_fit_is_full() {
    // Computed; no published source.
    for (width, face, gap, courses) in [
        (inches("143-1/2"), inches("5-1/2"), inches("1/4"), 25),
        (mm("2995"), mm("145"), mm("5"), 20),
    ] {
        for finish in [Finish::RipLast, Finish::Balanced, Finish::LeaveOut] {
            let outcome = across(width, face, gap, finish).outcome();
            assert_eq!(outcome.laid, courses);
            assert_eq!(outcome.last_width, Some(face));
            assert_eq!(outcome.verdict, Verdict::Full);
        }
    }
}

#[test]
fn balanced_courses_are_never_below_half_a_unit() {
    // ANSI A108.02, 4.3.1 and 4.3.2: centre and balance, with no cut smaller
    // than half a unit. 49-1/2 with units of 24 leaves 1-1/2 on one side; added
    // to a whole unit and halved it is 12-3/4 each side, one whole unit fewer.
    let lay = |finish| across(inches("49-1/2"), inches("24"), Length::ZERO, finish).outcome();
    let balanced = lay(Finish::Balanced);
    assert_eq!(balanced.first_width, balanced.last_width);
    assert_eq!(balanced.last_width, Some(inches("12-3/4")));
    let whole = |outcome: Outcome, ripped| outcome.laid - ripped;
    assert_eq!(whole(balanced, 2), whole(lay(Finish::RipLast), 1) - 1);
}

#[test]
fn one_course_cannot_be_shared() {
    for finish in [
        Finish::RipLast,
        Finish::RipFirst,
        Finish::Balanced,
        Finish::Shared,
    ] {
        let outcome = across(inches("3"), inches("5-1/2"), inches("1/4"), finish).outcome();
        assert_eq!((outcome.laid, outcome.last_width), (1, Some(inches("3"))));
        assert_eq!(outcome.short_if_omitted, Some(inches("3")));
    }
    let two = across(inches("8"), inches("5-1/2"), inches("1/4"), Finish::Shared).outcome();
    assert_eq!(two.last_width, Some(inches("2-1/4")));
    let left_out = across(
        inches("3"),
        inches("5-1/2"),
        inches("1/4"),
        Finish::LeaveOut,
    )
    .outcome();
    assert_eq!((left_out.laid, left_out.short_by), (0, inches("3")));
    assert_eq!(left_out.last_width, None);
    assert_eq!(left_out.verdict, Verdict::Short);
}

const FINISHES: [Finish; 5] = [
    Finish::RipLast,
    Finish::RipFirst,
    Finish::Balanced,
    Finish::Shared,
    Finish::LeaveOut,
];

/// Lays whole boards one by one until the edge is reached: count, and the width
/// that is left for the last of them.
fn one_by_one(across: &Across, count: i64) -> (i64, Length) {
    // With mixed gaps the gap before a course depends on how many there are.
    let mut end = Length::ZERO;
    for k in 0..count {
        if k > 0 {
            let from_last = count - 1 - k;
            end += match across.mixed {
                Some((mixed, gap)) if from_last < i64::from(mixed) => gap,
                _ => across.gap,
            };
        }
        end += across.face;
    }
    if end >= across.width {
        (count, across.width - (end - across.face))
    } else {
        one_by_one(across, count + 1)
    }
}

fn some_across() -> impl Strategy<Value = Across> {
    (
        1i64..60_000,
        500i64..6_000,
        0i64..700,
        prop::option::of((0u32..12, 0i64..700)),
        0..5usize,
    )
        .prop_map(|(width, face, gap, mixed, finish)| Across {
            width: Length::from_units(width),
            face: Length::from_units(face),
            narrowest_rip: Length::from_units(1_500),
            gap: Length::from_units(gap),
            mixed: mixed.map(|(count, gap)| (count, Length::from_units(gap))),
            finish: FINISHES[finish],
        })
}

proptest! {
    #[test]
    fn counting_agrees_with_laying_one_by_one(across in some_across()) {
        let outcome = across.outcome();
        let (count, last) = one_by_one(&across, 1);
        prop_assert_eq!((outcome.gaps + 1, outcome.last), (count, last));
        let ripped = last > Length::ZERO && last < across.face;
        let dropped = last <= Length::ZERO || ripped && across.finish == Finish::LeaveOut;
        prop_assert_eq!(outcome.laid, count - i64::from(dropped));
        prop_assert_eq!(outcome.rip.is_some(), ripped && across.finish != Finish::LeaveOut);
        match outcome.verdict {
            Verdict::Full => prop_assert_eq!(last, across.face),
            Verdict::Short => prop_assert!(outcome.short_by > Length::ZERO),
            Verdict::Rip => prop_assert!(outcome.ripped_off > Length::ZERO),
            Verdict::Sliver => {
                prop_assert!(outcome.first_width.min(outcome.last_width) <= Some(across.narrowest_rip));
            }
        }
    }
}
