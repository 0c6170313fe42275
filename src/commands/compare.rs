//! `lastcourse order --compare`: whole orders side by side, for each fastener,
//! board, direction or size, or for several job files.

use std::io::Write;
use std::path::PathBuf;

use lastcourse::fit::{Change, Kind, Ranking, fit, turned};
use lastcourse::job::{Job, Set};
use lastcourse::order::{Choice, Made};
use lastcourse::report::{Page, Terms, compare as report, fit as ways, json};
use lastcourse::text::{shell_option, shell_word};

use super::common::{Format, Fraction, JobArgs, accept, again, first, source};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::order::ordered;
use super::planning::{PlanArgs, planned};
use super::pricing::Pricing;
use super::watch::Watching;

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Compare {
    /// Each fastener of the job
    Fastener,
    /// The job's boards and each `[[alternative]]` with other boards or stock
    Board,
    /// The boards as they run, and the other way, with the frame that takes
    Direction,
    /// The frame as it is, and the sizes near it that end in whole courses
    Size,
    /// The job as it is, and each `[[alternative]]`
    Alternative,
}

/// A choice that is not ordered yet.
struct Wanted {
    name: String,
    options: String,
    notes: Vec<String>,
    plan: PlanArgs,
    job: Result<Job, String>,
}

/// Orders every choice and shows them side by side.
pub fn run(
    args: &JobArgs,
    plan: &PlanArgs,
    compare: Option<Compare>,
    beside: &[PathBuf],
    format: Format,
    fraction: Fraction,
    console: &mut Console,
) -> Result<Exit, Failure> {
    let text = source(args)?;
    let job = accept(args, &text)?;
    let terms = Terms::of(&job, fraction.denominator());
    let read =
        |sets: &[Set]| again(args, &text, sets, &job.prices).map_err(|findings| first(&findings));
    let mut wanted = match compare {
        Some(Compare::Fastener) => fasteners(args, plan, &job),
        Some(Compare::Direction) => directions(args, plan, &job),
        Some(Compare::Size) => sizes(args, plan, &job, &read)?,
        Some(Compare::Board) => alternatives(args, plan, &job, &read, true)?,
        Some(Compare::Alternative) => alternatives(args, plan, &job, &read, false)?,
        None => vec![as_it_is(args, plan, &job, job.title.clone())],
    };
    for path in beside {
        let other = JobArgs {
            job: path.clone(),
            sets: args.sets.clone(),
        };
        let here = &job;
        let job = accept(&other, &source(&other)?)?;
        if job.currency != here.currency {
            return Err(Failure::input(
                format!(
                    "{} counts in {}, and {} in {}",
                    here.title, here.currency, job.title, job.currency
                ),
                "orders are compared in one currency: `--set currency=...` takes prices as they \
                 stand, a price list brings others",
            ));
        }
        let name = match job.title == wanted[0].name {
            true => format!("{} ({})", job.title, path.display()),
            false => job.title.clone(),
        };
        wanted.push(as_it_is(&other, plan, &job, name));
    }
    let choices = wanted
        .into_iter()
        .map(|wanted| choice(wanted, &terms))
        .collect::<Result<Vec<Choice>, Failure>>()?;
    let written = match format {
        Format::Json => json::pretty(&report::json(&job, &choices)),
        Format::Csv => report::csv(&choices),
        Format::Text => {
            let mut page = Page::new(console.width());
            report::text(&job, &choices, &terms, &mut page);
            page.finish()
        }
    };
    console.write_all(written.as_bytes())?;
    Ok(Exit::Done)
}

/// The words that order a choice again.
fn words(args: &JobArgs, plan: &PlanArgs, sets: &[Set]) -> String {
    let mut words = format!("lastcourse order {}", args.words());
    for set in sets {
        words.push_str(&format!(" --set {}", shell_word(&set.text())));
    }
    words.push_str(&plan.words());
    words
}

fn as_it_is(args: &JobArgs, plan: &PlanArgs, job: &Job, name: String) -> Wanted {
    Wanted {
        name,
        options: words(args, plan, &[]),
        notes: Vec::new(),
        plan: plan.clone(),
        job: Ok(job.clone()),
    }
}

fn fasteners(args: &JobArgs, plan: &PlanArgs, job: &Job) -> Vec<Wanted> {
    let each = job.fasteners.iter().enumerate();
    each.map(|(place, fastener)| {
        let named = plan.with_fastener(&fastener.name);
        let options = match place {
            0 => words(args, plan, &[]),
            _ => format!(
                "lastcourse order {} {}",
                args.words(),
                shell_option("--fastener", &fastener.name)
            ),
        };
        Wanted {
            name: fastener.name.clone(),
            options,
            notes: Vec::new(),
            plan: named,
            job: Ok(job.clone()),
        }
    })
    .collect()
}

fn directions(args: &JobArgs, plan: &PlanArgs, job: &Job) -> Vec<Wanted> {
    let at = |length: lastcourse::length::Length| length.show(job.unit);
    let (along, across) = (at(job.deck.along), at(job.deck.across));
    let now = as_it_is(args, plan, job, format!("along {along}"));
    let other = turned(job);
    let notes = match &other {
        Ok(turned) => turned.notes.clone(),
        Err(_) => Vec::new(),
    };
    let other = Wanted {
        name: format!("along {across}"),
        options: String::new(),
        notes,
        plan: plan.clone(),
        job: other.map(|turned| turned.job),
    };
    vec![now, other]
}

type Reader<'a> = &'a dyn Fn(&[Set]) -> Result<Job, String>;

fn sizes(args: &JobArgs, plan: &PlanArgs, job: &Job, read: Reader) -> Result<Vec<Wanted>, Failure> {
    let fastener = plan.options(job)?.fastener;
    let watch = Watching::start(plan.limits(), |cents| format!("{cents} cents"));
    let pricing = Pricing::watched(&watch);
    let found = fit(job, &[fastener], Ranking::Disturbance, &|tasks| {
        pricing.plan(tasks)
    })
    .map_err(|error| Failure::no_deck(&error))?;
    pricing.sound()?;
    drop(watch);
    let mut wanted = vec![as_it_is(args, plan, job, "as it is".to_owned())];
    let sized = |kinds: &[Kind]| {
        let size = |kind: &Kind| matches!(kind, Kind::Frame | Kind::Length);
        !kinds.is_empty() && kinds.iter().all(size)
    };
    for found in found.iter().filter(|found| sized(&found.way.kinds)) {
        let sets = ways::sets(job, &found.way);
        let sizes = found.way.changes.iter().filter_map(|change| match change {
            Change::Across(to) => Some(format!("{} across", to.show(job.unit))),
            Change::Along(to) => Some(format!("{} along", to.show(job.unit))),
            _ => None,
        });
        let sizes: Vec<String> = sizes.collect();
        wanted.push(Wanted {
            name: sizes.join(", "),
            options: words(args, plan, &sets),
            notes: Vec::new(),
            plan: plan.clone(),
            job: read(&sets),
        });
    }
    if wanted.len() == 1 {
        return Err(Failure::impossible(
            "no other size of the frame ends in whole courses or saves boards",
            "a frame that is `built` has no other size; `plan --sweep` tries any range",
        ));
    }
    Ok(wanted)
}

fn alternatives(
    args: &JobArgs,
    plan: &PlanArgs,
    job: &Job,
    read: Reader,
    boards: bool,
) -> Result<Vec<Wanted>, Failure> {
    let of_boards = |set: &Set| {
        let path = set.text();
        ["board", "stock"]
            .iter()
            .any(|table| path.starts_with(table))
    };
    let mut wanted = vec![as_it_is(args, plan, job, "as it is".to_owned())];
    let chosen = job.alternatives.iter();
    let chosen = chosen.filter(|other| !boards || other.sets.iter().any(of_boards));
    wanted.extend(chosen.map(|other| Wanted {
        name: other.name.clone(),
        options: words(args, plan, &other.sets),
        notes: Vec::new(),
        plan: plan.clone(),
        job: read(&other.sets),
    }));
    if wanted.len() == 1 {
        return Err(Failure::impossible(
            match boards {
                true => "the job has no other boards to compare",
                false => "the job has no alternatives to compare",
            },
            "add them: `[[alternative]]`, and below it `name = \"wide boards\"` and \
             `set = [\"board.face=7-1/4in\", \"stock.1.price=58.40\"]`",
        ));
    }
    Ok(wanted)
}

/// Plans and orders one choice. What cannot be had is said beside the others;
/// a mistake of the program or a stop ends them all.
fn choice(wanted: Wanted, terms: &Terms) -> Result<Choice, Failure> {
    let made = match wanted.job {
        Err(why) => Err(why),
        Ok(job) => match made(job, &wanted.plan, terms) {
            Ok(made) => Ok(Box::new(made)),
            Err(Failure::Impossible { message, help }) => Err(match help.is_empty() {
                true => message,
                false => format!("{message}; {help}"),
            }),
            Err(failure) => return Err(failure),
        },
    };
    Ok(Choice {
        name: wanted.name,
        options: wanted.options,
        notes: wanted.notes,
        made,
    })
}

fn made(job: Job, plan: &PlanArgs, terms: &Terms) -> Result<Made, Failure> {
    let found = planned(&job, plan, terms)?;
    let order = ordered(&job, &found, plan, terms)?;
    Ok(Made {
        plan: found.plan,
        order,
        job,
    })
}
