//! Drawings against the plans they are of: all is there, at its place and in
//! its size, within the page, and no word over another. SVG is read back by a
//! general XML reader.

#[path = "../support/mod.rs"]
mod support;

mod compare;
mod letters;
mod marks;
mod pictures;
mod section;
mod sheets;

use std::collections::BTreeMap;
use std::path::Path;

use lastcourse::deck::surface;
use lastcourse::draw::scene::{Rect, Shape};
use lastcourse::draw::{self, Extent, Layer, Scene, Sheet, Subject};
use lastcourse::job::{self, Job};
use lastcourse::length::{Length, Unit};
use lastcourse::order::order;
use lastcourse::plan::{Effort, Plan, PlanOptions, plan};
use lastcourse::report::Terms;
use lastcourse::watch::Unwatched;
use proptest::prelude::*;
use roxmltree::{Document, Node};
use support::draw::{Draw, strategy};
use support::jobs::{Size, job as any_job};
use support::planted;

/// The jobs in `fixtures`, each with a plan.
fn fixtures() -> Vec<(String, Job, Plan)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let mut found = Vec::new();
    for file in std::fs::read_dir(folder).expect("fixtures") {
        let path = file.expect("a fixture").path();
        if path.extension().is_none_or(|kind| kind != "toml") {
            continue;
        }
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let text = std::fs::read_to_string(&path).expect("a job file");
        let job = job::read(&text, &name, &[]).expect("a job").job;
        let options = PlanOptions {
            effort: Effort::Quick,
            ..PlanOptions::default()
        };
        let plan = plan(&job, &options, &Unwatched).expect("a plan");
        found.push((name, job, plan));
    }
    assert!(found.len() >= 5, "the fixtures are found");
    found
}

/// What is drawn of a plan, on the paper of its unit.
fn with_subject<T>(job: &Job, plan: &Plan, draw: impl FnOnce(&Subject<'_>) -> T) -> T {
    let surface = surface(job).expect("a surface");
    draw(&Subject {
        job,
        surface: &surface,
        plan,
        terms: &Terms::of(job, 16),
        sheet: Sheet::of(job.unit),
        date: Some("12 May"),
    })
}

fn plan_drawing(job: &Job, plan: &Plan) -> Scene {
    with_subject(job, plan, |subject| draw::plan(subject).remove(0))
}

/// The elements of a layer that stand for something, by what they stand for.
fn named<'a>(document: &'a Document<'a>, layer: &str) -> Vec<(String, Node<'a, 'a>)> {
    let groups = document
        .descendants()
        .filter(|node| node.tag_name().name() == "g" && node.attribute("class") == Some(layer));
    groups
        .flat_map(|group| group.children())
        .filter_map(|node| Some((node.attribute("data-name")?.to_owned(), node)))
        .collect()
}

fn number(node: &Node<'_, '_>, attribute: &str) -> f64 {
    let text = node.attribute(attribute).expect("an attribute");
    text.parse().expect("a number")
}

/// The scale a drawing says it is made to.
fn scale(document: &Document<'_>) -> f64 {
    let said = document
        .descendants()
        .filter_map(|node| node.text())
        .find_map(|text| text.strip_prefix("Scale 1:"))
        .expect("a scale");
    let end = said.find([',', ';']).unwrap_or(said.len());
    said[..end].parse().expect("a number")
}

/// All of a plan, in what is drawn of it.
#[track_caller]
fn all_is_there(name: &str, job: &Job, plan: &Plan) {
    let text = draw::svg(&plan_drawing(job, plan), Extent::Sheet);
    let document = Document::parse(&text).expect("well-formed XML");
    let scale = scale(&document);
    // A coordinate is off by half a thousandth of a millimetre at most.
    let near = |drawn: f64, length: Length| {
        let off = (drawn - length.mm() / scale).abs();
        assert!(off < 0.0011, "{name}: {drawn} mm for {length}");
    };
    let boards: BTreeMap<String, Node<'_, '_>> = named(&document, "board").into_iter().collect();
    let ripped: BTreeMap<String, Node<'_, '_>> = named(&document, "ripped").into_iter().collect();
    let mut drawn = 0;
    for course in &plan.courses {
        for piece in course.runs.iter().flat_map(|run| &run.pieces) {
            let layer = if course.ripped { &ripped } else { &boards };
            let rect = layer.get(&piece.id).expect("every piece");
            near(number(rect, "width"), piece.to - piece.from);
            near(number(rect, "height"), course.width);
            drawn += 1;
        }
    }
    assert_eq!(boards.len() + ripped.len(), drawn, "{name}");
    let joints = named(&document, "joint");
    assert_eq!(joints.len() as u32, plan.totals.joints, "{name}");
    let joists = named(&document, "joist");
    assert_eq!(joists.len(), plan.supports.len(), "{name}");

    // Gaps too are to scale: from piece to piece, course to course.
    let first = |course: usize| &plan.courses[course].runs[0].pieces[0];
    let origin = |layer: &str| {
        let piece = first(0);
        let all = if layer == "x" { &boards } else { &ripped };
        all.get(&piece.id)
            .or_else(|| boards.get(&piece.id))
            .or_else(|| ripped.get(&piece.id))
            .map(|rect| {
                (
                    number(rect, "x"),
                    number(rect, "y") + number(rect, "height"),
                )
            })
            .expect("the first piece")
    };
    let (x, y) = origin("x");
    for course in &plan.courses {
        for piece in course.runs.iter().flat_map(|run| &run.pieces) {
            let rect = boards.get(&piece.id).or_else(|| ripped.get(&piece.id));
            let rect = rect.expect("every piece");
            near(number(rect, "x") - x, piece.from - first(0).from);
            near(
                y - number(rect, "y") - number(rect, "height"),
                course.from - plan.courses[0].from,
            );
        }
    }
}

/// The figures of a drawing, read back.
#[track_caller]
fn figures_are_true(name: &str, job: &Job, plan: &Plan) {
    let text = draw::svg(&plan_drawing(job, plan), Extent::Sheet);
    let document = Document::parse(&text).expect("well-formed XML");
    let true_to = |figure: &str, length: Length| {
        let rounded = figure.starts_with('≈');
        let bare = figure.trim_start_matches('≈');
        let read = Length::parse(bare, Some(job.unit)).expect("a length");
        let off = (read - length).abs();
        let most = match job.unit {
            Unit::Inch => Length::from_64ths(2),
            Unit::Millimetre => Length::from_tenths_of_mm(5),
        };
        assert!(
            if rounded {
                off <= most
            } else {
                off == Length::ZERO
            },
            "{name}: {figure} for {length}"
        );
    };
    let far = |course: &str| {
        let number: usize = course.parse().expect("a course's number");
        &plan.courses[number - 1]
    };
    let across = named(&document, "across");
    for (course, node) in &across {
        let figure = node.text().expect("a figure");
        match course.as_str() {
            "start" => assert_eq!(figure, "0", "{name}"),
            "edge" => assert!(figure.starts_with("edge "), "{name}"),
            course => true_to(figure, far(course).to),
        }
    }
    let last = plan.courses.len().to_string();
    assert!(across.iter().any(|(course, _)| *course == last), "{name}");
    let rips = named(&document, "accent");
    for (course, node) in &rips {
        let figure = node.text().and_then(|text| text.strip_prefix("rip "));
        true_to(figure.expect("a rip"), far(course).width);
    }
    let ripped = plan.courses.iter().filter(|course| course.ripped).count();
    assert_eq!(rips.len(), ripped, "{name}");
    let mut supports = plan.supports.iter();
    for (_, node) in named(&document, "along") {
        let figure = node.text().expect("a figure");
        let bare = figure.trim_start_matches('≈');
        let read = Length::parse(bare, Some(job.unit)).expect("a length");
        let near = Length::from_64ths(3);
        let support = supports.find(|support| (**support - read).abs() <= near);
        true_to(figure, *support.expect("a joist in order"));
    }
}

/// Nothing off the page, no text over another, none over a joint.
#[track_caller]
fn reads_well(name: &str, scene: &Scene) {
    for item in &scene.items {
        assert!(
            scene.inner.holds(&item.bounds()),
            "{name}: {item:?} reaches off the page"
        );
    }
    let texts: Vec<_> = scene.texts().collect();
    let boxes: Vec<Rect> = texts.iter().map(|text| text.bounds()).collect();
    for (k, one) in boxes.iter().enumerate() {
        for (l, other) in boxes.iter().enumerate().skip(k + 1) {
            assert!(
                !one.meets(other),
                "{name}: {:?} over {:?}",
                texts[k],
                texts[l]
            );
        }
    }
    let joints = scene.items.iter().filter(|item| item.layer == Layer::Joint);
    for joint in joints {
        let line = joint.bounds().grown(100);
        let over = scene
            .items
            .iter()
            .find(|item| matches!(item.shape, Shape::Text(_)) && item.bounds().meets(&line));
        assert!(over.is_none(), "{name}: {over:?} over a joint");
    }
}

#[test]
fn all_of_a_plan_is_drawn_to_scale() {
    for (name, job, plan) in fixtures() {
        all_is_there(&name, &job, &plan);
    }
}

#[test]
fn figures_read_back_are_those_of_the_plan() {
    for (name, job, plan) in fixtures() {
        figures_are_true(&name, &job, &plan);
    }
}

/// The drawings on both papers.
fn all_drawings(job: &Job, plan: &Plan) -> Vec<Scene> {
    let mut all = Vec::new();
    for sheet in [Sheet::Letter, Sheet::A4] {
        all.extend(with_subject(job, plan, |subject| {
            draw::all(&Subject { sheet, ..*subject })
        }));
    }
    all
}

#[test]
fn drawings_read_well() {
    for (name, job, plan) in fixtures() {
        for scene in all_drawings(&job, &plan) {
            reads_well(&format!("{name}, {}", scene.title), &scene);
        }
    }
}

/// Every board stands under a bar with its pieces; bars are as long as boards.
#[track_caller]
fn every_board_is_cut(name: &str, job: &Job, plan: &Plan) {
    let pages = with_subject(job, plan, draw::cuts);
    let mut told = Vec::new();
    for page in &pages {
        for text in page.texts() {
            told.extend(text.words.split("; ").map(str::to_owned));
        }
    }
    for board in &plan.boards {
        let pieces = match &board.strips {
            None => board.pieces.join(", "),
            Some([one, two]) => format!("{} | {}", one.join(", "), two.join(", ")),
        };
        let line = format!("B{}: {pieces}", board.number);
        let cut_short = |told: &String| {
            let start = told.strip_suffix("...");
            start.is_some_and(|start| line.starts_with(start))
        };
        assert!(
            told.iter().any(|told| *told == line || cut_short(told)),
            "{name}: {line}"
        );
    }
    for page in &pages {
        let text = draw::svg(page, Extent::Sheet);
        let document = Document::parse(&text).expect("well-formed XML");
        let scale = scale(&document);
        for (bar, rect) in named(&document, "offcut") {
            let board: u32 = bar[1..].parse().expect("a board's number");
            let board = plan.boards.iter().find(|one| one.number == board);
            let off = number(&rect, "width") - board.expect("a board").length.mm() / scale;
            assert!(off.abs() < 0.0011, "{name}: {bar}");
        }
    }
}

#[test]
fn every_board_has_its_cuts() {
    for (name, job, plan) in fixtures() {
        every_board_is_cut(&name, &job, &plan);
    }
}

#[test]
fn the_page_stands_alone_and_holds_everything() {
    for (name, mut job, plan) in fixtures() {
        job.title.push_str(" <i>&</i>");
        let order = order(&job, &surface(&job).expect("a surface"), &plan, &Unwatched);
        let order = order.expect("an order");
        let page = with_subject(&job, &plan, |subject| {
            draw::html(subject, &order, &draw::all(subject))
        });
        assert!(!page.contains("<i>"), "{name}");
        let bare = page.replace("xmlns=\"http://www.w3.org/2000/svg\"", "");
        for outside in [
            "http:", "https:", "//cdn", "src=", "href=", "url(", "@import", "fetch(",
        ] {
            assert!(!bare.contains(outside), "{name}: {outside}");
        }
        for board in &plan.boards {
            let tick = format!("data-tick=\"board {}\"", board.number);
            assert_eq!(page.matches(&tick).count(), 1, "{name}: {tick}");
        }
        for course in &plan.courses {
            let tick = format!("data-tick=\"course {}\"", course.number);
            assert_eq!(page.matches(&tick).count(), 1, "{name}: {tick}");
        }
        for line in &order.lines {
            assert!(page.contains(&line.item), "{name}: {}", line.item);
        }
        let drawings = page.matches("<figure").count();
        assert_eq!(drawings, page.matches("</svg>").count(), "{name}");
        assert!(drawings >= 4, "{name}");
    }
}

#[test]
fn pieces_are_named_with_their_boards() {
    for (name, job, plan) in fixtures() {
        let scene = plan_drawing(&job, &plan);
        let named = scene.items.iter().filter(|item| item.layer == Layer::Piece);
        let mut with_board = 0;
        for item in named {
            let Shape::Text(text) = &item.shape else {
                panic!("{name}: {item:?}");
            };
            let id = item.name.as_deref().expect("a name");
            let pieces = plan
                .courses
                .iter()
                .flat_map(|c| &c.runs)
                .flat_map(|r| &r.pieces);
            let piece = pieces
                .clone()
                .find(|piece| piece.id == id)
                .expect("a piece");
            let both = format!("{id} B{}", piece.board);
            assert!(text.words == both || text.words == id, "{name}: {text:?}");
            with_board += usize::from(text.words == both);
        }
        assert!(with_board > 0, "{name}");
    }
}

#[test]
fn the_same_plan_is_drawn_in_the_same_bytes() {
    let (name, job, plan) = fixtures().remove(0);
    let draw = || draw::svg(&plan_drawing(&job, &plan), Extent::Sheet);
    assert_eq!(draw(), draw(), "{name}");
}

#[test]
fn any_title_is_written_as_xml_takes_it() {
    let (_, mut job, plan) = fixtures().remove(0);
    for title in [
        "<script>alert(\"1\")</script> & ]]> 'x'",
        "a\u{0}b\u{1b}[31m\u{fffe}",
        "\u{6f22}\u{5b57} e\u{301}",
        &"very long ".repeat(40),
        "",
    ] {
        job.title = title.to_owned();
        let scene = plan_drawing(&job, &plan);
        reads_well(title, &scene);
        let text = draw::svg(&scene, Extent::Sheet);
        let document = Document::parse(&text).expect("well-formed XML");
        let scripts = document
            .descendants()
            .filter(|node| node.tag_name().name() == "script");
        assert_eq!(scripts.count(), 0);
    }
}

/// A deck by chance and, where one was found without looking for a good one, a plan.
fn any_deck(draw: &mut Draw) -> (Job, Option<Plan>) {
    let size = draw.pick(&[Size::Small, Size::Tiny, Size::Full]);
    let mut job = any_job(draw, size);
    let plan = planted::plan(draw, &mut job);
    (job, plan)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_plan_is_drawn_whole_and_reads_well(
        (job, plan) in strategy(any_deck)
    ) {
        let Some(plan) = plan else { return Ok(()) };
        all_is_there("random", &job, &plan);
        figures_are_true("random", &job, &plan);
        every_board_is_cut("random", &job, &plan);
        for scene in all_drawings(&job, &plan) {
            reads_well(&scene.title, &scene);
        }
    }
}
