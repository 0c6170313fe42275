//! What several commands share: naming a job file and changing fields of it,
//! the choice of a format, and how fine lengths are printed.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{ValueEnum, ValueHint};
use lastcourse::job::{self, Checked, Findings, Job, Set, message};

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
    /// An empty value takes the field out.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = Set::parse)]
    pub set: Vec<Set>,
}

/// Reads and checks a job. Its cautions go to standard error.
///
/// # Errors
/// When the file cannot be read or anything in it, or in a `--set`, is wrong.
pub fn load(args: &JobArgs) -> Result<Job, Failure> {
    let checked = read(args).map_err(|findings| Failure::Input {
        report: message::styled(&findings),
    })?;
    if !checked.findings.problems.is_empty() {
        let mut err = anstream::stderr().lock();
        // A caution nobody can be told of is no reason to give up.
        let _ = writeln!(err, "{}\n", message::styled(&checked.findings));
    }
    Ok(checked.job)
}

/// Reads and checks a job; what was found in it is for the caller to tell.
pub fn read(args: &JobArgs) -> Result<Checked, Findings> {
    let name = if args.job == Path::new("-") {
        "standard input".into()
    } else {
        args.job.to_string_lossy()
    };
    let text = text(&args.job).map_err(|(message, help)| Findings::unread(&name, message, help))?;
    job::read(&text, &name, &args.sets.set)
}

/// A job file larger than this is something else.
const LARGEST: u64 = 4 << 20;

/// The text of a file; when there is none, why, and what would help.
fn text(path: &Path) -> Result<String, (String, &'static str)> {
    const EXAMPLE: &str =
        "`lastcourse check --example > deck.toml` writes a job file to start from";
    const NO_JOB: &str = "a job file is plain text, as `lastcourse check --example` prints it";
    let unreadable = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => ("there is no such file".to_owned(), EXAMPLE),
        io::ErrorKind::IsADirectory => (
            "this is a folder, not a file".to_owned(),
            "name the job file in it",
        ),
        io::ErrorKind::PermissionDenied => (
            "this file may not be read".to_owned(),
            "its owner can allow it",
        ),
        _ => (format!("this file cannot be read: {error}"), ""),
    };
    let mut bytes = Vec::new();
    if path == Path::new("-") {
        io::stdin().lock().take(LARGEST + 1).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
    }
    .map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST {
        return Err((
            format!(
                "this is no job file: it is larger than {} MB",
                LARGEST >> 20
            ),
            NO_JOB,
        ));
    }
    match String::from_utf8(bytes) {
        Ok(text) if text.contains('\0') => {
            Err(("this is no job file: it is not text".to_owned(), NO_JOB))
        }
        // Some editors begin a text with this mark, which is no part of it.
        Ok(text) => Ok(text.trim_start_matches('\u{feff}').to_owned()),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let line = error.as_bytes()[..good]
                .iter()
                .filter(|byte| **byte == b'\n')
                .count()
                + 1;
            Err((
                format!("this is no job file: line {line} is not UTF-8 text"),
                NO_JOB,
            ))
        }
    }
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
