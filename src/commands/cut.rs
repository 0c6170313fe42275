//! `lastcourse cut`: the cutting engine alone, no deck.

use std::io::Write;
use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::cutlist::{Asked, CutList, read};
use lastcourse::job::{Findings, Source, message};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::proof;
use lastcourse::report::{Page, Terms, cut as report, json};
use lastcourse::stock::{CutPlan, StockError, solve};
use lastcourse::verify;

use super::certificate;
use super::common::{Format, FractionArgs, formats};
use super::console::Console;
use super::failure::{Exit, Failure};
use super::files::{SHEET, name, text};
use super::watch::{LimitArgs, Watching};

/// Cut pieces from stock lengths at the least cost: joists, rails, fascia, anything
///
/// Every piece is cut exactly as often as asked. Where it can be had, it is proven that no cut list
/// costs less; else the answer says how far it can be from the best. Boards on hand cost nothing:
/// give them as --stock 12ft@0x3. Without any price the length bought is what is minimised.
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "lastcourse cut [OPTIONS] --stock BOARD... --piece PIECES...
       lastcourse cut [OPTIONS] --stock-file FILE --piece-file FILE",
    after_help = "\
Examples:
  lastcourse cut --stock 12ft@19.80 --stock 16ft@27.40 --piece 14x3ft4in
  lastcourse cut --stock 16ft@27.40x10 --stock 20ft@36 --piece joist=13x15ft9in
  lastcourse cut --stock 12ft@19.80:6 --stock 16ft@27.40x40:8 --piece 14x3ft4in
  lastcourse cut --stock-file yard.csv --piece-file pieces.csv --format csv"
)]
pub struct Args {
    /// Boards of one length, with the price of one and how many there are; may be repeated
    ///
    /// Behind a colon stands how many boards a bundle has, where only whole bundles are sold:
    /// 16ft@27.40x40:8. All boards of a bundle are paid, used or not; the price is of one board.
    #[arg(
        long,
        value_name = "LENGTH[@PRICE][xAVAILABLE][:BUNDLE]",
        allow_hyphen_values = true,
        help_heading = "Boards and pieces"
    )]
    stock: Vec<String>,

    /// Pieces of one length, with a label if you like; may be repeated
    #[arg(
        long,
        value_name = "[LABEL=]COUNTxLENGTH",
        allow_hyphen_values = true,
        help_heading = "Boards and pieces"
    )]
    piece: Vec<String>,

    /// Boards from CSV with the headings length,price,available,bundle; may be repeated
    ///
    /// An empty `available` is no limit, an empty `bundle` is 1; the columns `price`, `available` and
    /// `bundle` may be left out.
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, help_heading = "Boards and pieces")]
    stock_file: Vec<PathBuf>,

    /// Pieces from CSV with the headings label,length,count; may be repeated
    ///
    /// The column `label` may be left out. `-` is standard input.
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath, help_heading = "Boards and pieces")]
    piece_file: Vec<PathBuf>,

    /// Width of a saw cut [default: 1/8 in, or 3 mm]
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Saw"
    )]
    kerf: Option<String>,

    /// Taken off each end of a board before it is used [default: 0]
    #[arg(
        long,
        value_name = "LENGTH",
        allow_hyphen_values = true,
        help_heading = "Saw"
    )]
    end_trim: Option<String>,

    /// Unit of bare numbers and of the answer [default: in, or mm when every length is metric]
    #[arg(long, value_name = "in|mm", value_parser = unit)]
    unit: Option<Unit>,

    /// The sign before amounts of money
    #[arg(long, value_name = "SIGN", default_value = "$")]
    currency: String,

    /// Write the proof of the lower bound to a file, for `check --certificate`
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    certificate: Option<PathBuf>,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json, Format::Csv]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,

    #[command(flatten)]
    limits: LimitArgs,
}

fn unit(text: &str) -> Result<Unit, String> {
    match text {
        "in" => Ok(Unit::Inch),
        "mm" => Ok(Unit::Millimetre),
        _ => Err("a unit is `in` or `mm`".to_owned()),
    }
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let files = [args.stock_file.as_slice(), &args.piece_file].concat();
    let mut sheets = sheets(&files)?;
    let asked = Asked {
        stock: args.stock,
        pieces: args.piece,
        piece_sheets: sheets.split_off(args.stock_file.len()),
        stock_sheets: sheets,
        kerf: args.kerf,
        end_trim: args.end_trim,
        unit: args.unit,
    };
    let list = read(&asked).map_err(|findings| Failure::Input {
        report: message::styled(&findings),
    })?;
    let terms = Terms {
        unit: list.unit,
        finest: args.fraction.fraction.denominator(),
        currency: args.currency,
    };
    let watch = watch(&list, &terms, args.limits);
    let plan = cut(&list, &terms, &watch)?;
    if let Some(path) = &args.certificate {
        let proof = proof::of_cut(&list.problem, &plan, list.by_length, &watch);
        drop(watch);
        certificate::write(path, proof)?;
    } else {
        drop(watch);
    }
    match args.format {
        Format::Text => {
            let mut page = Page::new(console.width());
            report::text(&list, &plan, &terms, &mut page);
            console.write_all(page.finish().as_bytes())?;
        }
        Format::Json => {
            console.write_all(json::pretty(&report::json(&list, &plan)).as_bytes())?;
        }
        Format::Csv => console.write_all(report::csv(&list, &plan).as_bytes())?,
    }
    Ok(Exit::Done)
}

/// The texts of all sheets, or everything that keeps them from being read.
fn sheets(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    let mut sheets = Vec::new();
    let mut unread = Vec::new();
    for path in paths {
        let name = name(path);
        match text(path, &SHEET) {
            Ok(text) => sheets.push(Source { name, text }),
            Err((message, help)) => {
                unread.push(message::styled(&Findings::unread(&name, message, help)));
            }
        }
    }
    match unread.is_empty() {
        true => Ok(sheets),
        false => Err(Failure::Input {
            report: unread.join("\n\n"),
        }),
    }
}

/// Watches the search, and says on a terminal what is known so far.
fn watch(list: &CutList, terms: &Terms, limits: LimitArgs) -> Watching {
    let say: Box<dyn Fn(i64) -> String + Send + Sync> = match list.by_length {
        Some(step) => {
            let terms = terms.clone();
            Box::new(move |steps| terms.length(step * steps))
        }
        None => {
            let terms = terms.clone();
            Box::new(move |cents| terms.money(Money::from_cents(cents)))
        }
    };
    Watching::start(limits, say)
}

/// Cuts, and has the answer verified before anybody sees it.
fn cut(list: &CutList, terms: &Terms, watch: &Watching) -> Result<CutPlan, Failure> {
    let plan = solve(&list.problem, watch).map_err(|error| failure(list, terms, error))?;
    let violations = verify::cut(&list.problem, &plan);
    match violations.is_empty() {
        true => Ok(plan),
        false => Err(Failure::unsound(&violations)),
    }
}

fn failure(list: &CutList, terms: &Terms, error: StockError) -> Failure {
    match error {
        StockError::TooLong(_) => {
            let boards = list.problem.stock.iter();
            let had = boards.filter(|board| board.most_bought() != Some(0));
            let longest = had.map(|board| board.length).max();
            let trim = match list.problem.end_trim.units() {
                0 => String::new(),
                _ => format!(
                    ", less {} of trim at each end",
                    terms.length(list.problem.end_trim)
                ),
            };
            let Some(longest) = longest else {
                let short = broken_bundles(list, terms);
                let why = match short.is_empty() {
                    true => "none is available".to_string(),
                    false => short.join("; "),
                };
                return Failure::impossible(
                    format!("there is no board to cut from: {why}"),
                    "give more of them (xAVAILABLE), or another length",
                );
            };
            let pieces = too_long(list, longest, terms);
            let these = match pieces.len() {
                1 => "a piece fits",
                _ => "pieces fit",
            };
            let message = format!(
                "{these} no board, the longest is {}{trim}: {}",
                terms.length(longest),
                pieces.join("; ")
            );
            Failure::impossible(message, "give a longer board, or join the piece from two")
        }
        StockError::NotEnough => {
            let mut message = "the boards that are available do not hold all pieces".to_string();
            for short in broken_bundles(list, terms) {
                message.push_str(&format!("; {short}"));
            }
            Failure::impossible(message, "give more of them (xAVAILABLE), or another length")
        }
        StockError::Stopped => Failure::Stopped {
            message: "stopped before a cut list was found".to_string(),
        },
    }
}

/// Boards that are there but fill no bundle, each as a sentence.
fn broken_bundles(list: &CutList, terms: &Terms) -> Vec<String> {
    let boards = list.problem.stock.iter();
    let broken = boards.filter_map(|board| {
        let available = board.available?;
        let length = terms.length(board.length);
        let bundle = board.bundle;
        match board.most_bought()? {
            most if most == available => None,
            0 => Some(format!(
                "{length}: {available} available, less than a bundle of {bundle}"
            )),
            most => Some(format!(
                "of {available} boards of {length} only {most} can be bought in bundles of {bundle}"
            )),
        }
    });
    broken.collect()
}

/// The pieces that no board holds, each with its place in what was given.
fn too_long(list: &CutList, longest: Length, terms: &Terms) -> Vec<String> {
    const SHOWN: usize = 10;
    let usable = longest - list.problem.end_trim * 2;
    let mut found: Vec<String> = (1..)
        .zip(list.problem.pieces.iter().zip(&list.labels))
        .filter(|(_, (piece, _))| piece.length > usable)
        .map(|(number, (piece, label))| {
            let label = label.as_ref().map(|label| format!("{label}, "));
            let label = label.unwrap_or_default();
            format!(
                "{} ({label}given as number {number})",
                terms.length(piece.length)
            )
        })
        .collect();
    let more = found.len().saturating_sub(SHOWN);
    if more > 0 {
        found.truncate(SHOWN);
        found.push(format!("and {more} more"));
    }
    found
}
