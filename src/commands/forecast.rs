//! `lastcourse forecast`.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::courses::forecast;
use lastcourse::deck::{supports, surface};
use lastcourse::fit::{Task, plan_all};
use lastcourse::job::{self, Job, Set, message};
use lastcourse::length::Unit;
use lastcourse::report::forecast as report;
use lastcourse::report::{Page, Terms, json};

use super::common::{Format, FractionArgs, JobArgs, SetArgs, formats, load};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::pricing::Pricing;
use super::watch::{LimitArgs, Watching};

/// Say where the last course falls, for each fastener of a job
///
/// Courses are counted from the first edge: with a surface W wide, boards with a face b and gaps g
/// there are n = (W + g) / (b + g) of them, rounded up, and the last is W - (n - 1)(b + g) wide. A
/// wrong gap is multiplied by n - 1, so what happens when it is off by 1/32 and 1/16 in (1 and
/// 2 mm) is always shown.
///
/// Errors: the worst case takes every tolerance and uncertainty at its limit; the root-sum-square
/// adds up their squares, each board and gap varying by itself (`board.face_tolerance`,
/// `fastener.tolerance`), the whole batch and all gaps alike (`board.uncertainty`,
/// `fastener.uncertainty`) and the frame (`deck.tolerance`). For the chances the last course's
/// width is taken to be normally distributed, its standard deviation a third of that
/// root-sum-square.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "lastcourse forecast [OPTIONS] JOB\n       \
        lastcourse forecast [OPTIONS] --across LENGTH --face LENGTH --gap NAME=LENGTH...",
    after_help = "\
Examples:
  lastcourse forecast deck.toml
  lastcourse forecast deck.toml --set fastener.1.gap=1/4in
  lastcourse forecast --across \"13ft 2in\" --face 5-1/2in --gap clip=3/16in --gap spacer=1/4in
  lastcourse forecast --across 3600mm --face 145mm --gap clip=5mm --set fastener.1.uncertainty=1mm"
)]
pub struct Args {
    /// The job file, or `-` for standard input
    #[arg(
        value_name = "JOB",
        value_hint = ValueHint::FilePath,
        required_unless_present_any = ["across", "face", "gap"]
    )]
    job: Option<PathBuf>,

    #[command(flatten)]
    bare: BareArgs,

    #[command(flatten)]
    sets: SetArgs,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// A deck in three figures, where there is no job file. Whatever else a job
/// file says can be said with `--set`.
#[derive(Debug, clap::Args)]
struct BareArgs {
    /// Width to cover, square to the boards; whatever else a job says goes with --set
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Without a job file",
        conflicts_with = "job",
        requires_all = ["face", "gap"]
    )]
    across: Option<String>,

    /// Width of a board that shows
    #[arg(
        long,
        value_name = "LENGTH",
        help_heading = "Without a job file",
        conflicts_with = "job",
        requires_all = ["across", "gap"]
    )]
    face: Option<String>,

    /// A fastener and the gap it leaves; may be repeated
    #[arg(
        long,
        value_name = "NAME=LENGTH",
        help_heading = "Without a job file",
        conflicts_with = "job",
        requires_all = ["across", "face"]
    )]
    gap: Vec<String>,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let job = match args.job {
        Some(job) => load(&JobArgs {
            job,
            sets: args.sets,
        })?,
        None => bare(args.bare, args.sets)?,
    };
    let surface = surface(&job).map_err(|error| Failure::no_deck(&error))?;
    let forecasts = (0..job.fasteners.len()).map(|k| forecast(&job, &surface, k));
    let plans = plans(&job)?;
    let rows: Vec<report::Row> = forecasts
        .enumerate()
        .map(|(k, forecast)| report::Row {
            forecast,
            plan: plans.as_ref().and_then(|plans| plans.get(k).cloned()),
        })
        .collect();
    let cautions = supports(&job).cautions;
    let cautions = if plans.is_some() {
        cautions
    } else {
        Vec::new()
    };
    let text = match args.format {
        Format::Json => json::pretty(&report::json(&job, &surface, &rows, &cautions)),
        _ => {
            let terms = Terms::of(&job, args.fraction.fraction.denominator());
            let mut page = Page::new(console.width());
            report::text(&job, &surface, &rows, &cautions, &terms, &mut page);
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// What the boards for each fastener come to; nothing where no boards are known.
fn plans(job: &Job) -> Result<Option<Vec<lastcourse::fit::Planned>>, Failure> {
    if job.stock.is_empty() {
        return Ok(None);
    }
    let tasks: Vec<Task> = (0..job.fasteners.len())
        .map(|fastener| Task {
            job: job.clone(),
            fastener,
        })
        .collect();
    let watch = Watching::start(LimitArgs::default(), |cents| format!("{cents} cents"));
    let pricing = Pricing::watched(&watch);
    let plans = plan_all(&tasks, &|tasks| pricing.plan(tasks));
    pricing.sound()?;
    Ok(Some(plans))
}

/// A job from three figures, checked like one from a file.
fn bare(args: BareArgs, sets: SetArgs) -> Result<Job, Failure> {
    // How long the boards run decides nothing across them.
    const REST: &str = "[deck]\nalong = \"1ft\"\n";
    let mut given: Vec<(&str, Set)> = Vec::new();
    let lengths = || {
        let gaps = args.gap.iter().map(|gap| named(gap, 0).1);
        args.across
            .iter()
            .chain(&args.face)
            .map(String::as_str)
            .chain(gaps)
    };
    if lengths().all(|text| Unit::named_in(text) == Some(Unit::Millimetre)) {
        given.push(("--unit", Set::new("unit", "mm")));
    }
    if let Some(across) = &args.across {
        given.push(("--across", Set::new("deck.across", across)));
    }
    if let Some(face) = &args.face {
        given.push(("--face", Set::new("board.face", face)));
    }
    for (k, gap) in args.gap.iter().enumerate() {
        let (name, gap) = named(gap, k);
        given.push(("--gap", Set::new(format!("fastener.{}.name", k + 1), name)));
        given.push(("--gap", Set::new(format!("fastener.{}.gap", k + 1), gap)));
    }
    let all: Vec<Set> = given
        .iter()
        .map(|(_, set)| set.clone())
        .chain(sets.set)
        .collect();
    match job::read(REST, "the options", &all) {
        Ok(checked) => Ok(checked.job),
        Err(mut findings) => {
            // Problems are shown where they were typed.
            for (source, (option, _)) in findings.sources.iter_mut().skip(1).zip(&given) {
                source.name = (*option).to_string();
            }
            Err(Failure::Input {
                report: message::styled(&findings),
            })
        }
    }
}

/// A fastener's name and its gap; without a name it goes by its place.
fn named(text: &str, place: usize) -> (String, &str) {
    match text.rsplit_once('=') {
        Some((name, gap)) if !name.trim().is_empty() => (name.trim().to_string(), gap),
        _ => (format!("gap {}", place + 1), text.trim_start_matches('=')),
    }
}
