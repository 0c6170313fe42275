//! `lastcourse fit`.

use super::common::{Format, FractionArgs, JobArgs, formats, load};
use super::console::Console;
use super::failure::{Exit, Failure};

/// List the ways to finish well, ranked by what they disturb and cost
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  lastcourse fit deck.toml")]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let job = load(&args.job)?;
    let _ = (
        console.width(),
        args.format,
        args.fraction.fraction.denominator(),
    );
    Err(Failure::impossible(
        format!("{}: `fit` is not part of this build", job.title),
        "",
    ))
}
