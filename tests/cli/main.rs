//! The program as a person or a script meets it: arguments in, texts and exit
//! codes out.

mod certificate;
mod compare;
mod curve;
mod cut;
mod fit;
mod forecast;
mod help;
mod keys;
mod measure;
mod order;
mod plan;
mod prices;
mod schema;
mod sheet;
mod spreadsheet;
mod sweep;
mod wrong;

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// What a run came to.
#[derive(Debug)]
pub struct Ran {
    /// The exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs the program.
pub fn run(args: &[&str]) -> Ran {
    run_with(args, "")
}

/// Runs the program with something on its standard input.
pub fn run_with(args: &[&str], input: &str) -> Ran {
    let mut child = command()
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    // A program that does not want its input may be gone already.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    let output = child.wait_with_output().expect("the program ends");
    Ran {
        code: output.status.code().expect("an exit code"),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}

/// The program, away from whatever terminal the tests run in.
pub fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lastcourse"));
    command.env_remove("COLUMNS").env_remove("CLICOLOR_FORCE");
    command
}

/// Runs the program and reads its JSON answer.
#[track_caller]
pub fn json(args: &[&str]) -> serde_json::Value {
    let ran = run(&[args, &["--format", "json"]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    serde_json::from_str(&ran.out).expect("JSON")
}

/// A file of the test's own.
pub fn file(name: &str, bytes: impl AsRef<[u8]>) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, bytes).expect("a file can be written");
    path.to_string_lossy().into_owned()
}

/// An amount of money in a JSON answer, in cents.
#[track_caller]
pub fn cents(value: &serde_json::Value) -> i64 {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("no money: {value}"));
    let (whole, part) = text.split_once('.').expect("two decimals");
    assert_eq!(part.len(), 2, "two decimals in {text}");
    format!("{whole}{part}").parse().expect("an amount")
}

/// A job that is small enough to be planned at once: an odd rectangle with
/// joints, clips in packs, boards on hand and spares.
pub const JOB: &str = r#"
title = "Landing behind the shed"

[deck]
along  = "19ft 6in"
across = "7ft 3in"

[edge.first]
wall_clearance = "1/4in"

[edge.last]
overhang = "1in"

[edge.left]
overhang  = "1in"
allowance = "1/2in"

[edge.right]
overhang = "1in"

[board]
face = "5-1/2in"

[[fastener]]
name = "slim clip"
gap  = "3/16in"
pack = 50
pack_price = 17.90
spare = "5%"

[[fastener]]
name = "screws"
gap  = "1/8in"
kind = "face"

[[stock]]
length = "12ft"
price  = 29.80

[[stock]]
length = "16ft"
price  = 41.50

[[stock]]
length  = "8ft"
on_hand = 2
available = 0

[joists]
spacing = "16in"

[order]
spare = 1
"#;
