//! The geometry worked out for verification, against values worked by hand.

use super::super::Findings;
use super::super::geometry::derive;
use super::{eighths, inches, job, valid};
use crate::job::*;
use crate::length::{Length, Unit};

/// The courses' widths in 1/64 in and where the last one ends.
fn widths(job: &Job) -> (Vec<i128>, i128) {
    let mut found = Findings::new(Unit::Inch);
    let geometry = derive(job, &valid(), &mut found).expect("a surface");
    let per_64th = i128::from(Length::from_64ths(1).units());
    let end = geometry.courses.last().map_or(0, |course| course.1);
    (
        geometry
            .courses
            .iter()
            .map(|(from, to)| (to - from) / per_64th)
            .collect(),
        end / per_64th,
    )
}

/// The hand-made job with a surface so wide, a face and a gap, in 1/64 in.
fn across(width: i64, face: i64, gap: i64) -> Job {
    let mut job = job();
    job.deck.across = Length::from_64ths(width) - inches(3);
    job.board.face = Length::from_64ths(face);
    job.fasteners[0].gap = Span::fixed(Length::from_64ths(gap));
    job
}

/// Width, face, gap, courses laid, width of the last: computed from
/// n = ceil((W+g)/(b+g)) and W - (n-1)(b+g).
#[test]
fn courses_and_rips() {
    let inch = 64;
    for (width, face, gap, count, last) in [
        (144 * inch, 352, 8, 26, 216),
        (144 * inch, 352, 12, 26, 116),
        (144 * inch, 352, 16, 26, 16),
        (120 * inch, 352, 8, 22, 120),
        (192 * inch, 352, 12, 34, 276),
        (146 * inch, 352, 12, 26, 244),
        (96 * inch, 224, 16, 26, 144),
        (106 * inch, 352, 0, 20, 96),
        (143 * inch + 32, 352, 16, 25, 352),
        (143 * inch + 36, 352, 16, 25, 352),
        (115 * inch, 352, 16, 20, 352),
        (352, 352, 16, 1, 352),
        (1, 352, 16, 1, 1),
        (353, 352, 16, 1, 352),
        (369, 352, 16, 2, 1),
    ] {
        let (widths, _) = widths(&across(width, face, gap));
        assert_eq!(
            (widths.len(), *widths.last().unwrap()),
            (count, last),
            "W {width} b {face} g {gap}"
        );
        assert!(
            widths[..count - 1]
                .iter()
                .all(|&width| width == i128::from(face))
        );
    }
}

/// Units of 24 with 1-1/2 left over beside a whole one: both edges are cut to
/// 12-3/4 and there is one whole unit fewer (worked example of centring and
/// balancing under ANSI A108.02, 4.3).
#[test]
fn finishes() {
    let with = |finish, width| {
        let mut job = across(width, 24 * 64, 0);
        job.courses.finish = finish;
        widths(&job).0
    };
    let whole = 24 * 64;
    let half = 12 * 64 + 48;
    let two_and_a_bit = 2 * 24 * 64 + 96;
    assert_eq!(with(Finish::RipLast, two_and_a_bit), [whole, whole, 96]);
    assert_eq!(with(Finish::Balanced, two_and_a_bit), [half, whole, half]);
    let wide = 14 * 24 * 64 + 96;
    let shared = with(Finish::Shared, wide);
    assert_eq!((shared[0], shared[13], shared[14]), (whole, half, half));
    assert_eq!(with(Finish::RipFirst, wide)[0], 96);
    assert_eq!(with(Finish::RipFirst, wide)[14], whole);
    assert_eq!(with(Finish::LeaveOut, wide).len(), 14);
    // Too few courses to share.
    assert_eq!(with(Finish::Balanced, 96), [96]);
    assert_eq!(with(Finish::Shared, 24 * 64 + 96), [whole, 96]);
    assert_eq!(with(Finish::LeaveOut, 96), []);
    // Nothing to rip: no finish changes anything.
    for finish in [
        Finish::RipFirst,
        Finish::Balanced,
        Finish::Shared,
        Finish::LeaveOut,
    ] {
        assert_eq!(with(finish, 5 * whole as i64), [whole; 5]);
    }
}

#[test]
fn an_odd_unit_goes_to_the_later_course() {
    let mut job = across(3 * 352 + 100, 352, 0);
    job.deck.across += Length::from_units(1);
    for (finish, early) in [(Finish::Balanced, 0), (Finish::Shared, 2)] {
        job.courses.finish = finish;
        let geometry = derive(&job, &valid(), &mut Findings::new(Unit::Inch)).unwrap();
        let width = |index: usize| geometry.courses[index].1 - geometry.courses[index].0;
        assert_eq!(width(3) - width(early), 1, "{finish:?}");
    }
}

#[test]
fn mixed_gaps_count_back_from_the_last() {
    // Ten courses of 5-1/2 in and nine gaps, the last four of them 1/2 in.
    let mut job = across(10 * 352 + 5 * 16 + 4 * 32, 352, 16);
    job.courses.mixed = Some(Mixed {
        fastener: 1,
        gaps: 4,
    });
    let (laid, end) = widths(&job);
    assert_eq!((laid, end), (vec![352; 10], 10 * 352 + 5 * 16 + 4 * 32));
    let geometry = derive(&job, &valid(), &mut Findings::new(Unit::Inch)).unwrap();
    let per_64th = i128::from(Length::from_64ths(1).units());
    let gaps: Vec<i128> = geometry
        .courses
        .windows(2)
        .map(|pair| (pair[1].0 - pair[0].1) / per_64th)
        .collect();
    assert_eq!(gaps, [16, 16, 16, 16, 16, 32, 32, 32, 32]);
}

fn supports(along: Length, spacing: Length, first: Length) -> Vec<i64> {
    let mut job = job();
    job.deck.along = along;
    job.joists = Joists::Spaced {
        spacing,
        first,
        thickness: eighths(12),
    };
    let geometry = derive(&job, &valid(), &mut Findings::new(Unit::Inch)).unwrap();
    let eighth = i128::from(eighths(1).units());
    geometry
        .supports
        .iter()
        .map(|at| i64::try_from(at / eighth).unwrap())
        .collect()
}

/// All in eighths of an inch; joists 1-1/2 in thick.
#[test]
fn joists_at_their_spacing() {
    // 8 ft: the sixth would stand on the frame's right side.
    assert_eq!(
        supports(inches(96), inches(16), inches(16)),
        [6, 128, 256, 384, 512, 640, 762]
    );
    // One that would crowd the right end joist moves 1-1/2 in off it.
    assert_eq!(
        supports(inches(97), inches(16), inches(16)),
        [6, 128, 256, 384, 512, 640, 758, 770]
    );
    // The same at the left.
    assert_eq!(
        supports(inches(50), inches(16), inches(1)),
        [6, 18, 136, 264, 382, 394]
    );
    // Left out only where moving it crowds another joist.
    assert_eq!(supports(inches(16), inches(2), inches(13)), [6, 104, 122]);
    assert_eq!(supports(inches(3), inches(16), inches(1)), [6, 18]);
}

#[test]
fn odd_thickness_is_shared() {
    let mut job = job();
    job.joists = Joists::Spaced {
        spacing: inches(400),
        first: inches(400),
        thickness: Length::from_units(11),
    };
    let geometry = derive(&job, &valid(), &mut Findings::new(Unit::Inch)).unwrap();
    let along = i128::from(job.deck.along.units());
    assert_eq!(geometry.supports, [5, along - 6]);
}
