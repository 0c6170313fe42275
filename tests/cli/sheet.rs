//! `lastcourse sheet`: drawings and pages in files.

use super::{JOB, file, run};

/// A place for a file that is not there yet.
fn place(name: &str) -> String {
    let path = file(name, "");
    std::fs::remove_file(&path).expect("a file");
    path
}

fn text(path: &str) -> String {
    std::fs::read_to_string(path).expect("a file")
}

#[test]
fn every_drawing_and_the_page_are_written() {
    let job = file("sheet.toml", JOB);
    for drawing in ["plan", "cuts", "marks", "last"] {
        let svg = place(&format!("sheet-{drawing}.svg"));
        let ran = run(&["sheet", &job, "--svg", &svg, "--drawing", drawing]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(ran.out.contains(&svg), "{}", ran.out);
        assert!(text(&svg).ends_with("</svg>\n"), "{drawing}");
    }
    let html = place("sheet.html");
    let ran = run(&["sheet", &job, "--html", &html, "--date", "12 May"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(text(&html).contains("12 May"));
}

#[test]
fn paper_follows_the_unit_unless_it_is_named() {
    let job = file("sheet-paper.toml", JOB);
    let svg = place("sheet-paper.svg");
    let letter = run(&["sheet", &job, "--svg", &svg]);
    assert_eq!(letter.code, 0, "{}", letter.err);
    assert!(text(&svg).contains("width=\"279.4mm\" height=\"215.9mm\""));
    let a4 = run(&["sheet", &job, "--svg", &svg, "--force", "--paper", "a4"]);
    assert_eq!(a4.code, 0, "{}", a4.err);
    assert!(text(&svg).contains("width=\"297mm\" height=\"210mm\""));
}

#[test]
fn a_file_that_is_there_stays() {
    let job = file("sheet-there.toml", JOB);
    let there = file("sheet-there.svg", "mine");
    let ran = run(&["sheet", &job, "--svg", &there]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("--force"), "{}", ran.err);
    assert_eq!(text(&there), "mine");
}

#[test]
fn what_is_not_there_is_said() {
    let job = file("sheet-page.toml", JOB);
    let svg = place("sheet-page.svg");
    let ran = run(&["sheet", &job, "--svg", &svg, "--page", "7"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("no page 7"), "{}", ran.err);
    assert!(!std::path::Path::new(&svg).exists());
    assert_eq!(run(&["sheet", &job]).code, 2);
}
