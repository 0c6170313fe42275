//! What several commands share: naming a job file and changing fields of it,
//! the choice of a format, and how fine lengths are printed.

use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{ValueEnum, ValueHint};
use lastcourse::job::Job;

use super::failure::Failure;

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
    #[arg(long = "set", value_name = "PATH=VALUE", help_heading = "Job")]
    pub set: Vec<String>,
}

/// Reads and checks a job.
///
/// # Errors
/// When the file cannot be read or anything in it, or in a `--set`, is wrong.
pub fn load(args: &JobArgs) -> Result<Job, Failure> {
    Err(Failure::input(
        format!("{} cannot be read", args.job.display()),
        "reading job files is not part of this build",
    ))
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
