//! Ways to finish: each kind against figures worked by hand, and every way
//! against the job it says it makes.

use crate::common::{fastener, inches, job, stock, surface_of};
use lastcourse::courses::{Across, Verdict};
use lastcourse::fit::{Change, Ending, Kind, Planned, Priced, Ranking, Task, fit};
use lastcourse::job::{self, *};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::plan::{Objective, PlanError, Totals};
use proptest::prelude::*;

fn inch(text: &str) -> Length {
    Length::parse(text, Some(Unit::Inch)).unwrap()
}

fn range(set: &str, least: &str, most: &str) -> Span {
    Span {
        set: inch(set),
        least: inch(least),
        most: inch(most),
    }
}

fn overhang(range: Span) -> Edge {
    Edge::Open {
        fascia: Length::ZERO,
        overhang: range,
        allowance: Length::ZERO,
    }
}

/// A built frame so wide across, 5-1/2 in boards with 1/4 in gaps, no boards to
/// buy.
fn built(across: &str) -> Job {
    let mut job = job(inches(240), inch(across));
    job.deck.built = true;
    job.stock.clear();
    job
}

/// Boards of the shortest length that holds a whole run, one for each course.
fn one_board_a_course(tasks: &[Task]) -> Vec<Planned> {
    let plan = |task: &Task| {
        let surface = surface_of(&task.job);
        let courses = Across::of(&task.job, &surface, task.fastener)
            .outcome()
            .laid;
        let stock = task.job.stock.iter();
        let fits = stock.filter(|stock| stock.length >= surface.run());
        let each = fits.filter_map(|stock| stock.price).min();
        let cost = each.ok_or(PlanError::Stopped)? * courses;
        Ok(Totals {
            boards: courses as u32,
            price: cost,
            joints: 0,
            doubled_joists: 0,
            objective: Objective::Cost,
            cost,
            value: cost.cents(),
            bound: cost.cents(),
            proven: true,
            joints_proven: true,
            stopped: false,
            bought: Length::ZERO,
            laid: Length::ZERO,
            extra: Length::ZERO,
        })
    };
    tasks.iter().map(plan).collect()
}

fn ways(job: &Job) -> Vec<Priced> {
    let all: Vec<usize> = (0..job.fasteners.len()).collect();
    fit(job, &all, Ranking::Disturbance, &one_board_a_course).unwrap()
}

fn of_kind<'a>(ways: &'a [Priced], kind: &str) -> Vec<&'a Priced> {
    ways.iter().filter(|way| way.way.kind() == kind).collect()
}

#[track_caller]
fn only<'a>(ways: &'a [Priced], kind: &str) -> &'a Priced {
    match of_kind(ways, kind).as_slice() {
        [one] => one,
        found => panic!("{} ways of kind {kind}", found.len()),
    }
}

fn kinds(ways: &[Priced]) -> Vec<String> {
    ways.iter().map(|way| way.way.kind()).collect()
}

#[test]
fn a_full_deck_is_left_as_it_is() {
    assert_eq!(kinds(&ways(&built("143-1/2"))), ["leave"]);
}

#[test]
fn an_overhang_gives_way_to_whole_courses() {
    // 144 in is 25 courses and 1/2 in.
    let mut job = built("143");
    job.edges.last = overhang(range("1", "1/2", "1-1/2"));
    let ways = ways(&job);
    let way = &only(&ways, "overhang").way;
    assert_eq!(way.changes, [Change::Overhang(Side::Last, inch("1/2"))]);
    assert_eq!((way.outcome.laid, way.outcome.verdict), (25, Verdict::Full));
    assert_eq!(ways[0].way.kind(), "overhang");
}

#[test]
fn the_last_edge_moves_first_and_the_first_by_the_rest() {
    let mut job = built("142-1/2");
    job.edges.last = overhang(range("1", "3/4", "1-1/2"));
    job.edges.first = overhang(range("1/2", "0", "1"));
    let ways = ways(&job);
    assert_eq!(
        only(&ways, "overhang").way.changes,
        [
            Change::Overhang(Side::Last, inch("3/4")),
            Change::Overhang(Side::First, inch("1/4")),
        ]
    );
}

#[test]
fn a_sliver_is_at_least_made_a_rip() {
    // 1/4 in of course 26; no overhang makes all whole, 1-3/4 in more makes 2 in.
    let mut job = built("143");
    job.edges.last = overhang(range("1", "1", "3"));
    let ways = ways(&job);
    let way = &only(&ways, "overhang").way;
    assert_eq!(way.changes, [Change::Overhang(Side::Last, inch("2-3/4"))]);
    assert_eq!(way.outcome.last_width, Some(inch("2")));
    assert_eq!(way.outcome.verdict, Verdict::Rip);
}

#[test]
fn a_gap_is_solved_exactly_and_to_what_can_be_set() {
    // 144 in with 25 boards of 5-1/2 in leaves 13/48 in for each gap (computed;
    // no published source); 17/64 in is the nearest, 1/8 in short over 24 gaps.
    let mut job = built("144");
    job.fasteners[0].gap = range("1/4", "1/8", "5/16");
    let ways = ways(&job);
    let gaps = of_kind(&ways, "gap");
    assert_eq!(gaps.len(), 2);
    let exact = Change::Gap(0, Length::from_units(55_033));
    assert_eq!(gaps[0].way.changes, [exact]);
    assert_eq!(gaps[0].way.outcome.short_by, Length::from_units(8));
    assert_eq!(gaps[0].way.ending, Ending::Whole);
    assert_eq!(gaps[1].way.changes, [Change::Gap(0, inch("17/64"))]);
    assert_eq!(gaps[1].way.outcome.short_by, inch("1/8"));
    assert_eq!(gaps[1].way.ending, Ending::Short);
}

#[test]
fn metric_gaps_are_set_to_half_a_millimetre() {
    let mm = Length::from_tenths_of_mm;
    let mut job = built("144");
    job.unit = Unit::Millimetre;
    job.deck.across = mm(36_000);
    job.board.face = mm(1_450);
    job.board.narrowest_rip = mm(500);
    job.fasteners[0].gap = Span {
        set: mm(50),
        least: mm(40),
        most: mm(60),
    };
    // 24 boards of 145 mm leave 120 mm for 23 gaps: 5.217 mm, nearest 5 mm; that
    // is what it is already. 25 boards would want gaps below 0.
    let ways = ways(&job);
    let gaps = of_kind(&ways, "gap");
    assert_eq!(gaps.len(), 1);
    assert_eq!(
        gaps[0].way.changes,
        [Change::Gap(0, Length::from_units(41_739))]
    );
}

#[test]
fn a_frame_goes_to_the_nearest_whole_course_down_and_up() {
    let mut job = built("144");
    job.deck.built = false;
    let ways = ways(&job);
    let frames = of_kind(&ways, "frame");
    let found: Vec<_> = frames
        .iter()
        .map(|f| {
            (
                f.way.changes.clone(),
                f.way.joist_length,
                f.way.outcome.laid,
            )
        })
        .collect();
    // Joists between two rims of 1-1/2 in are 3 in shorter (common practice, no
    // source: frame 13 ft 2 in, joists 12 ft 11 in).
    assert_eq!(
        found,
        [
            (
                vec![Change::Across(inch("143-1/2"))],
                Some(inch("140-1/2")),
                25
            ),
            (
                vec![Change::Across(inch("149-1/4"))],
                Some(inch("146-1/4")),
                26
            ),
        ]
    );
    assert!(
        frames
            .iter()
            .all(|f| f.way.outcome.verdict == Verdict::Full)
    );
    job.deck.built = true;
    assert!(of_kind(&self::ways(&job), "frame").is_empty());
}

#[test]
fn a_rip_is_shared_or_moved() {
    // 144 in leaves 1/4 in, 2-7/8 in each when balanced (computed; no published
    // source).
    let ways = ways(&built("144"));
    let widths = |kind| {
        let outcome = only(&ways, kind).way.outcome;
        (outcome.first_width.unwrap(), outcome.last_width.unwrap())
    };
    assert_eq!(widths("balanced"), (inch("2-7/8"), inch("2-7/8")));
    assert_eq!(widths("shared"), (inch("5-1/2"), inch("2-7/8")));
    assert_eq!(widths("rip-first"), (inch("1/4"), inch("5-1/2")));
    assert_eq!(widths("leave"), (inch("5-1/2"), inch("1/4")));
    assert_eq!(kinds(&ways), ["balanced", "shared", "leave", "rip-first"]);
}

#[test]
fn balanced_cuts_are_alike_and_above_half_a_unit() {
    // ANSI A108.02, 4.3.1 and 4.3.2: 49-1/2 with units of 24 leaves 1-1/2; added
    // to a whole unit and halved it is 12-3/4 each side, one whole unit fewer.
    let mut job = built("49-1/2");
    job.board.face = inch("24");
    job.fasteners[0].gap = Span::fixed(Length::ZERO);
    let ways = ways(&job);
    let balanced = &only(&ways, "balanced").way;
    assert_eq!(balanced.outcome.first_width, Some(inch("12-3/4")));
    assert_eq!(balanced.outcome.last_width, Some(inch("12-3/4")));
    assert_eq!(balanced.ending, Ending::HalfBoard);
    assert_eq!(only(&ways, "leave").way.outcome.laid, 3);
}

#[test]
fn a_measured_gap_can_be_set_anew() {
    // Ten boards over 4 ft 9-1/4 in measure gaps of 1/4 in.
    let trial = "trial = { boards = 10, over = \"4ft 9-1/4in\" }";
    let text = format!(
        "[deck]\nalong = \"16ft\"\nacross = \"144in\"\nframe = \"built\"\n\
         [board]\nface = \"5-1/2in\"\n[[fastener]]\nname = \"4.5 mm pins\"\n{trial}\n\
         gap = {{ set = \"3/16in\", least = \"1/8in\", most = \"5/16in\" }}\n"
    );
    let checked = job::read(&text, "deck.toml", &[]).unwrap();
    assert_eq!(checked.job.fasteners[0].gap.set, inch("1/4"));
    let ways = ways(&checked.job);
    let exact = &of_kind(&ways, "gap")[0].way;
    // A name with a full stop would be taken apart; its count is not.
    assert_eq!(exact.changes[0].path(&checked.job), "fastener.1.gap");
    for way in of_kind(&ways, "gap") {
        let change = &way.way.changes[0];
        let set = Set::new(change.path(&checked.job), change.value(&checked.job));
        let changed = job::read(&text, "deck.toml", &[set]).unwrap().job;
        let outcome = Across::of(&changed, &surface_of(&changed), 0).outcome();
        assert_eq!(outcome, way.way.outcome);
    }
}

#[test]
fn some_gaps_by_another_fastener_take_up_the_rest() {
    // 1/2 in is eight times the sixteenth by which the other gap is wider.
    let mut job = built("144");
    let mut wide = fastener("spacer", FastenerKind::Face);
    wide.gap = Span::fixed(inch("5/16"));
    job.fasteners.push(wide);
    let ways = ways(&job);
    let mixed = of_kind(&ways, "mixed-fasteners");
    let mixed: Vec<_> = mixed.iter().filter(|way| way.way.fastener == 0).collect();
    assert_eq!(mixed.len(), 1);
    let eight = Mixed {
        fastener: 1,
        gaps: 8,
    };
    assert_eq!(mixed[0].way.changes, [Change::Mixed(eight)]);
    assert_eq!(mixed[0].way.outcome.verdict, Verdict::Full);
    assert_eq!(
        Change::Mixed(eight).value(&job),
        "{ fastener = \"spacer\", gaps = 8 }"
    );
}

#[test]
fn two_together_serve_where_no_single_one_is_enough() {
    let mut job = built("143");
    job.edges.last = overhang(range("1", "7/8", "1-1/8"));
    job.fasteners[0].gap = range("1/4", "1/4", "17/64");
    let ways = ways(&job);
    assert!(of_kind(&ways, "gap").is_empty() && of_kind(&ways, "overhang").is_empty());
    let both = &only(&ways, "overhang+gap").way;
    assert_eq!(
        both.changes,
        [
            Change::Gap(0, inch("17/64")),
            Change::Overhang(Side::Last, inch("7/8")),
        ]
    );
    assert_eq!(both.outcome.verdict, Verdict::Full);
    assert_eq!(ways[0].way.kind(), "overhang+gap");
}

#[test]
fn what_the_overhang_may_give_up_counts_as_full() {
    // 25 courses end 1/4 in short of 143-3/4 in.
    let mut job = built("142-3/4");
    job.edges.last = overhang(range("1", "1/2", "1"));
    let whole = ways(&job);
    assert_eq!(whole[0].way.kind(), "leave");
    assert_eq!(whole[0].way.outcome.verdict, Verdict::Short);
    assert_eq!(whole[0].way.ending, Ending::Whole);
    job.edges.last = overhang(range("1", "7/8", "1"));
    let short = ways(&job);
    assert_eq!(only(&short, "leave").way.ending, Ending::Short);
}

/// A frame 16 ft along with an inch of overhang at both ends.
fn sixteen_feet() -> Job {
    let mut job = job(inches(192), inch("143-1/2"));
    job.edges.left = overhang(Span::fixed(inch("1")));
    job.edges.right = overhang(Span::fixed(inch("1")));
    job.stock = vec![stock(16, 4000), stock(20, 5000)];
    job
}

#[test]
fn a_shorter_frame_lets_a_shorter_board_serve() {
    let job = sixteen_feet();
    let ways = ways(&job);
    let way = only(&ways, "length");
    assert_eq!(way.way.changes, [Change::Along(inch("190"))]);
    assert_eq!(way.difference, Some(Money::from_cents(-25 * 1000)));
    assert_eq!(way.more_boards, Some(0));
}

#[test]
fn overhangs_along_give_way_before_the_frame() {
    let mut job = sixteen_feet();
    job.edges.left = overhang(range("1", "0", "1"));
    job.edges.right = overhang(range("1", "1/2", "1"));
    let ways = ways(&job);
    // 2 in over: the two together give only 1-1/2 in.
    assert_eq!(
        only(&ways, "length").way.changes,
        [Change::Along(inch("190"))]
    );
    job.edges.right = overhang(range("1", "0", "1"));
    job.deck.built = true;
    let ways = self::ways(&job);
    assert_eq!(
        only(&ways, "length").way.changes,
        [
            Change::Overhang(Side::Right, inch("0")),
            Change::Overhang(Side::Left, inch("0")),
        ]
    );
}

#[test]
fn a_way_along_that_saves_nothing_is_not_listed() {
    let mut job = sixteen_feet();
    job.stock[1].price = job.stock[0].price;
    assert!(of_kind(&ways(&job), "length").is_empty());
}

#[test]
fn a_way_across_is_joined_by_one_along() {
    let mut job = sixteen_feet();
    job.deck.across = inch("144");
    let ways = ways(&job);
    let both = only(&ways, "frame+length");
    assert_eq!(both.way.outcome.verdict, Verdict::Full);
    assert_eq!(both.way.surface.run(), inch("192"));
    // 25 boards of $40.00 in place of 26 of $50.00.
    assert_eq!(both.difference, Some(Money::from_cents(100_000 - 130_000)));
}

#[test]
fn ways_without_boards_say_so() {
    let ways = ways(&built("144"));
    assert!(
        ways.iter()
            .all(|way| way.plan.is_none() && way.problem().is_some())
    );
}

#[test]
fn whole_courses_come_out_while_the_overhang_gives_way() {
    let mut job = built("142-1/2");
    job.edges.last = overhang(range("1", "1/2", "1-1/2"));
    let chance = |job: &Job| only(&ways(job), "leave").way.chance;
    assert_eq!(chance(&job), None);
    // A tolerance of 1/2 in on the frame is three standard deviations, and the
    // overhang gives 1/2 in either way.
    job.deck.tolerance = inch("1/2");
    assert!((chance(&job).unwrap() - 0.997_300_203_936_740).abs() < 1e-12);
    // A fixed overhang gives nothing, and half the time a board must be ripped.
    job.edges.last = overhang(Span::fixed(inch("1")));
    job.deck.tolerance = inch("1/16");
    assert!((chance(&job).unwrap() - 0.5).abs() < 1e-12);
}

#[test]
fn ranking_can_put_cost_or_chance_first() {
    let mut job = sixteen_feet();
    job.deck.across = inch("144");
    job.deck.tolerance = inch("1/4");
    let ranked = |ranking| fit(&job, &[0], ranking, &one_board_a_course).unwrap();
    let costs: Vec<_> = ranked(Ranking::Cost).iter().map(Priced::cost).collect();
    assert!(costs.is_sorted());
    let chances: Vec<_> = ranked(Ranking::Robust)
        .iter()
        .map(|way| (-1e6 * way.way.chance.unwrap()).round())
        .collect();
    assert!(chances.is_sorted());
    let endings: Vec<_> = ranked(Ranking::Disturbance)
        .iter()
        .map(|way| way.way.ending)
        .collect();
    assert!(endings.is_sorted());
}

/// A job file with ranges wherever there may be one.
fn file(across: i64, frame: &str, gap: i64, overhang: i64, finish: &str) -> String {
    let unit = |units: i64| Length::from_units(units).exact(Unit::Millimetre);
    format!(
        "[deck]\nalong = \"194in\"\nacross = \"{}\"\nframe = \"{frame}\"\ntolerance = \"1/8in\"\n\
         [edge.first]\noverhang = {{ set = \"1/2in\", least = \"1/4in\", most = \"3/4in\" }}\n\
         [edge.last]\noverhang = {{ set = \"1in\", least = \"{}\", most = \"1-1/2in\" }}\n\
         [board]\nface = \"5-1/2in\"\n\
         [[fastener]]\nname = \"spacers\"\n\
         gap = {{ set = \"{}\", least = \"1/8in\", most = \"5/16in\" }}\n\
         [[fastener]]\nname = \"slim clip\"\ngap = \"3/16in\"\n\
         [[stock]]\nlength = \"16ft\"\nprice = 40\n[[stock]]\nlength = \"20ft\"\nprice = 55\n\
         [courses]\nfinish = \"{finish}\"\n",
        unit(across),
        unit(overhang),
        unit(gap),
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_way_makes_the_job_it_says(
        across in 8_000_000i64..40_000_000,
        planned: bool,
        gap in 25_400i64..63_500,
        least in 101_600i64..203_200,
        finish in 0..5usize,
    ) {
        let finish = ["rip-last", "rip-first", "balanced", "shared", "leave-out"][finish];
        let frame = if planned { "planned" } else { "built" };
        let text = file(across, frame, gap, least, finish);
        let checked = job::read(&text, "deck.toml", &[]).unwrap();
        let ways = ways(&checked.job);
        for priced in &ways {
            let way = &priced.way;
            let sets: Vec<Set> = way
                .changes
                .iter()
                .map(|change| Set::new(change.path(&checked.job), change.value(&checked.job)))
                .collect();
            let changed = job::read(&text, "deck.toml", &sets);
            prop_assert!(changed.is_ok(), "{sets:?}: {}", changed.unwrap_err());
            let changed = changed.unwrap().job;
            prop_assert_eq!(&changed, &way.applied(&checked.job), "{:?}", sets);
            let surface = surface_of(&changed);
            let outcome = Across::of(&changed, &surface, way.fastener).outcome();
            prop_assert_eq!(outcome, way.outcome);
            prop_assert_eq!(surface, way.surface);
            if way.outcome.verdict == Verdict::Full {
                prop_assert_eq!(outcome.ripped_off, Length::ZERO);
                prop_assert_eq!(outcome.short_by, Length::ZERO);
            }
            if way.does(Kind::Frame) {
                prop_assert!(planned && outcome.verdict == Verdict::Full);
            }
            let overhang_alone = way.kinds == [Kind::Overhang];
            prop_assert!(!overhang_alone || way.ending != Ending::Sliver);
            if let Some(chance) = way.chance {
                prop_assert!((0.0..=1.0).contains(&chance));
            }
        }
        let leaves = of_kind(&ways, "leave").len();
        prop_assert_eq!(leaves, checked.job.fasteners.len());
    }
}
