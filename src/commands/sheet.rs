//! `lastcourse sheet`: drawings of a plan for the site, and one page with all
//! that the site needs.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::draw::{self, Extent, Scene, Sheet, Subject};
use lastcourse::report::Terms;
use lastcourse::report::terms::counted;

use super::common::{FractionArgs, JobArgs, load};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::write_whole;
use super::order::ordered;
use super::planning::{PlanArgs, planned};

/// Draw the plan for the site, or write one page with drawings and lists
///
/// Boards are those of the plan that `lastcourse plan` shows for the same options. Drawings are made
/// for letter paper, or A4 where the job's unit is the millimetre, with half an inch free all round;
/// print them at their own size, and check the scale bar with a tape. The page holds everything in
/// one file that needs no network: what it comes to, cautions, all drawings, the cut list and the
/// laying list to tick off, and the order.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "\
Examples:
  lastcourse sheet deck.toml --svg plan.svg
  lastcourse sheet deck.toml --svg cuts.svg --drawing cuts --page 2
  lastcourse sheet deck.toml --html deck.html --paper a4 --date \"12 May\"",
    group = clap::ArgGroup::new("out").required(true).multiple(true)
)]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    #[command(flatten)]
    plan: PlanArgs,

    /// Write a drawing to a file as SVG
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out")]
    svg: Option<PathBuf>,

    /// Write everything to a file as one page of HTML
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, group = "out")]
    html: Option<PathBuf>,

    /// What is drawn as SVG
    #[arg(
        long,
        value_enum,
        default_value_t,
        value_name = "WHAT",
        requires = "svg"
    )]
    drawing: Drawing,

    /// Which page of a drawing that takes several
    #[arg(long, value_name = "N", default_value_t = 1, requires = "svg")]
    page: usize,

    /// The paper it is printed on [default: letter, or a4 for a job in millimetres]
    #[arg(long, value_enum)]
    paper: Option<Paper>,

    /// A date to be written on it, as you would have it read
    #[arg(long, value_name = "DATE")]
    date: Option<String>,

    /// Let a file that is there already be replaced
    #[arg(long)]
    force: bool,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// A size of paper.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum Paper {
    /// 11 by 8-1/2 in
    Letter,
    /// 297 by 210 mm
    A4,
}

/// What is drawn.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, clap::ValueEnum)]
enum Drawing {
    /// Every board where it lies
    #[default]
    Plan,
    /// Every board with its cuts
    Cuts,
    /// Marks for courses and joists, and how far off each may be
    Marks,
    /// How the last course ends
    Last,
}

impl Drawing {
    /// Its pages.
    fn pages(self, subject: &Subject<'_>) -> Vec<Scene> {
        match self {
            Drawing::Plan => vec![draw::plan(subject, (1, 1))],
            Drawing::Cuts => draw::cuts(subject, 1, None),
            Drawing::Marks => draw::marks(subject, 1, None),
            Drawing::Last => vec![draw::last(subject, (1, 1))],
        }
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
        sheet: match args.paper {
            None => Sheet::of(job.unit),
            Some(Paper::Letter) => Sheet::Letter,
            Some(Paper::A4) => Sheet::A4,
        },
        date: args.date.as_deref(),
    };
    // All of it before any of it is written.
    let svg = match &args.svg {
        Some(path) => Some((path, one_page(&args, &subject)?)),
        None => None,
    };
    let html = match &args.html {
        Some(path) => {
            let order = ordered(&job, &found, &args.plan, &terms)?;
            let drawings = draw::all(&subject);
            let page = draw::html(&subject, &order, &drawings);
            Some((path, page))
        }
        None => None,
    };
    if let Some((path, (text, pages))) = svg {
        write_whole(path, &text, args.force)?;
        let name = args.drawing.name();
        let of = match pages {
            1 => String::new(),
            pages => format!(", page {} of {pages},", args.page),
        };
        writeln!(console, "The {name}{of} is written to {}.", path.display())?;
    }
    if let Some((path, text)) = html {
        write_whole(path, &text, args.force)?;
        writeln!(console, "The page is written to {}.", path.display())?;
    }
    Ok(Exit::Done)
}

/// The page of the drawing that was asked for, and how many there are.
fn one_page(args: &Args, subject: &Subject<'_>) -> Result<(String, usize), Failure> {
    let pages = args.drawing.pages(subject);
    let page = args.page.checked_sub(1).and_then(|page| pages.get(page));
    let page = page.ok_or_else(|| {
        Failure::input(
            format!("the {} has no page {}", args.drawing.name(), args.page),
            format!("it has {}", counted(pages.len() as u64, "page")),
        )
    })?;
    Ok((draw::svg(page, Extent::Sheet), pages.len()))
}
