//! Forecasts: how long a count and a verdict stay true, what a wrong gap does,
//! and errors against published stack-ups and against drawn samples.

use crate::common::{fastener, inches, job, surface_of};
use lastcourse::courses::{
    Across, Errors, Forecast, Holds, Outcome, Spread, Verdict, cautions, forecast, layout,
};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use proptest::prelude::*;

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).unwrap()
}

/// A deck of a width across, with a face and a gap.
fn deck(across: &str, face: &str, gap: &str) -> Job {
    let mut job = job(inches(240), inch(across));
    job.board.face = inch(face);
    job.fasteners[0].gap = Span::fixed(inch(gap));
    job
}

fn first(job: &Job) -> Forecast {
    forecast(job, &surface_of(job), 0)
}

fn spread(job: &Job) -> Spread {
    let across = Across::of(job, &surface_of(job), 0);
    Spread::of(&across, &across.outcome(), &Errors::of(job, 0))
}

#[test]
fn a_sliver_is_told_before_boards_are_ordered() {
    // 24 pitches of 5-3/4 in are 138: of 139 in 1 in is left, of 142 in 4.
    let said = |job: &Job| {
        let said = cautions(job, &surface_of(job), 0);
        said.into_iter().next().map(|said| said.message)
    };
    assert_eq!(said(&deck("142", "5-1/2", "1/4")), None);
    let mut job = deck("139", "5-1/2", "1/4");
    assert_eq!(
        said(&job).as_deref(),
        Some("the last course is ripped to 1 in, narrower than 2 in wanted at least")
    );
    job.courses.finish = Finish::RipFirst;
    assert_eq!(
        said(&job).as_deref(),
        Some("the first course is ripped to 1 in, narrower than 2 in wanted at least")
    );
    // Shared by both outer courses it is 3-1/4 in each, and 4-1/8 in wanted is more.
    job.courses.finish = Finish::Balanced;
    assert_eq!(said(&job), None);
    job.board.narrowest_rip = inch("4-1/8");
    assert_eq!(
        said(&job).as_deref(),
        Some(
            "the first and the last course are ripped to 3-1/4 in, narrower than 4-1/8 in wanted \
             at least"
        )
    );
}

#[test]
fn an_outer_course_that_the_frame_does_not_carry_is_told() {
    let said = |job: &Job| -> Vec<String> {
        let said = cautions(job, &surface_of(job), 0);
        said.into_iter().map(|said| said.message).collect()
    };
    // 142 in with 24 pitches of 5-3/4 in: 4 in for the last, which starts at 138. With a
    // fascia of 3/4 in and an overhang the frame ends so much inside of 142.
    let with = |overhang: &str, frame: &str| {
        let mut job = deck(frame, "5-1/2", "1/4");
        job.edges.last = Edge::Open {
            fascia: inch("3/4"),
            overhang: Span::fixed(inch(overhang)),
            allowance: Length::ZERO,
        };
        job
    };
    // 2-1/2 and 3/4: 3-1/4 past it, and 3/4 in rest on the frame.
    assert_eq!(said(&with("2-1/2", "138-3/4")), [""; 0]);
    assert_eq!(
        said(&with("2-9/16", "138-11/16")),
        ["the last course reaches 3-5/16 in past the frame and rests on 11/16 in of it only"]
    );
    assert_eq!(
        said(&with("3-1/4", "138")),
        ["the last course lies wholly past the frame, which ends 4 in inside the edge"]
    );
    // At a wall the course ends short of the frame's end.
    let mut job = deck("142", "5-1/2", "1/4");
    job.edges.last = Edge::wall(inch("1/4"));
    assert_eq!(said(&job), [""; 0]);
    // The other way round the first course is the narrow one.
    let mut job = with("0", "141-1/4");
    std::mem::swap(&mut job.edges.first, &mut job.edges.last);
    if let Edge::Open { overhang, .. } = &mut job.edges.first {
        *overhang = Span::fixed(inch("3-1/4"));
    }
    job.deck.across = inch("138");
    job.courses.finish = Finish::RipFirst;
    assert_eq!(
        said(&job),
        ["the first course lies wholly past the frame, which ends 4 in inside the edge"]
    );
}

#[test]
fn a_gap_error_is_multiplied_by_the_number_of_gaps() {
    // Common practice, no source: 1/16 in over 24 gaps is 1-1/2 in.
    let forecast = first(&deck("142", "5-1/2", "1/4"));
    assert_eq!((forecast.outcome.laid, forecast.sensitivity.gap), (25, 24));
    assert_eq!(forecast.outcome.last_width, Some(inch("4")));
    let wider = forecast.gap_wrong[3];
    assert_eq!(wider.by, inch("1/16"));
    assert_eq!(wider.outcome.unwrap().last_width, Some(inch("2-1/2")));
    assert_eq!(
        forecast.outcome.last - wider.outcome.unwrap().last,
        inch("1-1/2")
    );
}

#[test]
fn the_gap_wrong_by_a_sixteenth_changes_count_and_verdict() {
    // 144 in, 5-1/2 in boards: a sliver at 1/4 in (computed; no published source).
    let forecast = first(&deck("144", "5-1/2", "1/4"));
    let rows: Vec<_> = forecast
        .gap_wrong
        .iter()
        .map(|wrong| (wrong.by, wrong.outcome.unwrap()))
        .map(|(by, o)| (by, o.laid, o.last_width.unwrap(), o.verdict))
        .collect();
    assert_eq!(
        rows,
        [
            (inch("-1/16"), 26, inch("1-13/16"), Verdict::Sliver),
            (inch("-1/32"), 26, inch("1-1/32"), Verdict::Sliver),
            (inch("1/32"), 25, inch("5-1/4"), Verdict::Rip),
            (inch("1/16"), 25, inch("4-1/2"), Verdict::Rip),
        ]
    );
    assert_eq!(forecast.changed_by(), Some(inch("1/32")));
    // 26 courses from 1/26 in up to 13/50 in, a sliver from above 9/50 in.
    assert_eq!(forecast.gap_holds, holds(7_816, Some(52_831)));
    assert_eq!(forecast.verdict_holds, holds(36_577, Some(52_831)));
}

fn holds(least: i64, most: Option<i64>) -> Holds {
    Holds {
        least: Length::from_units(least),
        most: most.map(Length::from_units),
    }
}

#[test]
fn a_gap_below_zero_is_not_forecast() {
    let forecast = first(&deck("106", "5-1/2", "0"));
    let known: Vec<bool> = forecast
        .gap_wrong
        .iter()
        .map(|w| w.outcome.is_some())
        .collect();
    assert_eq!(known, [false, false, true, true]);
    assert_eq!(forecast.gap_holds.least, Length::ZERO);
}

#[test]
fn one_course_holds_with_any_gap() {
    let forecast = first(&deck("3", "5-1/2", "1/4"));
    assert_eq!(forecast.gap_holds, holds(0, None));
    assert_eq!(forecast.verdict_holds, holds(0, None));
    assert_eq!(forecast.changed_by(), None);
}

#[test]
fn metric_gaps_are_wrong_by_whole_millimetres() {
    let mut job = deck("144", "5-1/2", "1/4");
    job.unit = Unit::Millimetre;
    let by: Vec<Length> = first(&job).gap_wrong.iter().map(|w| w.by).collect();
    assert_eq!(by, [-2, -1, 1, 2].map(Length::from_mm));
}

/// A stack of four parts: the frame, one board in two ways, and one gap.
fn stack(frame: &str, board: &str, boards: &str, gap: &str) -> Spread {
    let mut job = deck("8", "5-1/2", "1/4");
    job.deck.tolerance = inch(frame);
    job.board.face_tolerance = inch(board);
    job.board.uncertainty = inch(boards);
    job.fasteners[0].tolerance = inch(gap);
    assert_eq!(first(&job).sensitivity.gap, 1);
    spread(&job)
}

#[track_caller]
fn halves(spread: &Spread, worst: &str, rss: f64) {
    assert_eq!(spread.worst, inch(worst));
    assert!(
        (spread.rss().inches() - rss).abs() < 5e-6,
        "{}",
        spread.rss().inches()
    );
}

#[test]
fn stacks_add_up_as_published() {
    // Worst case is the sum of the errors, root-sum-square the root of the sum
    // of their squares: JCGM 100, 5.1.2; NIST TN 1297.
    // Bore 40.00 +-0.10, spacer 25.00 +-0.05, ring 2.00 +-0.03, shoulder 10.00
    // +-0.05: metricmech.com, tolerance stack of 2026-06-14; totals computed.
    halves(&stack("0.10", "0.05", "0.05", "0.03"), "0.23", 0.12610);
    // A +-0.005, B +-0.003, C +-0.002, housing +-0.005: +-0.015 and +-0.00794,
    // ficientdesign.com.
    halves(&stack("0.005", "0.003", "0.005", "0.002"), "0.015", 0.00794);
}

#[test]
fn errors_one_by_one_grow_with_the_root_of_their_number() {
    // Ten parts +-0.1: worst +-1.0, root-sum-square +-0.316 (as above).
    let mut ten = deck("60", "5-1/2", "0");
    ten.board.face_tolerance = inch("0.1");
    halves(&spread(&ten), "1.0", 0.316228);
    // 24 courses, faces +-1/32 and gaps +-1/64: 1.078 and 0.1676 of the last
    // course, 23 of each (computed; no published source).
    let mut deck = deck("136", "5-1/2", "3/16");
    deck.board.face_tolerance = inch("1/32");
    deck.fasteners[0].tolerance = inch("1/64");
    assert_eq!(first(&deck).outcome.laid, 24);
    halves(&spread(&deck), "1-5/64", 0.167559);
}

#[test]
fn errors_all_alike_grow_with_their_number() {
    let mut job = deck("136", "5-1/2", "3/16");
    job.fasteners[0].uncertainty = inch("1/32");
    halves(&spread(&job), "23/32", 23.0 / 32.0);
    let risk = first(&job).risk.unwrap();
    let last = first(&job).outcome.last;
    assert_eq!(risk.worst, [last - inch("23/32"), last + inch("23/32")]);
    assert_eq!(risk.rss, risk.worst);
}

#[test]
fn nothing_is_at_risk_where_nothing_is_off() {
    assert_eq!(first(&deck("144", "5-1/2", "1/4")).risk, None);
}

#[test]
fn a_short_deck_wants_one_more_course_half_the_time_when_it_just_fits() {
    // 115 in: 20 courses end exactly one gap short, and course 21 begins where
    // the deck ends.
    let mut job = deck("115", "5-1/2", "1/4");
    job.fasteners[0].uncertainty = inch("1/32");
    let risk = first(&job).risk.unwrap();
    assert!((risk.chance_extra_course - 0.5).abs() < 1e-12);
    // A third of 20/32 in is one standard deviation: 2 in is far beyond.
    assert!((risk.chance_sliver - 0.5).abs() < 1e-9);
}

#[test]
fn a_balanced_deck_is_safe_from_slivers() {
    let mut job = deck("144", "5-1/2", "1/4");
    job.fasteners[0].uncertainty = inch("1/64");
    assert!(first(&job).risk.unwrap().chance_sliver > 0.9);
    job.courses.finish = Finish::Balanced;
    assert_eq!(first(&job).risk.unwrap().chance_sliver, 0.0);
}

#[test]
fn chances_agree_with_drawn_samples() {
    // The model itself, drawn: every error normal with a third of its tolerance.
    let mut job = deck("142-3/4", "5-1/2", "1/4");
    job.deck.tolerance = inch("1/4");
    job.board.face_tolerance = inch("1/16");
    job.board.uncertainty = inch("1/32");
    job.fasteners[0].tolerance = inch("1/32");
    job.fasteners[0].uncertainty = inch("1/16");
    let forecast = first(&job);
    let risk = forecast.risk.unwrap();
    let mut random = Normal(0x2545_f491_4f6c_dd1d);
    let (mut slivers, mut extra) = (0, 0);
    let draws = 40_000;
    for _ in 0..draws {
        let faces = random.next() / 32.0 / 3.0;
        let gaps = random.next() / 16.0 / 3.0;
        let mut end = 0.0;
        for _ in 0..24 {
            end += 5.5 + 0.25 + faces + gaps;
            end += random.next() / 16.0 / 3.0 + random.next() / 32.0 / 3.0;
        }
        let last = 142.75 + random.next() / 4.0 / 3.0 - end;
        let over = last.rem_euclid(5.75);
        slivers += i32::from(over > 0.0 && over < 2.0);
        extra += i32::from(last > 5.75);
    }
    let share = |count: i32| f64::from(count) / f64::from(draws);
    assert!((share(slivers) - risk.chance_sliver).abs() < 0.01);
    assert!((share(extra) - risk.chance_extra_course).abs() < 0.01);
    assert!(risk.chance_sliver > 0.02 && risk.chance_extra_course > 0.02);
}

/// Normal values from a small generator with a fixed start.
pub struct Normal(pub u64);

impl Normal {
    fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    /// The next one, of mean 0 and standard deviation 1.
    pub fn next(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

#[test]
fn mixed_gaps_share_the_errors_of_both_fasteners() {
    let mut job = deck("142", "5-1/2", "1/4");
    let mut other = fastener("other", FastenerKind::Face);
    other.gap = Span::fixed(inch("1/8"));
    other.uncertainty = inch("1/32");
    job.fasteners.push(other);
    job.courses.mixed = Some(Mixed {
        fastener: 1,
        gaps: 8,
    });
    let forecast = first(&job);
    // 24 gaps: 16 of 1/4 in and 8 of 1/8 in leave 5 in.
    assert_eq!(forecast.outcome.last_width, Some(inch("5")));
    assert_eq!(forecast.sensitivity.gap, 16);
    assert_eq!(spread(&job).worst, inch("1/4"));
}

const FINISHES: [Finish; 5] = [
    Finish::RipLast,
    Finish::RipFirst,
    Finish::Balanced,
    Finish::Shared,
    Finish::LeaveOut,
];

fn some_job() -> impl Strategy<Value = Job> {
    (
        600i64..40_000,
        500i64..6_000,
        0i64..700,
        prop::option::of((0u32..9, 0i64..700)),
        0..5usize,
        0i64..4_000,
    )
        .prop_map(|(width, face, gap, mixed, finish, rip)| {
            let mut job = job(inches(240), Length::from_units(width));
            job.board.face = Length::from_units(face);
            job.board.narrowest_rip = Length::from_units(rip.min(face));
            job.fasteners[0].gap = Span::fixed(Length::from_units(gap));
            job.courses.finish = FINISHES[finish];
            if let Some((gaps, other)) = mixed {
                let mut second = fastener("other", FastenerKind::Face);
                second.gap = Span::fixed(Length::from_units(other));
                job.fasteners.push(second);
                job.courses.mixed = Some(Mixed { fastener: 1, gaps });
            }
            job
        })
}

fn at(across: &Across, gap: i64) -> Outcome {
    across.with_gap(Length::from_units(gap)).outcome()
}

proptest! {
    #[test]
    fn gaps_hold_exactly_as_long_as_the_count_and_the_verdict(job in some_job()) {
        let forecast = first(&job);
        let (across, now) = (forecast.across, forecast.outcome);
        for gap in 0..2_000 {
            let then = at(&across, gap);
            let length = Length::from_units(gap);
            prop_assert_eq!(forecast.gap_holds.contains(length), then.laid == now.laid, "{}", gap);
            let same = (then.laid, then.verdict) == (now.laid, now.verdict);
            prop_assert_eq!(forecast.verdict_holds.contains(length), same, "{}", gap);
        }
    }

    #[test]
    fn courses_tile_the_surface(job in some_job()) {
        let surface = surface_of(&job);
        let layout = layout(&job, &surface, 0);
        let outcome = Across::of(&job, &surface, 0).outcome();
        prop_assert_eq!(layout.courses.len() as i64, outcome.laid);
        prop_assert_eq!(layout.gaps.len(), layout.courses.len().saturating_sub(1));
        let mut at = Length::ZERO;
        for (k, course) in layout.courses.iter().enumerate() {
            prop_assert_eq!(course.number as usize, k + 1);
            prop_assert_eq!(course.from, at);
            prop_assert!(course.width() > Length::ZERO && course.width() <= job.board.face);
            prop_assert_eq!(course.ripped, course.width() < job.board.face);
            at = course.to;
            if let Some(gap) = layout.gaps.get(k) {
                prop_assert_eq!(gap.width, job.fasteners[gap.fastener].gap.set);
                at += gap.width;
            }
        }
        prop_assert_eq!(at + layout.short_by, surface.width);
        let mixed = layout.gaps.iter().filter(|gap| gap.fastener == 1).count();
        let wanted = job.courses.mixed.map_or(0, |m| m.gaps as usize);
        prop_assert_eq!(mixed, wanted.min(layout.gaps.len()));
        let first = layout.courses.first().map(|c| c.width());
        let last = layout.courses.last().map(|c| c.width());
        prop_assert_eq!((first, last), (outcome.first_width, outcome.last_width));
        let ripped = layout.courses.iter().filter(|c| c.ripped).map(|c| c.width());
        prop_assert_eq!(
            ripped.clone().next_back().map_or(Length::ZERO, |w| job.board.face - w),
            layout.ripped_off
        );
        let sliver = ripped.min().is_some_and(|w| w < job.board.narrowest_rip);
        prop_assert_eq!(layout.verdict == Verdict::Sliver, sliver);
    }

    #[test]
    fn one_unit_more_takes_what_the_sensitivity_says(job in some_job()) {
        let forecast = first(&job);
        let wider = forecast.across.with_gap(forecast.across.gap + Length::from_units(1)).outcome();
        if wider.gaps == forecast.outcome.gaps {
            let taken = (forecast.outcome.last - wider.last).units();
            prop_assert_eq!(taken, forecast.sensitivity.gap);
        }
    }
}
