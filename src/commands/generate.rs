//! `lastcourse completions` and `lastcourse man`: what a shell and a manual
//! reader need, generated from the command line itself.

use std::io::Write;

use clap::CommandFactory;
use clap_complete::Shell;

use super::Cli;
use super::console::Console;
use super::failure::{Exit, Failure};

/// Write a completion script for a shell
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  lastcourse completions bash > ~/.local/share/bash-completion/completions/lastcourse")]
pub struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
}

/// Write the manual page
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse man > lastcourse.1
  lastcourse man plan > lastcourse-plan.1")]
pub struct ManArgs {
    /// The command to write the page of; all of them in short when left out
    #[arg(value_name = "COMMAND")]
    of: Option<String>,
}

/// Writes the completion script.
pub fn completions(args: CompletionsArgs, console: &mut Console) -> Result<Exit, Failure> {
    // Generated in memory first: the generator panics when writing fails.
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "lastcourse", &mut script);
    console.write_all(&script)?;
    Ok(Exit::Done)
}

/// Writes the manual page.
pub fn man(args: ManArgs, console: &mut Console) -> Result<Exit, Failure> {
    let mut cli = Cli::command().version(env!("CARGO_PKG_VERSION"));
    cli.build();
    let page = match &args.of {
        None => clap_mangen::Man::new(cli),
        Some(name) => {
            let Some(command) = cli.find_subcommand(name) else {
                return Err(Failure::input(
                    format!("there is no command `{name}`"),
                    "`lastcourse --help` lists the commands",
                ));
            };
            clap_mangen::Man::new(command.clone())
        }
    };
    page.render(console)?;
    Ok(Exit::Done)
}
