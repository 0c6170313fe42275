//! How a command ends: done, or why not. It knows the exit codes and how a
//! failure is put on standard error; what failed is said by whoever failed.

use std::fmt;
use std::io::{self, Write};
use std::process::ExitCode;

use lastcourse::deck::DeckError;
use lastcourse::job::{Findings, message};
use lastcourse::verify::Violation;

/// A command's end when nothing failed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Done, also with cautions, or stopped with a plan in hand.
    Done,
    /// The answer itself says that the input is wrong.
    InputWrong,
}

impl Exit {
    /// The process's exit code.
    pub fn code(self) -> ExitCode {
        ExitCode::from(match self {
            Exit::Done => 0,
            Exit::InputWrong => 2,
        })
    }
}

/// Why a command could not do what was asked.
#[derive(Debug)]
pub enum Failure {
    /// It cannot be done as asked.
    Impossible {
        /// What cannot be done, and why.
        message: String,
        /// What would help; may be empty.
        help: String,
    },
    /// The input is wrong; the text is a finished report of every problem.
    Input {
        /// One or more rendered diagnostics, styled for a terminal.
        report: String,
    },
    /// Stopped before anything was found.
    Stopped {
        /// What was under way.
        message: String,
    },
    /// The result could not be written.
    Output(io::Error),
}

/// What would help where a search was stopped too soon.
const LONGER: &str =
    "let it run longer, or ease what leaves few ways: supply limits and rules of joints";

impl Failure {
    /// It cannot be done as asked: what and why, then what would help.
    pub fn impossible(message: impl Into<String>, help: impl Into<String>) -> Failure {
        Failure::Impossible {
            message: message.into(),
            help: help.into(),
        }
    }

    /// Wrong input that has no place in a file: what is wrong, then the way out.
    pub fn input(message: impl fmt::Display, help: impl fmt::Display) -> Failure {
        Failure::Input {
            report: plain(&message.to_string(), &help.to_string()),
        }
    }

    /// The edges leave nothing to cover.
    pub fn no_deck(error: &DeckError) -> Failure {
        Failure::impossible(error.to_string(), error.way_out())
    }

    /// The program's own verifier refused an answer: it is not shown.
    pub fn unsound(violations: &[Violation]) -> Failure {
        let shown = violations
            .iter()
            .take(5)
            .map(ToString::to_string)
            .collect::<Vec<_>>();
        Failure::impossible(
            format!(
                "the answer failed this program's own check and is not shown: {}",
                shown.join("; ")
            ),
            "this is a mistake in the program; report it with the input that led to it",
        )
    }

    /// The process's exit code. A reader that closed the pipe early got what it wanted.
    pub fn code(&self) -> ExitCode {
        ExitCode::from(match self {
            Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => 0,
            Failure::Impossible { .. } | Failure::Output(_) => 1,
            Failure::Input { .. } => 2,
            Failure::Stopped { .. } => 3,
        })
    }

    /// Puts the failure on standard error.
    pub fn show(&self) {
        let text = match self {
            Failure::Impossible { message, help } => plain(message, help),
            Failure::Input { report } => report.clone(),
            Failure::Stopped { message } => plain(message, LONGER),
            Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => return,
            Failure::Output(error) => plain(&format!("cannot write the result: {error}"), ""),
        };
        // Nobody is left to be told when standard error is gone too.
        let _ = writeln!(anstream::stderr().lock(), "{}", text.trim_end());
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        Failure::Output(error)
    }
}

/// A failure without a place in a file, drawn as one with a place is.
fn plain(message: &str, help: &str) -> String {
    message::styled(&Findings::unplaced(message, help))
}
