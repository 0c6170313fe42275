//! What several commands share: naming a job file and changing fields of it,
//! the choice of a format, and how fine lengths are printed.

use std::io::Write;
use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{ValueEnum, ValueHint};
use lastcourse::job::{self, Checked, Findings, Job, PriceList, Set, Source, message};
use lastcourse::text::shell_word;

use super::failure::Failure;
use super::files::{JOB_FILE, PRICES, name, text};

/// A job file, and changes to it for this run alone.
#[derive(Debug, Clone, clap::Args)]
pub struct JobArgs {
    /// The job file, or `-` for standard input
    #[arg(value_name = "JOB", value_hint = ValueHint::FilePath)]
    pub job: PathBuf,

    #[command(flatten)]
    pub sets: SetArgs,
}

/// Changes to a job for this run alone.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct SetArgs {
    /// Change a field for this run, as if the file said so; may be repeated
    ///
    /// PATH is the field's name in the job file, such as `deck.across`. One of several is named
    /// or counted from 1: `fastener.slim clip.gap`, `stock.2.price`.
    /// An empty value takes the field out.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = Set::parse)]
    pub set: Vec<Set>,

    /// Take prices from a yard's list, in place of the job's own; may be repeated
    ///
    /// CSV with the headings item,unit,pack,price; `unit` and `pack` may be left out, and rows
    /// without a price are read over. Items are found by the names that `order` prints, or by the
    /// `item` of a `[[stock]]` or `[[lumber]]`.
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub prices: Vec<PathBuf>,
}

impl JobArgs {
    /// The same job and changes, as words to copy into a shell.
    pub fn words(&self) -> String {
        let mut words = vec![shell_word(&self.job.to_string_lossy())];
        for set in &self.sets.set {
            words.push(format!("--set {}", shell_word(&set.text())));
        }
        for prices in &self.sets.prices {
            words.push(format!(
                "--prices {}",
                shell_word(&prices.to_string_lossy())
            ));
        }
        words.join(" ")
    }
}

/// Reads and checks a job. Its cautions go to standard error.
///
/// # Errors
/// When the file cannot be read or anything in it, or in a `--set`, is wrong.
pub fn load(args: &JobArgs) -> Result<Job, Failure> {
    accept(args, &source(args)?)
}

/// The text of a job file, unread.
///
/// # Errors
/// When the file cannot be read or is no text.
pub fn source(args: &JobArgs) -> Result<String, Failure> {
    text(&args.job, &JOB_FILE).map_err(|(message, help)| Failure::Input {
        report: message::styled(&Findings::unread(&name(&args.job), message, help)),
    })
}

/// Checks a job file's text. Cautions go to standard error.
///
/// # Errors
/// When anything in it, or in a `--set`, is wrong.
pub fn accept(args: &JobArgs, text: &str) -> Result<Job, Failure> {
    let wrong = |findings: Findings| Failure::Input {
        report: message::styled(&findings),
    };
    let prices = prices(&args.sets.prices).map_err(wrong)?;
    let checked = job::read_priced(text, &name(&args.job), &args.sets.set, &prices);
    let checked = checked.map_err(wrong)?;
    if !checked.findings.problems.is_empty() {
        let mut err = anstream::stderr().lock();
        // A caution nobody can be told of is no reason to give up.
        let _ = writeln!(err, "{}\n", message::styled(&checked.findings));
    }
    Ok(checked.job)
}

/// Checks a job's text again with more of it changed, at the same prices.
///
/// # Errors
/// When anything in it, or in a change, is wrong.
pub fn again(
    args: &JobArgs,
    text: &str,
    sets: &[Set],
    prices: &PriceList,
) -> Result<Job, Findings> {
    let sets: Vec<Set> = args.sets.set.iter().chain(sets).cloned().collect();
    let read = job::read_priced(text, &name(&args.job), &sets, prices);
    read.map(|checked| checked.job)
}

/// Why a job is refused, in a sentence.
pub fn first(findings: &Findings) -> String {
    let first = findings.problems.first();
    first.map_or_else(String::new, |problem| problem.message.clone())
}

/// Reads and checks a job; what was found in it is for the caller to tell.
pub fn read(args: &JobArgs) -> Result<Checked, Findings> {
    let name = name(&args.job);
    let text = text(&args.job, &JOB_FILE)
        .map_err(|(message, help)| Findings::unread(&name, message, help))?;
    let prices = prices(&args.sets.prices)?;
    job::read_priced(&text, &name, &args.sets.set, &prices)
}

/// The prices of all lists.
pub fn prices(paths: &[PathBuf]) -> Result<PriceList, Findings> {
    let mut sheets = Vec::new();
    for path in paths {
        let name = name(path);
        let text = text(path, &PRICES)
            .map_err(|(message, help)| Findings::unread(&name, message, help))?;
        sheets.push(Source { name, text });
    }
    PriceList::read(&sheets)
}

/// In which form an answer is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs; the keys are stable
    Json,
    /// For spreadsheets
    Csv,
}

/// Reads one of the formats a command can write.
pub fn formats(allowed: &'static [Format]) -> impl TypedValueParser<Value = Format> {
    let named = |format: &Format| -> PossibleValue {
        format.to_possible_value().expect("every format has a name")
    };
    PossibleValuesParser::new(allowed.iter().map(named))
        .map(|name| Format::from_str(&name, false).expect("only names of formats pass the parser"))
}

/// How fine lengths in inches are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Fraction {
    /// To the nearest 1/16 in
    #[default]
    #[value(name = "16")]
    Sixteenths,
    /// To the nearest 1/32 in
    #[value(name = "32")]
    ThirtySeconds,
    /// To the nearest 1/64 in
    #[value(name = "64")]
    SixtyFourths,
}

impl Fraction {
    /// The largest denominator printed.
    pub fn denominator(self) -> u32 {
        match self {
            Fraction::Sixteenths => 16,
            Fraction::ThirtySeconds => 32,
            Fraction::SixtyFourths => 64,
        }
    }
}

/// How fine lengths are printed, for commands that print them.
#[derive(Debug, Clone, Copy, Default, clap::Args)]
pub struct FractionArgs {
    /// Print inches to the nearest sixteenth, thirty-second or sixty-fourth
    #[arg(
        long,
        value_enum,
        default_value_t,
        value_name = "16|32|64",
        hide_possible_values = true
    )]
    pub fraction: Fraction,
}
