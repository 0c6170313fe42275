//! The two streams a command speaks on: results to standard output, cautions
//! and progress to standard error. It knows terminals, colour and width; what
//! is said comes from the commands and their reports.

use std::io::{self, BufWriter, IsTerminal, Write};

use anstream::AutoStream;
use lastcourse::caution::Caution;
use lastcourse::job::{Findings, Problem, Severity, message};

use super::failure::Failure;

/// Where a command writes. Writing to it writes results to standard output;
/// styles are dropped when that is no terminal or `NO_COLOR` is set.
pub struct Console {
    out: BufWriter<AutoStream<io::StdoutLock<'static>>>,
    width: usize,
}

impl Console {
    /// The process's own streams.
    pub fn open() -> Console {
        let width = if io::stdout().is_terminal() {
            terminal_size::terminal_size().map_or(80, |(width, _)| usize::from(width.0))
        } else {
            80
        };
        Console {
            out: BufWriter::new(anstream::stdout().lock()),
            width: width.max(40),
        }
    }

    /// Columns there are for text; 80 when standard output is no terminal.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Puts cautions on standard error, drawn as those about a job's file are.
    pub fn cautions(&self, cautions: &[Caution]) {
        if cautions.is_empty() {
            return;
        }
        let problem = |caution: &Caution| Problem {
            severity: Severity::Caution,
            place: None,
            message: caution.message.clone(),
            help: caution.help.clone(),
            also: Vec::new(),
        };
        let findings = Findings {
            sources: Vec::new(),
            problems: cautions.iter().map(problem).collect(),
        };
        // A caution nobody can be told of is no reason to give up.
        let _ = writeln!(anstream::stderr().lock(), "{}", message::styled(&findings));
    }

    /// Writes out what is buffered, so that a failure to write is not lost.
    pub fn flush_result(&mut self) -> Result<(), Failure> {
        Ok(self.flush()?)
    }
}

impl Write for Console {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.out.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}
