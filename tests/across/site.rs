//! Decks laid by chance, once as planned and once with a tape: how much nearer
//! to plan the last course ends. `cargo test --test across site -- --nocapture`
//! prints the figures.

use crate::common::{inches, job, surface_of};
use crate::forecast::Normal;
use lastcourse::courses::layout;
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::measure::{Asked, measure};

const DECKS: usize = 1_000;

/// A deck, what is off on its site, and what a builder can set.
struct Site {
    name: &'static str,
    job: Job,
    /// How far the first reading is, and each from the one before it.
    every: i64,
    step: Length,
    tape: Length,
}

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).expect("a length")
}

/// Boards of 5-1/2 in and spacers of 3/16 in, to be set from 1/8 to 1/4 in; the
/// delivery's boards may be 1/64 in off alike and the gaps 1/32 in, each board
/// 1/32 in and each gap 1/64 in by itself.
fn site(name: &'static str, across: &str, every: i64, step: &str) -> Site {
    let mut job = job(inches(240), inch(across));
    job.board.face_tolerance = inch("1/32");
    job.board.uncertainty = inch("1/64");
    let fastener = &mut job.fasteners[0];
    fastener.kind = FastenerKind::Face;
    fastener.tolerance = inch("1/64");
    fastener.uncertainty = inch("1/32");
    fastener.gap = Span {
        set: inch("3/16"),
        least: inch("1/8"),
        most: inch("1/4"),
    };
    Site {
        name,
        job,
        every,
        step: inch(step),
        tape: inch("1/16"),
    }
}

/// An error: normal, a third of its tolerance.
fn third(random: &mut Normal, tolerance: Length) -> Length {
    Length::from_units((random.next() * tolerance.units() as f64 / 3.0).round() as i64)
}

/// How far the near edge of the last planned course ends from its place, with
/// the tape followed or with every gap left as planned.
fn missed(site: &Site, seed: u64, followed: bool) -> f64 {
    let job = &site.job;
    let surface = surface_of(job);
    let plan = layout(job, &surface, 0);
    let courses = plan.courses.len() as i64;
    let fastener = &job.fasteners[0];
    // The same boards and the same errors of the gaps either way.
    let mut random = Normal(seed);
    let faces = third(&mut random, job.board.uncertainty);
    let gaps = third(&mut random, fastener.uncertainty);
    let mut tape = Normal(seed ^ 0x5851_f42d_4c95_7f2d);
    let mut readings: Vec<TapeReading> = Vec::new();
    let mut at = Length::ZERO;
    // What is set for the gaps ahead, the next one last.
    let mut ahead: Vec<Length> = Vec::new();
    let mut set_since: Vec<Length> = Vec::new();
    for course in 1..courses {
        at += job.board.face + faces + third(&mut random, job.board.face_tolerance);
        if followed && course % site.every == 0 {
            let mean: Length = set_since.iter().copied().sum();
            let count = set_since.len() as i64;
            readings.push(TapeReading {
                after: course as u32,
                tape: Tape::Once(at + third(&mut tape, site.tape)),
                gap: Some(Length::from_units(mean.units() / count)),
            });
            set_since.clear();
            let asked = Asked {
                fastener: 0,
                readings: &readings,
                diagonals: None,
                tape: site.tape,
                step: site.step,
            };
            // A reading that is doubted is taken again by a person; none is here.
            let measured = measure(job, &surface, &asked).expect("a reading that may be");
            let settings = measured.endings[0].settings.iter();
            ahead = settings
                .flat_map(|setting| vec![setting.gap; setting.gaps as usize])
                .collect();
            ahead.reverse();
        }
        let set = ahead.pop().unwrap_or(fastener.gap.set);
        set_since.push(set);
        at += set + gaps + third(&mut random, fastener.tolerance);
    }
    let planned = plan.courses.last().expect("a course").from;
    (at - planned).inches().abs()
}

/// The median and the 95th percentile.
fn of(mut values: Vec<f64>) -> [f64; 2] {
    values.sort_by(f64::total_cmp);
    [50, 95].map(|percent| values[values.len() * percent / 100])
}

#[test]
#[expect(clippy::print_stdout, reason = "the figures are there to be read")]
fn a_deck_that_is_measured_ends_nearer_to_plan() {
    println!(
        "miss of the last course, in: deck | as planned, median, 95 % | measured, median, 95 %"
    );
    for site in [
        site(
            "12 ft, every 5th course, steps of 1/64 in",
            "144",
            5,
            "1/64",
        ),
        site(
            "12 ft, every 5th course, steps of 1/32 in",
            "144",
            5,
            "1/32",
        ),
        site(
            "12 ft, every 5th course, steps of 1/16 in",
            "144",
            5,
            "1/16",
        ),
        site(
            "12 ft, every 12th course, steps of 1/64 in",
            "144",
            12,
            "1/64",
        ),
        site(
            "24 ft, every 5th course, steps of 1/64 in",
            "288",
            5,
            "1/64",
        ),
    ] {
        let seeds = || (1..=DECKS as u64).map(|seed| seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let plain = of(seeds().map(|seed| missed(&site, seed, false)).collect());
        let followed = of(seeds().map(|seed| missed(&site, seed, true)).collect());
        println!(
            "{} | {:.3}, {:.3} | {:.3}, {:.3}",
            site.name, plain[0], plain[1], followed[0], followed[1]
        );
        for (followed, plain) in followed.into_iter().zip(plain) {
            assert!(
                followed * 3.0 < plain,
                "{}: {followed} of {plain}",
                site.name
            );
        }
    }
}
