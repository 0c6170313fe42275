//! `lastcourse cut`.

use super::common::{Format, FractionArgs, formats};
use super::console::Console;
use super::failure::{Exit, Failure};

/// Cut pieces from stock lengths at the least cost: joists, rails, fascia, anything
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  lastcourse cut --stock 12ft@19.80 --stock 16ft@27.40 --piece 14x3ft4in --kerf 1/8in")]
pub struct Args {
    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json, Format::Csv]))]
    format: Format,

    #[command(flatten)]
    fraction: FractionArgs,
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    let _ = (
        console.width(),
        args.format,
        args.fraction.fraction.denominator(),
    );
    Err(Failure::impossible("`cut` is not part of this build", ""))
}
