//! Whole runs, each in a process of its own: how long one takes, in processor time
//! too, the most memory it held (`VmHWM` of `/proc/self/status`, so on Linux only),
//! and how good the plan is known to be. Ladders of squares show how these grow.
//! A minute each at most.

#![allow(clippy::print_stdout, reason = "a bench reports what it measured")]

use std::env;
use std::fs;
use std::process::Command;
use std::time::{Duration, Instant};

use lastcourse::courses::forecast;
use lastcourse::deck::surface;
use lastcourse::job::Job;
use lastcourse::length::Length;
use lastcourse::plan::{PlanOptions, plan};

mod support;
use support::clock::{Clock, Until};

const LIMIT: Duration = Duration::from_secs(60);

/// Says which deck a process of its own is to take.
const DECK: &str = "LASTCOURSE_BENCH_DECK";

fn decks() -> Vec<(String, Job)> {
    let mut decks = vec![
        ("16 ft x 24 ft".to_owned(), support::feet(16, 24)),
        ("24 ft x 16 ft".to_owned(), support::feet(24, 16)),
        (
            "34 ft 3 in x 20 ft, five lengths".to_owned(),
            support::odd(),
        ),
        ("60 ft x 30 ft".to_owned(), support::feet(60, 30)),
    ];
    let ladder = [10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 120, 150, 200];
    let three = |size| (format!("{size} ft x {size} ft"), support::feet(size, size));
    decks.extend(ladder.map(three));
    decks.extend(ladder.map(|size| {
        let side = Length::from_feet(size);
        let job = support::deck(side, side, &[8, 10, 12, 16, 20]);
        (format!("{size} ft x {size} ft, five lengths"), job)
    }));
    decks
}

/// The most memory this process has held, in kB.
fn peak() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

fn one(job: Option<&Job>) {
    let (start, clock) = (Instant::now(), Clock::start());
    let good = match job {
        None => {
            let job = support::movable();
            forecast(&job, &surface(&job).expect("a surface"), 0);
            "forecast".to_owned()
        }
        Some(job) => match plan(job, &PlanOptions::default(), &Until(Clock::start(), LIMIT)) {
            Err(error) => error.to_string(),
            Ok(plan) if plan.totals.proven => "proven".to_owned(),
            Ok(plan) => {
                let (value, bound) = (plan.totals.value as f64, plan.totals.bound as f64);
                format!("gap {:.2} %", (value - bound) / value * 100.0)
            }
        },
    };
    let took = start.elapsed().as_secs_f64() * 1000.0;
    let peak = peak().map_or("?".to_owned(), |kb| format!("{:.1}", kb as f64 / 1024.0));
    let own = clock.took().as_secs_f64() * 1000.0;
    println!("{took:>10.1} ms {own:>10.0} ms of processor {peak:>8} MB  {good}");
}

fn main() {
    let decks = decks();
    if let Ok(deck) = env::var(DECK) {
        let place: Option<usize> = deck.parse().ok();
        return one(place.and_then(|place| decks.get(place)).map(|(_, job)| job));
    }
    let program = env::current_exe().expect("the bench's own path");
    let run = |name: &str, deck: &str| {
        let ran = Command::new(&program).env(DECK, deck).output();
        let out = ran.expect("the bench runs").stdout;
        print!("{name:<34}{}", String::from_utf8_lossy(&out));
    };
    run("forecast", "none");
    for (place, (name, _)) in decks.iter().enumerate() {
        run(name, &place.to_string());
    }
}
