//! `lastcourse order`: what to buy for a plan.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::job::Job;
use lastcourse::order::{Order, OrderError, order};
use lastcourse::plan::Objective;
use lastcourse::report::{Page, Terms, json, order as report};
use lastcourse::verify;

use super::common::{Format, FractionArgs, JobArgs, formats, load};
use super::compare::{self, Compare};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::write_whole;
use super::planning::{PlanArgs, Planned, planned, say};
use super::watch::Watching;

/// List what to buy: boards, clips or screws, spares, the frame, fascia, and the money
///
/// Boards are those of the plan that `lastcourse plan` shows for the same options; spare boards, by
/// `[order]` in the job, stand apart.
///
/// Hidden clips are counted one for each joist in each gap between two courses, and one more there
/// for each joint beside it; the outer edges of the first and the last course take a starter clip
/// or a face screw on each joist. Courses fastened through the face take two screws for each board
/// on each of its joists, three where the face is over 8 in. Spares by per cent and whole packs come
/// on top, each rounded up.
///
/// Where the job has a `[frame]`, its members are counted from the plan and the supports, and every
/// size of `[[lumber]]` is cut as cheaply as can be; where it has a `[fascia]`, the boards of every
/// open edge are cut with their corners and splices. `[[stairs]]` add their stringers and what
/// fixes the treads, which are cut with the courses; `[guard]` adds posts, rails and balusters
/// along the open edges; `[codes]` compares joists and boards with
/// published tables or your own, which designs nothing; `[[item]]` adds what you count yourself. What
/// the job gives no figures for is listed under what was not counted.
///
/// Contingency, delivery, tax and labour come on top as `[order]` has them, and the sum is set
/// against its budget. `--compare` orders the deck in several ways and shows what each comes to and
/// what differs.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse order deck.toml
  lastcourse order deck.toml --set order.spare=2
  lastcourse order deck.toml --prices yard.csv
  lastcourse order deck.toml --compare fastener
  lastcourse order deck.toml --beside smaller.toml
  lastcourse order deck.toml --format csv > order.csv
  lastcourse order deck.toml --spreadsheet order.xlsx")]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    #[command(flatten)]
    plan: PlanArgs,

    /// Set whole orders side by side instead
    #[arg(long, value_enum, value_name = "WHAT")]
    compare: Option<Compare>,

    /// Set this job beside the others, ordered in the same way; may be repeated
    #[arg(long, value_name = "JOB", value_hint = ValueHint::FilePath)]
    beside: Vec<PathBuf>,

    /// Write the order as a spreadsheet too, whose sums follow prices typed in
    #[arg(long, value_name = "FILE.xlsx", value_hint = ValueHint::FilePath, conflicts_with_all = ["compare", "beside"])]
    spreadsheet: Option<PathBuf>,

    /// Replace the spreadsheet if it is there
    #[arg(long, requires = "spreadsheet")]
    force: bool,

    /// How the answer is written; csv is for the yard
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json, Format::Csv]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    if args.compare.is_some() || !args.beside.is_empty() {
        return compare::run(
            &args.job,
            &args.plan,
            args.compare,
            &args.beside,
            args.format,
            args.fraction.fraction,
            console,
        );
    }
    let job = load(&args.job)?;
    let terms = Terms::of(&job, args.fraction.fraction.denominator());
    let found = planned(&job, &args.plan, &terms)?;
    let order = ordered(&job, &found, &args.plan, &terms)?;
    if let Some(path) = &args.spreadsheet {
        let bytes = report::spreadsheet(&job, &order)
            .map_err(|error| Failure::impossible(error.to_string(), ""))?;
        write_whole(path, bytes, args.force)?;
    }
    let text = match args.format {
        Format::Text => {
            let mut page = Page::new(console.width());
            report::text(&job, &found.plan, &order, &terms, &mut page);
            page.finish()
        }
        Format::Json => json::pretty(&report::json(&job, &found.plan, &order)),
        Format::Csv => {
            console.cautions(&order.cautions);
            report::csv(&job, &order)
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}

/// The order with the deck's cautions, its cut lists verified before anybody sees
/// them.
pub(super) fn ordered(
    job: &Job,
    found: &Planned,
    args: &PlanArgs,
    terms: &Terms,
) -> Result<Order, Failure> {
    let watch = Watching::start(args.limits(), say(Objective::Cost, terms));
    let mut order =
        order(job, &found.surface, &found.plan, &watch).map_err(|error| match error {
            OrderError::Impossible { message, help } => Failure::impossible(message, help),
            OrderError::Stopped => Failure::Stopped {
                message: error.to_string(),
            },
        })?;
    drop(watch);
    for (problem, plan) in order.cut_lists() {
        let violations = verify::cut(problem, plan);
        if !violations.is_empty() {
            return Err(Failure::unsound(&violations));
        }
    }
    // What concerns the deck comes before what concerns the order.
    let further = found.cautions.iter();
    let further: Vec<_> = further
        .filter(|one| !order.cautions.contains(one))
        .cloned()
        .collect();
    order.cautions.splice(0..0, further);
    Ok(order)
}
