//! `lastcourse fit`.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{ValueEnum, ValueHint};
use lastcourse::courses::Across;
use lastcourse::deck::surface;
use lastcourse::fit::{Priced, Ranking, Way, fit};
use lastcourse::job::{self, Findings, Job, Set, edit, message};
use lastcourse::report::fit as report;
use lastcourse::report::{Page, Terms, json};
use lastcourse::text::shell_option;

use super::common::{Format, FractionArgs, JobArgs, accept, formats, source};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::write_whole;
use super::planning::fastener;
use super::pricing::Pricing;
use super::watch::{LimitArgs, Watching};

/// List the ways to finish well, ranked by what they disturb and cost
///
/// For each fastener: an overhang within its range (the last edge first, then the first, by the
/// least that serves), a gap within its range (exactly, and as it can be set), a frame to the
/// nearest whole course down and up, some gaps by another fastener, first and last course alike,
/// the last two alike, the rip at the other edge, or leaving it; together where no single one is
/// enough. Along the boards: a little less frame or overhang where a shorter board then serves.
///
/// Ways are ranked by how well the deck ends: whole courses (also short by no more than the last
/// overhang may give up), then short of the edge, a rip of half a board or more, other rips,
/// slivers. Equals are ranked by what disturbs least, in the order above (a gap that can be set by
/// hand before one that cannot, one change before several), then by cost by a real plan, then by
/// the chance that it comes out.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse fit deck.toml
  lastcourse fit deck.toml --choose 2
  lastcourse fit deck.toml --choose 2 --write finished.toml")]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    /// Ways with this fastener only [default: all of the job's]
    #[arg(long, value_name = "NAME")]
    fastener: Option<String>,

    /// What ways are ranked by first
    #[arg(long, value_enum, default_value_t, value_name = "WHAT")]
    rank: Rank,

    /// Print the options that make way K, for any command
    #[arg(long, value_name = "K", value_parser = way, allow_hyphen_values = true)]
    choose: Option<usize>,

    /// Write a job file with the chosen way made; `-` is standard output
    #[arg(long, value_name = "FILE", requires = "choose", value_hint = ValueHint::FilePath)]
    write: Option<PathBuf>,

    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    force: bool,

    #[command(flatten)]
    limits: LimitArgs,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// What ways are ranked by first.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
enum Rank {
    /// How well the deck ends, then how much is disturbed
    #[default]
    Disturbance,
    /// The least money
    Cost,
    /// The best chance that it comes out
    Robust,
}

/// Reads a way's number.
fn way(text: &str) -> Result<usize, String> {
    let number = text.parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| "ways are counted from 1; `fit` without `--choose` lists them".to_owned())
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    // Read once, so that a way is chosen from and written to the same text.
    let text = source(&args.job)?;
    let job = accept(&args.job, &text)?;
    let terms = Terms::of(&job, args.fraction.fraction.denominator());
    let ranking = match args.rank {
        Rank::Disturbance => Ranking::Disturbance,
        Rank::Cost => Ranking::Cost,
        Rank::Robust => Ranking::Robust,
    };
    let ways = ways(&job, &args, ranking)?;
    if let Some(number) = args.choose {
        return choose(&args, &job, &text, &ways, number, console);
    }
    let numbered: Vec<(usize, &Priced)> = (1..).zip(&ways).collect();
    let text = match args.format {
        Format::Json => json::pretty(&report::json(&job, &numbered)),
        _ => {
            let mut page = Page::new(console.width());
            let command = command(&args);
            report::text(&job, &ways, ranking, &command, &terms, &mut page);
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// This very command, to be given a choice.
fn command(args: &Args) -> String {
    let mut command = format!("lastcourse fit {}", args.job.words());
    if let Some(name) = &args.fastener {
        command.push_str(&format!(" {}", shell_option("--fastener", name)));
    }
    command.push_str(match args.rank {
        Rank::Disturbance => "",
        Rank::Cost => " --rank cost",
        Rank::Robust => " --rank robust",
    });
    command
}

/// All ways, priced and ranked.
fn ways(job: &Job, args: &Args, ranking: Ranking) -> Result<Vec<Priced>, Failure> {
    let fasteners: Vec<usize> = match &args.fastener {
        Some(name) => vec![fastener(job, name)?],
        None => (0..job.fasteners.len()).collect(),
    };
    let watch = Watching::start(args.limits, |cents| format!("{cents} cents"));
    let pricing = Pricing::watched(&watch);
    let ways = fit(job, &fasteners, ranking, &|tasks| pricing.plan(tasks))
        .map_err(|error| Failure::no_deck(&error))?;
    pricing.sound()?;
    Ok(ways)
}

/// Prints the options that make a way, or writes a job file that has it made.
fn choose(
    args: &Args,
    job: &Job,
    text: &str,
    ways: &[Priced],
    number: usize,
    console: &mut Console,
) -> Result<Exit, Failure> {
    let Some(chosen) = ways.get(number - 1) else {
        return Err(Failure::input(
            format!("there is no way {number}; there are {}", ways.len()),
            "`fit` without `--choose` lists them",
        ));
    };
    let given = &args.job.sets.set;
    let Some(file) = &args.write else {
        match args.format {
            Format::Json => {
                let answer = report::json(job, &[(number, chosen)]);
                console.write_all(json::pretty(&answer).as_bytes())?;
            }
            _ => writeln!(console, "{}", report::options(job, &chosen.way, given))?,
        }
        return Ok(Exit::Done);
    };
    let sets: Vec<Set> = given
        .iter()
        .cloned()
        .chain(report::sets(job, &chosen.way))
        .collect();
    let wrong = |findings: Findings| Failure::Input {
        report: message::styled(&findings),
    };
    let written = edit::apply(text, &sets).map_err(wrong)?;
    let read = job::read_priced(&written, &file.display().to_string(), &[], &job.prices);
    let read = read.map_err(wrong)?;
    if !makes(&read.job, &chosen.way) {
        return Err(Failure::impossible(
            format!("way {number} does not come out of the file that would be written"),
            "this is a mistake in the program; report it with the input that led to it",
        ));
    }
    if file == Path::new("-") {
        console.write_all(written.as_bytes())?;
        return Ok(Exit::Done);
    }
    write_whole(file, &written, args.force)?;
    console.write_all(said(job, &chosen.way, number, file, console.width()).as_bytes())?;
    Ok(Exit::Done)
}

/// Whether a job has the courses that a way promises.
fn makes(job: &Job, way: &Way) -> bool {
    surface(job).is_ok_and(|surface| {
        surface == way.surface && Across::of(job, &surface, way.fastener).outcome() == way.outcome
    })
}

fn said(job: &Job, way: &Way, number: usize, file: &Path, width: usize) -> String {
    let mut page = Page::new(width);
    page.line(&format!("Way {number} is written to {}.", file.display()));
    if way.fastener != 0 {
        let name = &job.fasteners[way.fastener].name;
        page.line(&format!(
            "It is for {name}: add `{}`, or move that [[fastener]] to the front.",
            shell_option("--fastener", name)
        ));
    }
    page.finish()
}
