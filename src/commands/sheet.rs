//! `lastcourse sheet`: drawings of a plan for the site, and sheets or one page
//! with all that the site needs.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::ValueHint;
use lastcourse::draw::{self, Extent, Scene, Subject, numbered};
use lastcourse::report::Terms;
use lastcourse::report::terms::counted;

use super::common::{FractionArgs, JobArgs, load};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::write_each;
use super::order::ordered;
use super::picture::PaperArgs;
use super::planning::{PlanArgs, planned};

/// Draw the plan for the site, or write sheets with drawings and lists
///
/// Boards are those of the plan that `lastcourse plan` shows for the same options. Drawings are made
/// for letter paper, or A4 where the job's unit is the millimetre, with half an inch free all round;
/// print them at their own size, and check the scale bar with a tape. The PDF and the page hold
/// everything in one file: what it comes to, cautions, all drawings, the cut list and the laying
/// list to tick off, and the order. The page needs no network.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "\
Examples:
  lastcourse sheet deck.toml --pdf deck.pdf
  lastcourse sheet deck.toml --svg plan.svg
  lastcourse sheet deck.toml --svg cuts.svg --drawing cuts --page 2
  lastcourse sheet deck.toml --html deck.html --paper a4 --date \"12 May\"",
    override_usage = "lastcourse sheet [OPTIONS] JOB --pdf|--html|--svg FILE",
    group = clap::ArgGroup::new("out").required(true).multiple(true)
)]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    #[command(flatten)]
    plan: PlanArgs,

    /// Write all sheets to a file as PDF, or all of one drawing
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out")]
    pdf: Option<PathBuf>,

    /// Write everything to a file as one page of HTML
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out")]
    html: Option<PathBuf>,

    /// Write a drawing to a file as SVG
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out", group = "picture")]
    svg: Option<PathBuf>,

    /// Write a drawing to a file as PNG, 200 dots to the inch
    #[cfg(feature = "png")]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out", group = "picture")]
    png: Option<PathBuf>,

    /// What is drawn [default: plan for a picture, everything for a PDF]
    #[arg(long, value_enum, value_name = "WHAT")]
    drawing: Option<Drawing>,

    /// Which page of a drawing that takes several is the picture
    #[arg(long, value_name = "N", default_value_t = 1, requires = "picture")]
    page: usize,

    #[command(flatten)]
    paper: PaperArgs,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// Dots to the inch of a picture: sharp on paper, and a few hundred kilobytes.
#[cfg(feature = "png")]
const DOTS: u32 = 200;

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Drawing {
    /// Every board where it lies
    Plan,
    /// Every board with its cuts
    Cuts,
    /// Marks for courses and joists, and how far off each may be
    Marks,
    /// How the last course ends, from above and cut across
    Last,
}

impl Drawing {
    /// Its pages.
    fn pages(self, subject: &Subject<'_>) -> Vec<Scene> {
        numbered(match self {
            Drawing::Plan => draw::plan(subject),
            Drawing::Cuts => draw::cuts(subject),
            Drawing::Marks => draw::marks(subject),
            Drawing::Last => draw::last(subject),
        })
    }

    /// What it is called in a sentence.
    fn name(self) -> &'static str {
        match self {
            Drawing::Plan => "plan drawing",
            Drawing::Cuts => "drawing of the cuts",
            Drawing::Marks => "drawing of the marks",
            Drawing::Last => "drawing of the last course",
        }
    }
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let job = load(&args.job)?;
    let terms = Terms::of(&job, args.fraction.fraction.denominator());
    let found = planned(&job, &args.plan, &terms)?;
    console.cautions(&found.cautions);
    let subject = Subject {
        job: &job,
        surface: &found.surface,
        plan: &found.plan,
        terms: &terms,
        sheet: args.paper.sheet(job.unit),
        date: args.paper.date.as_deref(),
    };
    // All of it is made before any of it is written.
    let mut files: Vec<(&Path, Vec<u8>)> = Vec::new();
    // What is lettered in the embedded typeface.
    let mut lettered: Vec<Scene> = Vec::new();
    let mut said = Vec::new();
    if let Some(path) = &args.pdf {
        let (what, scenes) = match args.drawing {
            Some(drawing) => (format!("The {}", drawing.name()), drawing.pages(&subject)),
            None => {
                let order = ordered(&job, &found, &args.plan, &terms)?;
                let sheets = draw::sheets(&subject, &order);
                let sheet = counted(sheets.len() as u64, "sheet");
                (format!("The PDF of {sheet}"), sheets)
            }
        };
        let pdf = draw::pdf(&job.title, &scenes)
            .map_err(|error| Failure::impossible(error.to_string(), "write it as HTML instead"))?;
        files.push((path, pdf));
        lettered.extend(scenes);
        said.push(format!("{what} is written to {}.", path.display()));
    }
    if let Some(path) = &args.html {
        let order = ordered(&job, &found, &args.plan, &terms)?;
        let drawings = draw::all(&subject);
        let page = draw::html(&subject, &order, &drawings);
        files.push((path, page.into_bytes()));
        said.push(format!("The page is written to {}.", path.display()));
    }
    if let Some(path) = &args.svg {
        let (scene, what) = picture(&args, &subject)?;
        files.push((path, draw::svg(&scene, Extent::Sheet).into_bytes()));
        said.push(format!("{what} is written to {}.", path.display()));
    }
    #[cfg(feature = "png")]
    if let Some(path) = &args.png {
        let (scene, what) = picture(&args, &subject)?;
        let png = draw::png(&scene, DOTS)
            .map_err(|error| Failure::impossible(error.to_string(), "write it as SVG instead"))?;
        files.push((path, png));
        lettered.push(scene);
        said.push(format!("{what} is written to {}.", path.display()));
    }
    write_each(&files, args.paper.force)?;
    console.cautions(draw::lacking_letters(&lettered).as_slice());
    for said in said {
        writeln!(console, "{said}")?;
    }
    Ok(Exit::Done)
}

/// The page of the drawing that was asked for, and what it is in a sentence.
fn picture(args: &Args, subject: &Subject<'_>) -> Result<(Scene, String), Failure> {
    let drawing = args.drawing.unwrap_or(Drawing::Plan);
    let mut pages = drawing.pages(subject);
    let (name, count) = (drawing.name(), pages.len());
    if args.page == 0 || args.page > count {
        return Err(Failure::input(
            format!("the {name} has no page {}", args.page),
            format!("it has {}", counted(count as u64, "page")),
        ));
    }
    let what = match count {
        1 => format!("The {name}"),
        _ => format!("The {name}, page {} of {count},", args.page),
    };
    Ok((pages.swap_remove(args.page - 1), what))
}
