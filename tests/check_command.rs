//! `lastcourse check` as a person or a script runs it: what it prints where,
//! and how it ends.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

fn lastcourse(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lastcourse"))
        .args(args)
        .output()
        .expect("the program runs")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

fn fixture(name: &str) -> String {
    format!("{}/fixtures/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}

/// A file of this test run alone.
fn file(name: &str, bytes: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, bytes).expect("a file is written");
    path
}

#[track_caller]
fn refused(args: &[&str], said: &str) {
    let output = lastcourse(args);
    assert_eq!(output.status.code(), Some(2), "{}", err(&output));
    assert_eq!(out(&output), "");
    assert!(err(&output).contains(said), "{}", err(&output));
    assert!(
        !err(&output).contains('\u{1b}'),
        "colour where there is no terminal"
    );
}

#[test]
fn a_sound_job_is_said_to_be_one() {
    let output = lastcourse(&["check", &fixture("boathouse-terrace")]);
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(
        out(&output),
        "Boathouse terrace: nothing is wrong with this job.\n\n\
         A frame 22 ft 4 in along and 13 ft 2 in across, boards 5-1/2 in wide, 2\n\
         fasteners, 4 stock lengths.\n"
    );
    assert_eq!(err(&output), "");
}

#[test]
fn a_set_is_checked_like_the_file() {
    let job = fixture("boathouse-terrace");
    refused(&["check", &job, "--set", "deck.across=minus"], "--set:1:13");
    let output = lastcourse(&["check", &job, "--set", "deck.across=14ft"]);
    assert!(out(&output).contains("14 ft across"), "{}", out(&output));
    refused(&["check", &job, "--set", "deck.across"], "PATH=VALUE");
}

#[test]
fn the_example_passes_its_own_check() {
    let example = lastcourse(&["check", "--example"]);
    assert_eq!(example.status.code(), Some(0));
    let mut check = Command::new(env!("CARGO_BIN_EXE_lastcourse"))
        .args(["check", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program runs");
    check
        .stdin
        .take()
        .expect("a pipe")
        .write_all(&example.stdout)
        .expect("the job is taken");
    let output = check.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(0));
    assert!(
        out(&output).contains("nothing is wrong"),
        "{}",
        out(&output)
    );
}

#[test]
fn the_schema_is_json() {
    let output = lastcourse(&["check", "--schema"]);
    let schema: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert!(schema["properties"]["deck"].is_object());
}

#[test]
fn programs_get_the_problems_as_data() {
    let job = file("wrong.toml", b"[deck]\nalong = \"20ft\"\nacross = -3\n");
    let output = lastcourse(&["check", job.to_str().expect("a path"), "--format", "json"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(err(&output), "");
    let answer: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(answer["schema"], "lastcourse/check/1");
    assert_eq!(answer["unit"], "in");
    assert_eq!(answer["ok"], false);
    let problems = answer["problems"].as_array().expect("a list");
    let across = problems
        .iter()
        .find(|problem| problem["line"] == 3)
        .expect("the negative length");
    assert_eq!(across["severity"], "error");
    assert_eq!(across["column"], 10);
    assert_eq!(across["message"], "`deck.across` is -3 in");
    assert_eq!(across["help"], "it has to be more than 0");
    let missing = problems
        .iter()
        .find(|problem| problem["line"].is_null())
        .expect("what is missing");
    assert_eq!(missing["column"], Value::Null);

    let output = lastcourse(&["check", &fixture("orchard-platform"), "--format", "json"]);
    assert_eq!(output.status.code(), Some(0));
    let answer: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(
        (&answer["ok"], &answer["unit"]),
        (&Value::Bool(true), &Value::from("mm"))
    );
}

#[test]
fn a_caution_is_no_failure() {
    let text = std::fs::read_to_string(fixture("boathouse-terrace")).expect("the fixture");
    let job = file(
        "caution.toml",
        text.replace("[joists]\nspacing = \"16in\"\n", "")
            .as_bytes(),
    );
    let output = lastcourse(&["check", job.to_str().expect("a path")]);
    assert_eq!(output.status.code(), Some(0));
    assert!(out(&output).starts_with("Boathouse terrace: the job is accepted, with 1 caution.\n"));
    assert!(out(&output).contains("caution: the job does not say where its joists are"));
}

#[test]
fn what_is_no_job_file_is_said_to_be_none() {
    let noise: Vec<u8> = (0..4096u32)
        .map(|k| (k.wrapping_mul(2_654_435_761) >> 23) as u8)
        .collect();
    for (name, bytes, said) in [
        ("empty.toml", &b""[..], "there is nothing in this file"),
        ("noise.toml", &noise[..], "this is no job file"),
        ("nul.toml", b"title = \"a\0\"", "it is not text"),
        (
            "latin.toml",
            b"# ok\ntitle = \"caf\xe9\"\n",
            "line 2 is not UTF-8 text",
        ),
        (
            "large.toml",
            &vec![b' '; (4 << 20) + 1],
            "it is larger than 4 MB",
        ),
    ] {
        let path = file(name, bytes);
        let path = path.to_str().expect("a path");
        refused(&["check", path], said);
        refused(&["check", path], name);
    }
    refused(
        &["check", env!("CARGO_TARGET_TMPDIR")],
        "this is a folder, not a file",
    );
    refused(&["check", "no/such/job.toml"], "there is no such file");
    refused(&["check"], "<JOB>");
}

#[test]
fn a_mark_at_the_start_of_the_text_is_read_over() {
    let text = std::fs::read_to_string(fixture("mill-pond-landing")).expect("the fixture");
    let job = file("marked.toml", format!("\u{feff}{text}").as_bytes());
    let output = lastcourse(&["check", job.to_str().expect("a path")]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
}

#[test]
fn a_reader_who_leaves_early_is_no_error() {
    let mut check = Command::new(env!("CARGO_BIN_EXE_lastcourse"))
        .args(["check", "--schema"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop(check.stdout.take());
    let output = check.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(err(&output), "");
}

#[test]
fn shells_and_manual_readers_are_served() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let output = lastcourse(&["completions", shell]);
        assert_eq!(output.status.code(), Some(0));
        assert!(out(&output).contains("forecast"), "{shell}");
    }
    assert!(out(&lastcourse(&["man"])).contains("lastcourse"));
    assert!(out(&lastcourse(&["man", "plan"])).contains("lastcourse"));
    refused(&["man", "paln"], "there is no command `paln`");
}
