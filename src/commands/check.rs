//! `lastcourse check`.

use std::io::Write;

use super::common::{Format, JobArgs, formats, load};
use super::console::Console;
use super::failure::{Exit, Failure};

/// Check a job file and say everything that is wrong with it
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  lastcourse check deck.toml")]
pub struct Args {
    #[command(flatten)]
    job: JobArgs,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let job = load(&args.job)?;
    if args.format == Format::Text {
        writeln!(console, "{} has nothing wrong with it.", job.title)?;
    }
    Ok(Exit::Done)
}
