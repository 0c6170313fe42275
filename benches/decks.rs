//! `plan` over decks by chance, one after the other on one core: how many are
//! proven within so much time, and how far the rest stays open. Ten seconds each
//! at most, and every plan is verified. `cargo bench --bench decks -- 50` takes so
//! many; `doubled` besides gives some supports that carry joints a price; `-v`
//! lists every deck; `17,98` takes those two alone.

#![allow(clippy::print_stdout, reason = "a bench reports what it measured")]

use std::env;
use std::time::Duration;

use lastcourse::job::Job;
use lastcourse::plan::{PlanError, PlanOptions, plan};
use lastcourse::verify;

mod support;
use support::clock::{Clock, Until};
use support::decks::decks;

const LIMIT: Duration = Duration::from_secs(10);

/// Seconds, and how far the bound lies below the plan in per cent; 100 without one.
fn run(job: &Job) -> (f64, f64) {
    let clock = Clock::start();
    let answer = plan(job, &PlanOptions::default(), &Until(Clock::start(), LIMIT));
    let took = clock.took().as_secs_f64();
    let gap = match answer {
        Ok(plan) => {
            let broken = verify::plan(job, &plan);
            assert!(broken.is_empty(), "a plan breaks rules: {broken:?}");
            let (value, bound) = (plan.totals.value as f64, plan.totals.bound as f64);
            if plan.totals.proven {
                0.0
            } else {
                (value - bound) / value * 100.0
            }
        }
        Err(PlanError::Impossible { .. }) => 0.0,
        Err(_) => 100.0,
    };
    (took, gap)
}

fn main() {
    let words: Vec<String> = env::args().skip(1).collect();
    let has = |word: &str| words.iter().any(|w| w == word);
    let count = words.iter().find_map(|w| w.parse().ok()).unwrap_or(50);
    let chosen: Vec<usize> = words
        .iter()
        .filter(|w| w.contains(','))
        .flat_map(|w| w.split(',').filter_map(|n| n.parse().ok()))
        .collect();
    let count = chosen.iter().map(|n| n + 1).max().unwrap_or(count);
    let decks = decks(count, has("doubled"));
    let mut answers = Vec::new();
    for (n, (name, job)) in decks.iter().enumerate() {
        if !chosen.is_empty() && !chosen.contains(&n) {
            continue;
        }
        let (took, gap) = run(job);
        if has("-v") {
            println!("#{n:<3} {took:>7.2} s {gap:>7.3} %  {name}");
        }
        answers.push((took, gap));
    }
    let proven = |within: f64| {
        answers
            .iter()
            .filter(|a| a.0 <= within && a.1 == 0.0)
            .count()
    };
    for within in [0.1, 1.0, 10.5] {
        println!(
            "proven within {within:>4} s: {} of {}",
            proven(within),
            answers.len()
        );
    }
    let above = answers.iter().filter(|a| a.1 > 0.5).count();
    println!("open by more than 0.5 %: {above}");
    let mut gaps: Vec<f64> = answers.iter().map(|a| a.1).filter(|&g| g > 0.0).collect();
    gaps.sort_by(f64::total_cmp);
    if let (Some(worst), Some(median)) = (gaps.last(), gaps.get(gaps.len() / 2)) {
        println!("open by {median:.3} % in the median of those, {worst:.3} % at worst");
    }
}
