//! The command line: one small file a command, which reads what was typed,
//! calls the stages and shows their result. Nothing is computed here. The
//! terminal, files, the clock and signals are met here and nowhere else.

mod certificate;
mod check;
mod common;
mod compare;
mod console;
mod curve;
mod cut;
mod failure;
mod files;
mod fit;
mod forecast;
mod generate;
mod measure;
mod order;
mod picture;
mod plan;
mod planning;
mod pricing;
mod sheet;
mod sweep;
mod watch;

use std::process::ExitCode;

use clap::builder::Styles;
use clap::builder::styling::{AnsiColor, Style};
use clap::{Parser, Subcommand};

use console::Console;
use failure::{Exit, Failure};

/// Knows where a deck's last course falls, and which boards to buy and how to
/// cut them, before the frame is cut and anything is ordered.
#[derive(Debug, Parser)]
#[command(
    name = "lastcourse",
    version,
    about,
    styles = STYLES,
    max_term_width = 80,
    arg_required_else_help = true,
    subcommand_value_name = "COMMAND",
    subcommand_help_heading = "Commands",
    disable_help_subcommand = true,
    after_help = "\
Start with an example and change it to your deck:
  lastcourse check --example > deck.toml
  lastcourse forecast deck.toml
  lastcourse fit deck.toml
  lastcourse plan deck.toml
  lastcourse order deck.toml
  lastcourse sheet deck.toml --svg plan.svg
  lastcourse measure deck.toml --after 9 --at \"4ft 3-5/8in\"

Exit codes: 0 done, 1 it cannot be done as asked, 2 the input is wrong,
3 stopped before anything was found."
)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Forecast(forecast::Args),
    Fit(fit::Args),
    Plan(plan::Args),
    Order(order::Args),
    Sheet(sheet::Args),
    Measure(measure::Args),
    Cut(cut::Args),
    Check(check::Args),
    Completions(generate::CompletionsArgs),
    Man(generate::ManArgs),
}

const STYLES: Styles = Styles::styled()
    .header(Style::new().bold())
    .usage(Style::new().bold())
    .literal(Style::new().bold())
    .placeholder(Style::new())
    .error(AnsiColor::Red.on_default().bold())
    .invalid(AnsiColor::Yellow.on_default())
    .valid(AnsiColor::Green.on_default());

/// Runs the program on its command line.
pub fn main() -> ExitCode {
    let cli = Cli::parse();
    let mut console = Console::open();
    let outcome = run(cli.command, &mut console);
    // What was written before a failure belongs to the reader too.
    let flushed = console.flush_result();
    let outcome = outcome.and_then(|exit| flushed.map(|()| exit));
    match outcome {
        Ok(exit) => exit.code(),
        Err(failure) => {
            failure.show();
            failure.code()
        }
    }
}

fn run(command: Command, console: &mut Console) -> Result<Exit, Failure> {
    match command {
        Command::Forecast(args) => forecast::run(args, console),
        Command::Fit(args) => fit::run(args, console),
        Command::Plan(args) => plan::run(args, console),
        Command::Order(args) => order::run(args, console),
        Command::Sheet(args) => sheet::run(args, console),
        Command::Measure(args) => measure::run(args, console),
        Command::Cut(args) => cut::run(args, console),
        Command::Check(args) => check::run(args, console),
        Command::Completions(args) => generate::completions(args, console),
        Command::Man(args) => generate::man(args, console),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_sound() {
        Cli::command().debug_assert();
    }

    #[test]
    fn every_command_explains_itself_and_ends_with_an_example() {
        let mut cli = Cli::command();
        cli.build();
        for command in cli.get_subcommands_mut() {
            let name = command.get_name().to_owned();
            assert!(command.get_about().is_some(), "{name} has no description");
            let after = command
                .get_after_help()
                .map(ToString::to_string)
                .unwrap_or_default();
            assert!(
                after.contains(&format!("lastcourse {name}")),
                "{name} has no example"
            );
        }
    }
}
