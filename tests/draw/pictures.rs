//! Drawings as pictures: each format against the others, and what general tools
//! read in them. Tests that need tools beside Rust are run by `.ci/run`.

use std::path::{Path, PathBuf};
use std::process::Command;

use lastcourse::deck::surface;
use lastcourse::draw::{self, Extent, Scene};
use lastcourse::order::order;
use lastcourse::watch::Unwatched;
use resvg::tiny_skia::Pixmap;

use super::sheets::sheets;
use super::{fixtures, plan_drawing, with_subject};

fn picture(scene: &Scene, dots: u32) -> Pixmap {
    let png = draw::png(scene, dots).expect("a picture");
    Pixmap::decode_png(&png).expect("a PNG")
}

/// How much two pictures of one size differ, from 0 to 255.
fn difference(one: &Pixmap, other: &Pixmap) -> f64 {
    assert_eq!((one.width(), one.height()), (other.width(), other.height()));
    let pairs = one.data().iter().zip(other.data());
    let sum: u64 = pairs.map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    sum as f64 / one.data().len() as f64
}

/// How dark a picture is, square by square of sixteen dots: two renderers set
/// letters a little apart from each other, but not by so much.
fn squares(picture: &Pixmap) -> Vec<f64> {
    const SIDE: usize = 16;
    let wide = picture.width() as usize;
    let across = wide.div_ceil(SIDE);
    let down = (picture.height() as usize).div_ceil(SIDE);
    let mut squares = vec![0.0; across * down];
    for (k, dot) in picture.pixels().iter().enumerate() {
        let square = k / wide / SIDE * across + k % wide / SIDE;
        squares[square] += f64::from(255 - dot.red()) / (SIDE * SIDE) as f64;
    }
    squares
}

/// How much is drawn at all: the share of dots that are not paper.
fn inked(picture: &Pixmap) -> f64 {
    let dots = picture.pixels();
    let inked = dots.iter().filter(|dot| dot.red() < 200).count();
    inked as f64 / dots.len() as f64
}

#[test]
fn every_sheet_is_a_picture_with_clean_margins() {
    for (name, job, plan) in fixtures() {
        for sheet in sheets(&job, &plan) {
            let picture = picture(&sheet, 50);
            let ink = inked(&picture);
            assert!(ink > 0.001 && ink < 0.5, "{name}, {}: {ink}", sheet.title);
            // A quarter of an inch all round is left white by half an inch of margin.
            let (wide, high) = (picture.width(), picture.height());
            for x in 0..wide {
                for y in (0..12).chain(high - 12..high) {
                    let dot = picture.pixel(x, y).expect("a dot");
                    assert_eq!(dot.red(), 255, "{name}, {}: {x}, {y}", sheet.title);
                }
            }
        }
    }
}

/// Where reference pictures lie.
fn reference(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/draw/reference");
    folder.join(format!("{name}.png"))
}

/// The pictures look as they did when somebody looked at them last;
/// `UPDATE_PICTURES=1` takes those of now.
#[test]
fn drawings_look_as_before() {
    const LARGEST: u64 = 100_000;
    for (name, job, plan) in fixtures() {
        let job_name = name.trim_end_matches(".toml");
        for (kind, scene) in [
            ("plan", plan_drawing(&job, &plan)),
            ("last", with_subject(&job, &plan, draw::last).remove(0)),
            ("section", with_subject(&job, &plan, draw::last).remove(1)),
        ] {
            let place = reference(&format!("{job_name}-{kind}"));
            let now = draw::png(&scene, 50).expect("a picture");
            if std::env::var_os("UPDATE_PICTURES").is_some() {
                std::fs::create_dir_all(place.parent().expect("a folder")).expect("a folder");
                std::fs::write(&place, &now).expect("a file");
            }
            let before = std::fs::read(&place).expect("a reference picture");
            assert!(before.len() as u64 <= LARGEST, "{}", place.display());
            let [before, now] = [before, now].map(|png| Pixmap::decode_png(&png).expect("a PNG"));
            let off = difference(&before, &now);
            assert!(off < 0.05, "{}: {off} off; look at it", place.display());
        }
    }
}

/// A folder for a test's files.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn ran(command: &mut Command) -> Vec<u8> {
    let output = command.output().expect("the tool is there");
    assert!(output.status.success(), "{command:?}: {output:?}");
    output.stdout
}

#[test]
#[ignore = "needs pdftoppm and pdftotext"]
fn a_pdf_looks_like_its_scenes_and_can_be_searched() {
    let folder = folder("pdf");
    for (name, job, plan) in fixtures() {
        let sheets = sheets(&job, &plan);
        let file = folder.join("sheets.pdf");
        let pdf = draw::pdf(&job.title, &sheets).expect("a PDF");
        std::fs::write(&file, pdf).expect("a file");
        for (page, sheet) in (1..).zip(&sheets) {
            let page = page.to_string();
            let text = ran(Command::new("pdftotext")
                .args(["-raw", "-f", &page, "-l", &page])
                .arg(&file)
                .arg("-"));
            let squeezed = |text: &str| text.split_whitespace().collect::<String>();
            let text = squeezed(&String::from_utf8_lossy(&text));
            for words in sheet.texts().map(|text| squeezed(&text.words)) {
                assert!(text.contains(&words), "{name}, sheet {page}: {words}");
            }
            let drawn = folder.join("page");
            ran(Command::new("pdftoppm")
                .args(["-r", "150", "-png", "-singlefile", "-f", &page, "-l", &page])
                .arg(&file)
                .arg(&drawn));
            let drawn = std::fs::read(drawn.with_extension("png")).expect("a page");
            let drawn = Pixmap::decode_png(&drawn).expect("a PNG");
            let (one, other) = (squares(&drawn), squares(&picture(sheet, 150)));
            assert_eq!(one.len(), other.len(), "{name}, {}", sheet.title);
            let off = one.iter().zip(&other).map(|(a, b)| (a - b).abs());
            let worst = off.fold(0.0, f64::max);
            assert!(worst < 60.0, "{name}, {}: {worst}", sheet.title);
        }
    }
}

/// Chromium without a window, a network or a profile of its own.
fn chromium(folder: &Path) -> Command {
    let mut command = Command::new("chromium");
    command
        .args([
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--hide-scrollbars",
            "--virtual-time-budget=20000",
        ])
        .arg(format!(
            "--user-data-dir={}",
            folder.join("profile").display()
        ));
    command
}

#[test]
#[ignore = "needs Chromium and axe-core, whose script AXE names"]
fn the_page_is_accessible_and_fits_a_phone() {
    let axe = std::env::var_os("AXE").expect("AXE names axe.min.js");
    let axe = std::fs::read_to_string(axe).expect("a script");
    let folder = folder("page");
    for (name, job, plan) in fixtures() {
        let order = order(&job, &surface(&job).expect("a surface"), &plan, &Unwatched);
        let order = order.expect("an order");
        let page = with_subject(&job, &plan, |subject| {
            draw::html(subject, &order, &draw::all(subject))
        });
        // The page as it is, and after it what looks at it.
        let looked_at = format!(
            "{page}<script>{axe}</script><script>axe.run().then(found => {{
               const told = document.createElement('pre'); told.id = 'found';
               told.textContent = 'found ' + found.violations.map(one =>
                 one.id + ': ' + one.nodes.map(node => node.html).join(' ')).join('; ')
                 + ' wide ' + document.documentElement.scrollWidth + ' end';
               document.body.append(told) }})</script>"
        );
        let file = folder.join("page.html");
        std::fs::write(&file, looked_at).expect("a file");
        let told = ran(chromium(&folder)
            .args(["--window-size=390,844", "--dump-dom"])
            .arg(format!("file://{}", file.display())));
        let told = String::from_utf8_lossy(&told);
        let told = told.rsplit("id=\"found\">").next().unwrap_or_default();
        assert!(told.starts_with("found  wide "), "{name}: {told}");
        // Nothing but lists and drawings of their own scrolls sideways. A window
        // is at least 500 wide here.
        let wide = told.trim_start_matches("found  wide ");
        let wide: u32 = wide
            .split(' ')
            .next()
            .and_then(|wide| wide.parse().ok())
            .expect("a width");
        assert!(wide <= 500, "{name}: {wide}");
    }
}

#[test]
#[ignore = "needs Chromium and pdftotext"]
fn the_page_prints_every_list() {
    let folder = folder("printed");
    for (name, job, plan) in fixtures() {
        let order = order(&job, &surface(&job).expect("a surface"), &plan, &Unwatched);
        let order = order.expect("an order");
        let page = with_subject(&job, &plan, |subject| {
            draw::html(subject, &order, &draw::all(subject))
        });
        let file = folder.join("page.html");
        std::fs::write(&file, page).expect("a file");
        let printed = folder.join("page.pdf");
        ran(chromium(&folder)
            .arg("--no-pdf-header-footer")
            .arg(format!("--print-to-pdf={}", printed.display()))
            .arg(format!("file://{}", file.display())));
        let text = ran(Command::new("pdftotext").arg(&printed).arg("-"));
        let text = String::from_utf8_lossy(&text);
        let text: Vec<&str> = text.split_whitespace().collect();
        let text = text.join(" ");
        for heading in ["Cautions", "Cut list", "Laying list", "What to buy"] {
            assert!(text.contains(heading), "{name}: {heading}");
        }
        for number in 1..=plan.boards.len() {
            let row = format!("B{number}:");
            assert!(text.contains(&row), "{name}: {row}");
        }
    }
}

#[test]
fn svg_says_what_is_drawn_to_those_who_cannot_see_it() {
    for (name, job, plan) in fixtures() {
        for sheet in sheets(&job, &plan) {
            let svg = draw::svg(&sheet, Extent::Sheet);
            assert!(svg.contains("<title>") && svg.contains("<desc>"), "{name}");
            assert!(!sheet.description.is_empty(), "{name}, {}", sheet.title);
        }
    }
}
