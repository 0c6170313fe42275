//! `lastcourse forecast`.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::codes;
use lastcourse::courses::forecast;
use lastcourse::deck::{supports, surface};
use lastcourse::draw;
use lastcourse::fit::{Task, alike, plan_all};
use lastcourse::job::{self, Job, message};
use lastcourse::length::Unit;
use lastcourse::movement;
use lastcourse::report::forecast::{self as report, Boards};
use lastcourse::report::{Page, Terms, json};

use super::common::{Format, FractionArgs, JobArgs, SetArgs, formats, load};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::picture::PictureArgs;
use super::planning::fastener;
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
///
/// Boards of wood (`board.wood`) have the job's face as they are laid and stay where they are
/// fixed, so that each gap takes what a board loses until it is in service; composite
/// (`board.expansion`) grows along, half of it to each end.
///
/// Where fasteners do not all take the same boards, each is planned and set against the best.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "lastcourse forecast [OPTIONS] JOB\n       \
        lastcourse forecast --across LENGTH --face LENGTH --gap NAME=LENGTH...",
    after_help = "\
Examples:
  lastcourse forecast deck.toml
  lastcourse forecast deck.toml --set fastener.1.gap=1/4in
  lastcourse forecast deck.toml --svg ends.svg
  lastcourse forecast --across 158in --face 5-1/2in --gap clip=3/16in
  lastcourse forecast --across 3600mm --face 145mm --gap a=5mm --gap b=6mm"
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

    /// This fastener only [default: all of the job's]
    #[arg(long, value_name = "NAME")]
    fastener: Option<String>,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,

    #[command(flatten)]
    picture: PictureArgs,

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
        allow_hyphen_values = true,
        help_heading = "Without a job file",
        conflicts_with = "job",
        requires_all = ["face", "gap"]
    )]
    across: Option<String>,

    /// Width of a board that shows
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
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
        None => bare(&args.bare, &args.sets)?,
    };
    let surface = surface(&job).map_err(|error| Failure::no_deck(&error))?;
    let fasteners: Vec<usize> = match &args.fastener {
        Some(name) => vec![fastener(&job, name)?],
        None => (0..job.fasteners.len()).collect(),
    };
    let rows: Vec<report::Row> = fasteners
        .iter()
        .zip(boards(&job, &fasteners)?)
        .map(|(&fastener, boards)| report::Row {
            forecast: forecast(&job, &surface, fastener),
            boards,
        })
        .collect();
    let supports = supports(&job);
    let boards = codes::decking(&job, &supports.centres);
    let mut cautions = if job.stock.is_empty() {
        Vec::new()
    } else {
        supports.cautions
    };
    cautions.extend(codes::cautions(boards.as_slice(), job.unit));
    for caution in fasteners.iter().flat_map(|&k| movement::across(&job, k)) {
        // What two fasteners have in common is said once.
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    let terms = Terms::of(&job, args.fraction.fraction.denominator());
    args.picture.write(|| {
        let forecasts: Vec<_> = rows.iter().map(|row| row.forecast.clone()).collect();
        draw::forecasts(&draw::Forecasts {
            job: &job,
            forecasts: &forecasts,
            terms: &terms,
            sheet: args.picture.paper.sheet(job.unit),
            date: args.picture.paper.date.as_deref(),
        })
    })?;
    let text = match args.format {
        Format::Json => json::pretty(&report::json(&job, &surface, &rows, &cautions)),
        _ => {
            let mut page = Page::new(console.width());
            report::text(&job, &surface, &rows, &cautions, &terms, &mut page);
            page.finish()
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// What the boards for each fastener come to, planned only where that decides
/// between them.
fn boards(job: &Job, fasteners: &[usize]) -> Result<Vec<Boards>, Failure> {
    let all = |boards: Boards| Ok(vec![boards; fasteners.len()]);
    if job.stock.is_empty() || fasteners.len() < 2 {
        return all(Boards::Unknown);
    }
    let task = |&fastener: &usize| Task {
        job: job.clone(),
        fastener,
    };
    let tasks: Vec<Task> = fasteners.iter().map(task).collect();
    if alike(&tasks) {
        return all(Boards::Alike);
    }
    let watch = Watching::start(LimitArgs::default(), |cents| format!("{cents} cents"));
    let pricing = Pricing::watched(&watch);
    let plans = plan_all(&tasks, &|tasks| pricing.plan(tasks));
    pricing.sound()?;
    Ok(plans.into_iter().map(Boards::Planned).collect())
}

/// A job from three figures, checked like one from a file.
fn bare(args: &BareArgs, sets: &SetArgs) -> Result<Job, Failure> {
    let quoted = |text: &str| toml::Value::from(text).to_string();
    let across = args.across.as_deref().unwrap_or_default();
    let face = args.face.as_deref().unwrap_or_default();
    let gaps: Vec<(String, &str)> = (1..)
        .zip(&args.gap)
        .map(|(place, gap)| named(gap, place))
        .collect();
    let lengths = [across, face]
        .into_iter()
        .chain(gaps.iter().map(|(_, gap)| *gap));
    // Bare numbers are in the unit that the others are in.
    let mut named = lengths.filter_map(Unit::named_in).peekable();
    let metric = named.peek().is_some() && named.all(|unit| unit == Unit::Millimetre);
    let mut text = format!("unit = \"{}\"\n", if metric { "mm" } else { "in" });
    // How long the boards run decides nothing across them.
    text.push_str("[deck]\nalong = \"1ft\"\n");
    text.push_str(&format!("across = {}\n", quoted(across)));
    text.push_str(&format!("[board]\nface = {}\n", quoted(face)));
    for (name, gap) in gaps {
        let (name, gap) = (quoted(&name), quoted(gap));
        text.push_str(&format!("[[fastener]]\nname = {name}\ngap = {gap}\n"));
    }
    let checked = job::read(&text, "the options", &sets.set);
    checked
        .map(|checked| checked.job)
        .map_err(|findings| Failure::Input {
            report: message::styled(&findings),
        })
}

/// A fastener's name and its gap; without a name it goes by its place.
fn named(text: &str, place: usize) -> (String, &str) {
    match text.rsplit_once('=') {
        Some((name, gap)) if !name.trim().is_empty() => (name.trim().to_string(), gap),
        _ => (format!("gap {place}"), text.trim_start_matches('=')),
    }
}
