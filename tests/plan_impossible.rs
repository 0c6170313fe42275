//! Jobs that have no plan: the rule that cannot be met is named with its values
//! and places, and every way out that is offered gives a plan.

use lastcourse::job::{Job, Joists, Set, read};
use lastcourse::length::Length;
use lastcourse::plan::{Effort, Objective, PlanError, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Unwatched;

/// A deck of 22 courses, 26 ft long, with boards of 16 and of 12 ft.
const IMPERIAL: &str = r#"
title = "Jetty"
[deck]
along = "26ft"
across = "10ft"
[board]
face = "5-1/2in"
[[fastener]]
name = "clip"
gap = "3/16in"
[[stock]]
length = "16ft"
price = 40
[[stock]]
length = "12ft"
price = 28
[joists]
spacing = "16in"
"#;

/// A metric deck of 15 courses, its boards left long at one end.
const METRIC: &str = r#"
title = "Platform"
unit = "mm"
[deck]
along = 6200
across = 2200
[edge.left]
overhang = 25
allowance = 10
[edge.right]
overhang = 25
[board]
face = 145
[[fastener]]
name = "spacers"
gap = 5
[[stock]]
length = "3.6m"
price = 17
[joists]
spacing = 450
[joints]
end_gap = 3
[cutting]
end_trim = 20
"#;

fn job(text: &str, sets: &[&str]) -> Job {
    let sets: Vec<Set> = sets
        .iter()
        .map(|set| Set::parse(set).expect("a set"))
        .collect();
    match read(text, "job", &sets) {
        Ok(checked) => checked.job,
        Err(findings) => panic!("{findings:?}"),
    }
}

/// What is said of a job that has no plan.
fn said(job: &Job) -> (String, String) {
    match plan(job, &PlanOptions::default(), &Unwatched) {
        Err(PlanError::Impossible { message, help } | PlanError::NotFound { message, help }) => {
            (message, help)
        }
        other => panic!("{other:?}"),
    }
}

/// The ways out that a help offers, as changes of the job.
fn ways_out(text: &str, sets: &[&str], help: &str) -> Vec<(String, Job)> {
    let Some((start, ways)) = help.split_once(": ") else {
        return Vec::new();
    };
    assert!(start.ends_with("makes a plan possible"), "{help}");
    ways.split("; ")
        .map(|way| {
            let quoted: Vec<String> = way
                .split('`')
                .skip(1)
                .step_by(2)
                .map(|set| set.replacen(" = ", "=", 1))
                .map(|set| match set.contains('[') {
                    true => set,
                    false => set.replace('"', ""),
                })
                .collect();
            let all: Vec<&str> = sets
                .iter()
                .copied()
                .chain(quoted.iter().map(String::as_str))
                .collect();
            let mut job = job(text, &all);
            let length = |text: &str| Length::parse(text, Some(job.unit)).expect("a length");
            if let Some(rest) = way.strip_prefix("boards of ") {
                let longer = length(rest.strip_suffix(" or longer").expect("how long"));
                let mut stock = job.stock[0].clone();
                (stock.length, stock.available) = (longer, None);
                job.stock.push(stock);
            } else if let Some(place) = way.strip_prefix("a joist near ") {
                let at = length(place);
                let mut centres = lastcourse::deck::supports(&job).centres;
                centres.push(at);
                centres.sort_unstable();
                job.joists = Joists::Positions {
                    centres,
                    spacing: None,
                    thickness: Length::from_64ths(96),
                };
            } else {
                assert!(!quoted.is_empty(), "nothing to do in {way:?}");
            }
            (way.to_owned(), job)
        })
        .collect()
}

/// What is said of a job, when each way out that it offers gives a plan; `least`
/// of them are offered.
fn explained(text: &str, sets: &[&str], least: usize) -> String {
    let (message, help) = said(&job(text, sets));
    let ways = ways_out(text, sets, &help);
    assert!(ways.len() >= least, "{help}");
    for (way, job) in ways {
        let quick = PlanOptions {
            effort: Effort::Quick,
            ..PlanOptions::default()
        };
        match plan(&job, &quick, &Unwatched) {
            Ok(plan) => assert_eq!(verify::plan(&job, &plan), [], "{way}"),
            Err(error) => panic!("{way} gives no plan: {error}"),
        }
    }
    format!("{message}\n\n{help}")
}

macro_rules! snapshot {
    ($name:literal, $text:expr, $sets:expr, $least:expr) => {
        insta::assert_snapshot!($name, explained($text, $sets, $least));
    };
}

#[test]
fn boards_that_cannot_be_had() {
    let sets = ["stock.1.available=0", "stock.2.available=0"];
    snapshot!("none_can_be_had", IMPERIAL, &sets, 0);
    let mut job = job(IMPERIAL, &[]);
    for stock in &mut job.stock {
        stock.price = None;
    }
    let (message, _) = said(&job);
    assert!(
        message.contains("16 ft: no price and none on hand"),
        "{message}"
    );
    job.cutting.end_trim = Length::from_feet(8);
    job.stock[0].on_hand = 3;
    let (message, _) = said(&job);
    assert!(
        message.contains("8 ft off each end leaves nothing of 16 ft"),
        "{message}"
    );
    job.stock.clear();
    let (message, help) = said(&job);
    assert!(message.contains("no boards"), "{message}");
    assert!(help.contains("price"), "{help}");
}

#[test]
fn stretches_that_no_board_spans() {
    let wide = ["joists.spacing=18ft", "joints.bearing=2"];
    snapshot!("a_bay_wider_than_any_board", IMPERIAL, &wide, 2);
    let ends = ["joists.positions=[0, \"26ft\"]", "joints.bearing=2"];
    snapshot!("only_end_joists", IMPERIAL, &ends, 1);
    let gap = [
        "joists.positions=[20, 600, 1200, 1800, 5600, 6180]",
        "joists.spacing=",
    ];
    snapshot!("a_bay_among_positions", METRIC, &gap, 1);
}

#[test]
fn pieces_that_break_a_rule() {
    snapshot!(
        "too_few_joists_under_a_piece",
        IMPERIAL,
        &["joints.bearing=14"],
        2
    );
    snapshot!("bearing_in_millimetres", METRIC, &["joints.bearing=8"], 2);
    let short = ["joints.shortest_piece=14ft"];
    snapshot!("a_shortest_piece_too_long", IMPERIAL, &short, 2);
    let both = [
        "joists.positions=[0, 156, 168, 180, 192, 204, 312]",
        "joists.spacing=",
        "joints.bearing=3",
        "joints.shortest_piece=12ft",
    ];
    snapshot!("bearing_and_shortest_piece_together", IMPERIAL, &both, 1);
}

#[test]
fn neighbours_that_crowd() {
    snapshot!("a_stagger_too_wide", IMPERIAL, &["joints.stagger=15ft"], 2);
    snapshot!(
        "a_stagger_in_millimetres",
        METRIC,
        &["joints.stagger=2000"],
        2
    );
    let one = [
        "joists.positions=[0, 156, 312]",
        "joists.spacing=",
        "joints.bearing=2",
    ];
    snapshot!("one_joist_for_all_joints", IMPERIAL, &one, 2);
    let seldom = [
        "deck.across=3ft",
        "joists.positions=[0, 48, 96, 144, 192, 240, 288, 312]",
        "joists.spacing=",
        "joints.bearing=2",
        "joints.same_joist_after=30",
    ];
    snapshot!("one_joist_too_seldom", IMPERIAL, &seldom, 2);
    let few = [
        "joists.positions=[0, 132, 156, 180, 312]",
        "joists.spacing=",
        "joints.bearing=2",
        "joints.same_joist_after=3",
    ];
    snapshot!("few_joists_for_joints", IMPERIAL, &few, 2);
}

#[test]
fn joints_so_many_joists_apart() {
    let far = ["joints.stagger_joists=12"];
    snapshot!("too_many_joists_apart", IMPERIAL, &far, 2);
}

#[test]
fn joints_that_cannot_come_round_again() {
    snapshot!("in_line_in_all_courses", IMPERIAL, &["joints.repeat=1"], 2);
    let soon = ["joints.repeat=2", "joints.same_joist_after=2"];
    snapshot!("round_again_too_soon", METRIC, &soon, 2);
    let apart = ["joints.repeat=3", "joints.stagger=6ft"];
    snapshot!("round_again_too_near", IMPERIAL, &apart, 2);
}

#[test]
fn stretches_without_joints() {
    let all = ["joints.keep_out=[['4ft', '24ft']]"];
    snapshot!("no_joist_left_for_joints", IMPERIAL, &all, 2);
    let middle = ["joints.keep_out=[[800, 2500], [2650, 4000]]"];
    snapshot!("few_joists_left_for_joints", METRIC, &middle, 2);
}

#[test]
fn other_pieces() {
    let bench = [
        "extra.1.label=bench",
        "extra.1.length=17ft",
        "extra.1.count=2",
    ];
    snapshot!("a_bench_longer_than_any_board", IMPERIAL, &bench, 2);
    let treads = [
        "extra.1.label=stair tread",
        "extra.1.length=900",
        "extra.1.count=12",
        "deck.across=900",
        "stock.1.available=14",
    ];
    snapshot!("too_many_treads", METRIC, &treads, 2);
}

#[test]
fn boards_that_are_too_few() {
    // Seven courses take 182 ft.
    let small = "deck.across=3ft";
    let short = [small, "stock.1.available=3", "stock.2.available=2"];
    snapshot!("too_few_by_their_length", IMPERIAL, &short, 3);
    let hand = [
        small,
        "stock.1.available=0",
        "stock.1.on_hand=2",
        "stock.2.available=9",
    ];
    snapshot!("too_few_with_some_on_hand", IMPERIAL, &hand, 3);
    // The short boards have no end and do not reach; the long ones are few.
    let long = [
        small,
        "stock.1.available=6",
        "stock.2.length=8ft",
        "joints.bearing=8",
    ];
    snapshot!("too_few_of_the_long_ones", IMPERIAL, &long, 2);
    // Fifteen boards would do by their length, but each gives one long piece.
    let sawn = [
        small,
        "stock.1.available=0",
        "stock.2.available=16",
        "joints.shortest_piece=6ft",
    ];
    snapshot!("too_few_once_they_are_sawn", IMPERIAL, &sawn, 2);
    let metric = ["deck.across=900", "stock.1.available=8"];
    snapshot!("too_few_in_millimetres", METRIC, &metric, 2);
}

#[test]
fn bundles_that_cannot_be_had() {
    let none = ["stock.1.available=3", "stock.1.bundle=4"];
    snapshot!("less_than_a_bundle", METRIC, &none, 0);
    let few = [
        "deck.across=900",
        "stock.1.available=14",
        "stock.1.bundle=5",
    ];
    snapshot!("too_few_bundles", METRIC, &few, 1);
}

#[test]
fn a_deck_without_a_surface() {
    let mut job = job(IMPERIAL, &[]);
    job.deck.along = Length::from_units(-1);
    let (message, help) = said(&job);
    assert_eq!(message, "the edges leave no surface along the boards");
    assert!(help.contains("larger"), "{help}");
}

#[test]
fn prices_that_cannot_be_counted() {
    let sets = [
        "deck.across=30ft",
        "stock.1.price=999999999",
        "stock.2.price=999999999",
    ];
    for prefer in [Objective::Cost, Objective::Joints, Objective::Waste] {
        let options = PlanOptions {
            prefer,
            ..PlanOptions::default()
        };
        match plan(&job(IMPERIAL, &sets), &options, &Unwatched) {
            Ok(plan) => assert!(plan.totals.bound <= plan.totals.value),
            Err(PlanError::NotFound { message, help }) => {
                assert!(message.contains("more than can be counted"), "{message}");
                assert!(help.contains("price"), "{help}");
            }
            Err(error) => panic!("{error:?}"),
        }
    }
}
