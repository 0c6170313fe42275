//! How a command watches long work: Ctrl-C and a time limit stop it with the
//! best found so far, and a terminal is told what is known already. The stages
//! see only [`Watch`]; the clock, the signal and the terminal stay here.

use std::io::{self, IsTerminal, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::time::{Duration, Instant};

use lastcourse::watch::{Progress, Watch};

/// How often Ctrl-C was pressed.
static INTERRUPTS: AtomicU32 = AtomicU32::new(0);

/// The exit code of a run that was stopped before anything was found.
const STOPPED: i32 = 3;

/// Work is not spoken of before it has taken this long, nor more often.
const PATIENCE: Duration = Duration::from_millis(400);

/// A limit in seconds for commands that may work long.
#[derive(Debug, Clone, Copy, Default, clap::Args)]
pub struct LimitArgs {
    /// Stop after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub time_limit: Option<Duration>,
}

fn seconds(text: &str) -> Result<Duration, String> {
    let seconds: f64 = text
        .parse()
        .map_err(|_| format!("`{text}` is not a number of seconds"))?;
    match Duration::try_from_secs_f64(seconds) {
        Ok(limit) if !limit.is_zero() => Ok(limit),
        _ => Err("a time limit is a number of seconds above zero".to_owned()),
    }
}

/// Watches one piece of work from the command line.
pub struct Watching {
    began: Instant,
    limit: Option<Duration>,
    stopped: AtomicBool,
    /// Says a value of the objective for people: `$1,672`, `41 joints`.
    say: Box<dyn Fn(i64) -> String + Send + Sync>,
    /// When the line on the terminal was last written; nothing when it is no terminal.
    line: Option<Mutex<Option<Instant>>>,
}

impl Watching {
    /// Starts watching. From here on Ctrl-C stops the work with the best found
    /// so far, and a second Ctrl-C ends the program at once.
    pub fn start(
        limits: LimitArgs,
        say: impl Fn(i64) -> String + Send + Sync + 'static,
    ) -> Watching {
        // A second handler in one process is refused; the first one serves.
        let _ = ctrlc::set_handler(|| {
            if INTERRUPTS.fetch_add(1, Ordering::SeqCst) > 0 {
                std::process::exit(STOPPED);
            }
        });
        Watching {
            began: Instant::now(),
            limit: limits.time_limit,
            stopped: AtomicBool::new(false),
            say: Box::new(say),
            line: io::stderr().is_terminal().then(|| Mutex::new(None)),
        }
    }
}

impl Watching {
    /// Says on the terminal what is known already, once the work has taken a while.
    pub fn say(&self, text: impl FnOnce() -> String) {
        let Some(line) = &self.line else { return };
        let Ok(mut shown) = line.lock() else { return };
        if shown.unwrap_or(self.began).elapsed() < PATIENCE {
            return;
        }
        *shown = Some(Instant::now());
        let _ = write!(io::stderr(), "\r\x1b[2K{}", text());
    }
}

impl Watch for Watching {
    fn stop(&self) -> bool {
        let over = self
            .limit
            .is_some_and(|limit| self.began.elapsed() >= limit);
        if over || INTERRUPTS.load(Ordering::SeqCst) > 0 {
            self.stopped.store(true, Ordering::SeqCst);
        }
        self.stopped.load(Ordering::SeqCst)
    }

    fn progress(&self, so_far: &Progress) {
        self.say(|| sentence(so_far, &self.say));
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let Some(line) = &self.line else { return };
        if line.lock().is_ok_and(|shown| shown.is_some()) {
            let _ = write!(io::stderr(), "\r\x1b[2K");
        }
    }
}

/// What is known already, in one line.
fn sentence(so_far: &Progress, say: &dyn Fn(i64) -> String) -> String {
    let mut text = match (so_far.boards, so_far.value) {
        (Some(1), Some(value)) => format!("1 board, {}", say(value)),
        (Some(boards), Some(value)) => format!("{boards} boards, {}", say(value)),
        (_, Some(value)) => say(value),
        (_, None) => "no plan yet".to_owned(),
    };
    match (so_far.value, so_far.bound) {
        (Some(value), Some(bound)) if bound >= value => text.push_str("; nothing can be better"),
        (Some(value), Some(bound)) if bound > 0 => {
            // Rounded up, so that the line never promises more than is known.
            let above = (i128::from(value) - i128::from(bound)) * 1000;
            let tenths = (above + i128::from(bound) - 1) / i128::from(bound);
            text.push_str(&format!(
                "; at most {}.{} % above the best",
                tenths / 10,
                tenths % 10
            ));
        }
        (None, Some(bound)) => text.push_str(&format!("; none can be below {}", say(bound))),
        _ => {}
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dollars(cents: i64) -> String {
        format!("${}", cents / 100)
    }

    #[track_caller]
    fn check(value: Option<i64>, bound: Option<i64>, boards: Option<u32>, expected: &str) {
        let so_far = Progress {
            value,
            bound,
            boards,
        };
        assert_eq!(sentence(&so_far, &dollars), expected);
    }

    #[test]
    fn the_line_says_what_is_known_and_rounds_the_gap_up() {
        check(None, None, None, "no plan yet");
        check(
            None,
            Some(160_000),
            None,
            "no plan yet; none can be below $1600",
        );
        check(Some(167_200), None, Some(41), "41 boards, $1672");
        check(
            Some(167_200),
            Some(165_900),
            Some(41),
            "41 boards, $1672; at most 0.8 % above the best",
        );
        check(
            Some(100),
            Some(100),
            Some(1),
            "1 board, $1; nothing can be better",
        );
    }

    #[test]
    fn a_time_limit_is_a_number_of_seconds_above_zero() {
        assert_eq!(seconds("2.5"), Ok(Duration::from_millis(2500)));
        for wrong in ["0", "-1", "soon", "NaN", "inf", "1e400"] {
            assert!(seconds(wrong).is_err(), "{wrong}");
        }
    }
}
