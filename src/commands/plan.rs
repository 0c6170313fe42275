//! `lastcourse plan`: boards to buy, how to cut them and how to lay them.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::job::Sweep;
use lastcourse::proof;
use lastcourse::report::{Page, Terms, json, plan as report};

use super::certificate;
use super::common::{Format, FractionArgs, JobArgs, formats, load};
use super::console::Console;
use super::curve;
use super::failure::{Exit, Failure};
use super::picture::PictureArgs;
use super::planning::{PlanArgs, planned, say};
use super::sweep;
use super::watch::Watching;

/// Find the boards to buy and how to cut and lay them, at the least cost
///
/// Every plan is proven best where that can be had; else it says how far it can be from the best.
/// It is checked by a verifier of its own before it is shown. The same job always has the same
/// plan, unless a time limit or Ctrl-C stops the search: then the best plan so far is shown.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse plan deck.toml
  lastcourse plan deck.toml --prefer joints --set joints.stagger=32in
  lastcourse plan deck.toml --format csv > cuts.csv
  lastcourse plan deck.toml --sweep deck.across=13ft..13ft6in:1/4in
  lastcourse plan deck.toml --curve --svg curve.svg
  lastcourse plan deck.toml --joints 40
  lastcourse plan deck.toml --sweep stock.2.price=27..33:0.50")]
pub struct Args {
    #[command(flatten)]
    pub(super) job: JobArgs,

    #[command(flatten)]
    pub(super) plan: PlanArgs,

    /// Plan with a length or price at each value of a range, and list what each comes to
    ///
    /// PATH is the field's name in the job file, as for --set. Values go from FROM in steps of
    /// STEP and not past TO.
    #[arg(long, value_name = "PATH=FROM..TO:STEP", value_parser = Sweep::parse)]
    sweep: Option<Sweep>,

    /// List every sensible number of joints with the least money it takes
    ///
    /// One line a number, the ones left out that cost no less than a lower one. --joints N gives
    /// the plan of a line.
    #[arg(long, conflicts_with_all = ["sweep", "prefer", "joints", "certificate"])]
    curve: bool,

    /// Write the proof of the lower bound to a file, for `check --certificate`
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, conflicts_with = "sweep")]
    certificate: Option<PathBuf>,

    #[command(flatten)]
    pub(super) picture: PictureArgs,

    /// How the answer is written; csv is the cut list
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json, Format::Csv]))]
    pub(super) format: Format,

    #[command(flatten)]
    pub(super) fraction: FractionArgs,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    if let Some(sweep) = &args.sweep {
        return sweep::run(&args, sweep, console);
    }
    let job = load(&args.job)?;
    let terms = Terms::of(&job, args.fraction.fraction.denominator());
    if args.curve {
        return curve::run(&job, &args, &terms, console);
    }
    if args.picture.svg.is_some() {
        return Err(Failure::input(
            "`plan --svg` draws a curve or a sweep, and neither is asked for",
            format!(
                "`lastcourse sheet {} --svg FILE` draws the plan",
                args.job.words()
            ),
        ));
    }
    let found = planned(&job, &args.plan, &terms)?;
    if let Some(path) = &args.certificate {
        let say = say(found.plan.totals.objective, &terms);
        let watch = Watching::start(args.plan.limits(), say);
        let proof = proof::of_plan(&job, &found.plan, &watch);
        drop(watch);
        certificate::write(path, proof)?;
    }
    let text = match args.format {
        Format::Text => {
            let mut page = Page::new(console.width());
            let (plan, cautions) = (&found.plan, &found.cautions);
            report::text(&job, &found.surface, plan, cautions, &terms, &mut page);
            let order = format!("lastcourse order {}{}", args.job.words(), args.plan.words());
            page.next(&[("What to buy, with clips or screws".to_owned(), order)]);
            page.finish()
        }
        Format::Json => json::pretty(&report::json(&job, &found.plan, &found.cautions)),
        Format::Csv => {
            console.cautions(&found.cautions);
            report::csv(&job, &found.plan)
        }
    };
    console.write_all(text.as_bytes())?;
    Ok(Exit::Done)
}
