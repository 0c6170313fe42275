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

#[test]
fn a_pdf_holds_all_sheets_or_one_drawing() {
    let job = file("sheet-pdf.toml", JOB);
    let all = place("sheet-all.pdf");
    let ran = run(&["sheet", &job, "--pdf", &all]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.starts_with("The PDF of "), "{}", ran.out);
    let one = place("sheet-one.pdf");
    let ran = run(&["sheet", &job, "--pdf", &one, "--drawing", "cuts"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let size = |path: &str| std::fs::metadata(path).expect("a file").len();
    assert!(size(&all) > size(&one), "{} {}", size(&all), size(&one));
}

#[test]
fn nothing_is_written_where_one_file_may_not_be() {
    let job = file("sheet-both.toml", JOB);
    let there = file("sheet-both.html", "mine");
    let pdf = place("sheet-both.pdf");
    let ran = run(&["sheet", &job, "--pdf", &pdf, "--html", &there]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(!std::path::Path::new(&pdf).exists());
    let ran = run(&["sheet", &job, "--pdf", &pdf, "--html", &pdf]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("named for two files"), "{}", ran.err);
    assert!(!std::path::Path::new(&pdf).exists());
}

#[test]
fn a_picture_is_a_png_too() {
    let job = file("sheet-png.toml", JOB);
    let png = place("sheet.png");
    let ran = run(&["sheet", &job, "--png", &png, "--drawing", "last"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let bytes = std::fs::read(&png).expect("a file");
    assert!(bytes.starts_with(b"\x89PNG\r\n"));
}

#[test]
fn forecasts_curves_and_sweeps_are_drawn_beside_their_answers() {
    let job = file("sheet-beside.toml", JOB);
    for (name, args) in [
        ("forecast", vec!["forecast", &job]),
        ("curve", vec!["plan", &job, "--curve"]),
        (
            "sweep",
            vec!["plan", &job, "--sweep", "board.face=5in..5-1/2in:1/4in"],
        ),
    ] {
        let alone = run(&args);
        assert_eq!(alone.code, 0, "{}", alone.err);
        let svg = place(&format!("sheet-{name}.svg"));
        let drawn = run(&[&args[..], &["--svg", &svg]].concat());
        assert_eq!(drawn.code, 0, "{}", drawn.err);
        assert_eq!(drawn.out, alone.out);
        assert!(text(&svg).ends_with("</svg>\n"), "{name}");
    }
    let svg = place("sheet-plan.svg");
    let ran = run(&["plan", &job, "--svg", &svg]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("lastcourse sheet"), "{}", ran.err);
}
