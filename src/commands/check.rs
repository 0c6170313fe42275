//! `lastcourse check`: whether a job file is sound, and what one looks like.

use std::io::Write;

use clap::builder::PossibleValuesParser;
use lastcourse::job::{self, message};
use lastcourse::report;

use super::certificate;
use super::common::{Format, JobArgs, SetArgs, formats, read};
use super::console::Console;
use super::failure::{Exit, Failure};

/// Check a job file and say everything that is wrong with it
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  lastcourse check --example > deck.toml
  lastcourse check deck.toml
  lastcourse check deck.toml --set deck.across=\"13ft 4in\"
  lastcourse check --schema > lastcourse.schema.json
  lastcourse check --schema=plan > plan.schema.json
  lastcourse check --certificate proof.json deck.toml")]
pub struct Args {
    /// The job file, or `-` for standard input
    #[arg(value_name = "JOB", value_hint = clap::ValueHint::FilePath,
          required_unless_present_any = ["example", "schema", "certificate"])]
    job: Option<std::path::PathBuf>,

    #[command(flatten)]
    sets: SetArgs,

    /// Re-check the proof of a lower bound; a plan's with its job
    #[arg(long, value_name = "FILE", value_hint = clap::ValueHint::FilePath)]
    certificate: Option<std::path::PathBuf>,

    /// Print a commented job file with every field, to start from
    #[arg(long, conflicts_with_all = ["job", "schema", "set", "format", "certificate"])]
    example: bool,

    /// Print the JSON Schema of a job file, for editors; or of a command's JSON answer
    #[arg(long, conflicts_with_all = ["job", "set", "format", "certificate"], value_name = "OF",
          num_args = 0..=1, require_equals = true, default_missing_value = "job",
          value_parser = schemas())]
    schema: Option<String>,

    /// How the answer is written
    #[arg(long, default_value = "text", value_parser = formats(&[Format::Text, Format::Json]))]
    format: Format,
}

/// What a schema can be asked of.
fn schemas() -> PossibleValuesParser {
    PossibleValuesParser::new(["job"].into_iter().chain(report::schema::COMMANDS))
}

/// Runs the command.
pub fn run(args: Args, console: &mut Console) -> Result<Exit, Failure> {
    if args.example {
        console.write_all(job::EXAMPLE.as_bytes())?;
        return Ok(Exit::Done);
    }
    if let Some(of) = &args.schema {
        let schema = report::schema::schema(of).unwrap_or_else(job::schema);
        console.write_all(report::json::pretty(&schema).as_bytes())?;
        return Ok(Exit::Done);
    }
    if let Some(path) = &args.certificate {
        let job = args.job.map(|job| JobArgs {
            job,
            sets: args.sets,
        });
        return certificate::check(path, job.as_ref(), args.format, console);
    }
    let Some(job) = args.job else {
        return Err(Failure::input(
            "no job file is named",
            "name one, or ask for `--example`",
        ));
    };
    let checked = read(&JobArgs {
        job,
        sets: args.sets,
    });
    if args.format == Format::Json {
        let (job, findings, exit) = match &checked {
            Ok(checked) => (Some(&checked.job), &checked.findings, Exit::Done),
            Err(findings) => (None, findings, Exit::InputWrong),
        };
        console.write_all(report::check::json(job, findings).as_bytes())?;
        return Ok(exit);
    }
    let checked = checked.map_err(|findings| Failure::Input {
        report: message::styled(&findings),
    })?;
    console.write_all(
        report::check::text(
            &checked.job,
            checked.findings.problems.len(),
            console.width(),
        )
        .as_bytes(),
    )?;
    if !checked.findings.problems.is_empty() {
        writeln!(console, "\n{}", message::styled(&checked.findings))?;
    }
    Ok(Exit::Done)
}
