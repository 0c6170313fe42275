//! `lastcourse measure`.

use std::io::Write;

use clap::{ArgMatches, FromArgMatches};
use lastcourse::deck::surface;
use lastcourse::job::{Findings, Job, Problem, Severity, Source, TapeReading, message, readings};
use lastcourse::measure::typed::{self, Typed, Word};
use lastcourse::measure::{Asked, Doubt, End, measure};
use lastcourse::report::measure as report;
use lastcourse::report::{Page, Terms, json};

use super::common::{Format, FractionArgs, JobArgs, accept, formats, source};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::name;
use super::planning::fastener;

/// Say where the last course will fall by what a tape says while the deck is laid
///
/// Measure from the starting edge, where the layout marks have their zero, to the far edge of a
/// course, and say after which. Readings may stand in the job too (`[[reading]]`); one given here
/// takes the place of the job's after the same course. `--to-far` measures from the course on to the
/// frame's last edge, where the starting edge is covered or far away: what is left is then as read,
/// and the pace is as sure as the frame's size.
///
/// The pace is how much wider each pitch came out than board and gap as set. What each board and
/// gap is off by itself (`board.face_tolerance`, `fastener.tolerance`) adds up like a random walk;
/// what all are off alike (`board.uncertainty`, `fastener.uncertainty`) is a slope. The reading is
/// weighed against these; where the job says nothing of a slope, 1/32 in or 1 mm a gap is taken for
/// it. A reading beyond them decides alone. Ranges are three standard deviations, by
/// root-sum-square, with the tape's and the frame's tolerance in them; at worst every one of these
/// is at its limit.
///
/// From there: how the deck ends if nothing changes, and the gap to set from here on so that it ends
/// as planned or on a whole course, if the fastener's range allows that. Some gaps are set a step
/// wider than the others where that comes nearer. After another gap was set, say so with the next
/// reading: `--gap`.
///
/// With both ends measured (`--left`, `--right`): how far the courses are out of parallel, what that
/// makes of the last one, and how to take it out. With the frame's diagonals: whether it is square.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse measure deck.toml
  lastcourse measure deck.toml --after 9 --at \"4ft 3-5/8in\"
  lastcourse measure deck.toml --after 9 --left 1298mm --right 1302mm
  lastcourse measure deck.toml --after 20 --to-far \"3ft 4-1/4in\"
  lastcourse measure deck.toml --after 5 --at 28-1/2in --after 10 --at 57in --gap 1/8in
  lastcourse measure deck.toml --diagonals \"25ft 11in\" \"25ft 11-1/4in\"")]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    #[command(flatten)]
    words: Words,

    /// Laid with this fastener [default: the job's first]
    #[arg(long, value_name = "NAME")]
    fastener: Option<String>,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// The options of readings, as clap knows them.
#[derive(Debug, clap::Args)]
struct Options {
    /// The course a reading was taken after, counted from 1 at the first edge; may be repeated
    #[arg(long, value_name = "COURSE", help_heading = "Readings")]
    after: Vec<String>,

    /// What the tape says there, from the starting edge to the course's far edge
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    at: Vec<String>,

    /// The same at the courses' left end, where both ends were measured
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    left: Vec<String>,

    /// The same at their right end
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    right: Vec<String>,

    /// Instead of those: from the course's far edge on to the outside of the frame's last edge
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    to_far: Vec<String>,

    /// The gap that was set since the reading before [default: the fastener's]
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    gap: Vec<String>,

    /// The frame's diagonals: first edge's left end to last edge's right end, then the other
    #[arg(
        long,
        num_args = 2,
        value_names = ["LENGTH", "LENGTH"],
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    diagonals: Option<Vec<String>>,

    /// How exactly the tape is read, plus or minus [default: 1/16 in, or 1.5 mm]
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    tape: Option<String>,

    /// The steps in which a gap can be set [default: 1/64 in, or 0.5 mm]
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Readings"
    )]
    step: Option<String>,
}

/// Those options in the order they were typed: what follows an `--after` belongs to it.
#[derive(Debug, Clone)]
struct Words(Vec<Word>);

impl FromArgMatches for Words {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Words, clap::Error> {
        const NAMES: [(&str, &str); 9] = [
            ("after", "--after"),
            ("at", "--at"),
            ("left", "--left"),
            ("right", "--right"),
            ("to_far", "--to-far"),
            ("gap", "--gap"),
            ("diagonals", "--diagonals"),
            ("tape", "--tape"),
            ("step", "--step"),
        ];
        let mut words: Vec<(usize, Word)> = Vec::new();
        for (id, name) in NAMES {
            let texts = matches.get_many::<String>(id).into_iter().flatten();
            let places = matches.indices_of(id).into_iter().flatten();
            words.extend(places.zip(texts).map(|(place, text)| {
                let text = text.clone();
                (place, Word { name, text })
            }));
        }
        words.sort_by_key(|(place, _)| *place);
        Ok(Words(words.into_iter().map(|(_, word)| word).collect()))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Words::from_arg_matches(matches)?;
        Ok(())
    }
}

impl clap::Args for Words {
    fn augment_args(command: clap::Command) -> clap::Command {
        <Options as clap::Args>::augment_args(command)
    }

    fn augment_args_for_update(command: clap::Command) -> clap::Command {
        <Options as clap::Args>::augment_args_for_update(command)
    }
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let text = source(&args.job)?;
    let job = accept(&args.job, &text)?;
    let far = job.edges.first.reach() + job.deck.across;
    let typed = typed::read(&args.words.0, job.unit, far).map_err(|findings| wrong(&findings))?;
    let surface = surface(&job).map_err(|error| Failure::no_deck(&error))?;
    let fastener = match &args.fastener {
        Some(name) => fastener(&job, name)?,
        None => 0,
    };
    let readings = together(&job, &typed);
    let asked = Asked {
        fastener,
        readings: &readings,
        diagonals: typed.diagonals.or(job.deck.diagonals),
        tape: typed.tape,
        step: typed.step,
    };
    let measured =
        measure(&job, &surface, &asked).map_err(|doubt| doubted(&args, &text, &typed, &doubt))?;
    let text = match args.format {
        Format::Json => json::pretty(&report::json(&job, &measured)),
        _ => {
            let terms = Terms::of(&job, args.fraction.fraction.denominator());
            let mut page = Page::new(console.width());
            report::text(&job, &measured, &terms, &mut page);
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// The job's readings, those that were typed added to them or in their place.
fn together(job: &Job, typed: &Typed) -> Vec<TapeReading> {
    let mut readings = typed.readings.clone();
    let typed = |after: u32| typed.readings.iter().any(|reading| reading.after == after);
    let own = job.readings.iter().filter(|reading| !typed(reading.after));
    readings.extend(own.copied());
    readings.sort_by_key(|reading| reading.after);
    readings
}

fn wrong(findings: &Findings) -> Failure {
    Failure::Input {
        report: message::styled(findings),
    }
}

/// A reading that cannot be, told where it stands.
fn doubted(args: &Args, text: &str, typed: &Typed, doubt: &Doubt) -> Failure {
    if let Some(findings) = typed.told(doubt) {
        return wrong(&findings);
    }
    let field = match doubt.end {
        End::Once => "at",
        End::Left => "left",
        End::Right => "right",
    };
    wrong(&Findings {
        sources: vec![Source {
            name: name(&args.job.job),
            text: text.to_owned(),
        }],
        problems: vec![Problem {
            severity: Severity::Error,
            place: readings::place(text, doubt.after, field),
            message: doubt.message.clone(),
            help: doubt.help.clone(),
            also: Vec::new(),
        }],
    })
}
