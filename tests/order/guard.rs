//! Guards counted by hand: balusters against published counts, posts and bays
//! along edges with stairs, what is bought, and what the code asks.

use crate::common::{job, stock};
use crate::{answer, at, ordered, page};
use lastcourse::guard::{balusters, guard};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::{Group, Needed};
use lastcourse::stairs::Stairs;
use lastcourse::verify;
use proptest::prelude::*;

fn goods(name: &str, pieces: u32, cents: i64) -> Goods {
    Goods {
        name: name.to_owned(),
        pack: Pack {
            pieces,
            weight: None,
            price: Some(Money::from_cents(cents)),
        },
        spare: Percent(0),
    }
}

/// A deck with a guard of bought parts along these edges.
fn guarded(along: &str, across: &str, edges: &[Side]) -> Job {
    let mut job = job(at(along), at(across));
    job.guards.rules = Some(GuardRules {
        edges: edges.to_vec(),
        height: at("36in"),
        post: GuardPost {
            width: at("3-1/2in"),
            spacing: at("6ft"),
            made: Made::Bought(goods("post", 1, 2000)),
        },
        rail: Some(Rail {
            rows: 2,
            made: Made::Bought(goods("rail", 1, 1500)),
        }),
        baluster: Some(Baluster {
            width: at("1-1/2in"),
            clear_most: at("4in"),
            goods: goods("baluster", 20, 3800),
        }),
    });
    job
}

fn rules(job: &mut Job) -> &mut GuardRules {
    job.guards.rules.as_mut().expect("a guard")
}

fn with_stairs(mut job: Job, width: &str, side: Side, from: &str) -> Job {
    let name = format!("stairs {}", job.stairs.len());
    job.stairs
        .push(Stairs::of(Unit::Inch, &name, at("28in"), at(width)));
    job.guards.stairs.push(StairsAt {
        side,
        from: at(from),
    });
    job
}

#[test]
fn balusters_between_two_posts() {
    let (width, most) = (at("1-1/2in"), at("4in"));
    let count = |clear: &str| balusters(at(clear), width, most);
    // A baluster guide of a how-to site: 72 in, 13 balusters, 3-3/4 in apart;
    // (72 - 13 x 1-1/2) / 14.
    assert_eq!(count("72in"), 13);
    assert_eq!((at("72in") - width * 13), at("3-3/4in") * 14);
    // An ironwork guide has 10 balusters in 52 in; computed: 9 do, since 38-1/2 in
    // are left for 10 spaces, and 8 leave 40 in for 9.
    assert_eq!(count("52in"), 9);
    assert!(at("52in") - width * 9 <= most * 10 && at("52in") - width * 8 > most * 9);
    // A home improvement guide: 101 in, 2 in balusters, 4 in clear: 17, since
    // (101 - 34) / 18 = 3.72 (computed).
    assert_eq!(balusters(at("101in"), at("2in"), most), 17);
    // None where nothing passes anyway; one as soon as something might.
    assert_eq!([count("0in"), count("4in"), count("4-1/64in")], [0, 0, 1]);
}

#[test]
fn posts_bays_and_shared_corners() {
    // By hand: 20 ft by 12 ft, a wall at the first edge. Last edge: 240 - 3-1/2 =
    // 236-1/2 in between the outer posts' centres, at 72 in 4 bays of 59-1/8 in,
    // 5 posts; clear 59-1/8 - 3-1/2 = 55-5/8 in. Left and right: 140-1/2 in, 2 bays,
    // 3 posts each, clear 66-3/4 in. Two corners are shared: 5 + 3 + 3 - 2 = 9.
    let job = guarded("20ft", "12ft", &[Side::Last, Side::Left, Side::Right]);
    let found = guard(&job).expect("a guard");
    let bays: Vec<_> = found.runs.iter().map(|run| (run.bays, run.clear)).collect();
    let side = (2, at("66-3/4in"));
    assert_eq!(bays, [(4, at("55-5/8in")), side, side]);
    assert_eq!((found.posts, found.bays()), (9, 8));
    // (55-5/8 - 4) / 5-1/2 = 9.4, so 10; (66-3/4 - 4) / 5-1/2 = 11.4, so 12.
    let each: Vec<_> = found.runs.iter().map(|run| run.balusters).collect();
    assert_eq!(each, [10, 12, 12]);
    assert_eq!(found.balusters(), 4 * 10 + 2 * 12 + 2 * 12);
    // 66-3/4 - 18 = 48-3/4 in over 13 spaces: 3-3/4 in exactly.
    assert_eq!(found.runs[1].space, at("3-3/4in"));
    assert_eq!(found.length(), at("44ft"));
    // All around there are four corners: 5 + 5 + 3 + 3 - 4.
    let around = guarded("20ft", "12ft", &Side::ALL);
    assert_eq!(guard(&around).expect("a guard").posts, 12);
    // A spacing that fits exactly takes no bay more.
    let mut exact = guarded("20ft", "12ft", &[Side::Last]);
    rules(&mut exact).post.spacing = at("59-1/8in");
    assert_eq!(guard(&exact).expect("a guard").bays(), 4);
    rules(&mut exact).post.spacing = at("59-1/16in");
    assert_eq!(guard(&exact).expect("a guard").bays(), 5);
}

#[test]
fn stairs_open_the_guard() {
    // By hand: 20 ft less 4 ft of stairs from 6 ft on: 6 ft and 10 ft. 68-1/2 in
    // make one bay and 2 posts, 116-1/2 in two bays and 3 posts.
    let job = guarded("20ft", "12ft", &[Side::Last]);
    let job = with_stairs(job, "4ft", Side::Last, "6ft");
    let found = guard(&job).expect("a guard");
    let runs: Vec<_> = found
        .runs
        .iter()
        .map(|run| (run.from, run.to, run.bays))
        .collect();
    let feet = Length::from_feet;
    assert_eq!(runs, [(feet(0), feet(6), 1), (feet(10), feet(20), 2)]);
    assert_eq!(found.posts, 5);
    // At another edge they open nothing here, and at the corner only one end.
    let job = with_stairs(
        guarded("20ft", "12ft", &[Side::Last]),
        "4ft",
        Side::Left,
        "0in",
    );
    assert_eq!(guard(&job).expect("a guard").length(), at("20ft"));
    let both = guarded("20ft", "12ft", &[Side::Last, Side::Left]);
    assert_eq!(guard(&both).expect("a guard").posts, 5 + 3 - 1);
    let job = with_stairs(both, "4ft", Side::Last, "0in");
    // 16 ft: 188-1/2 in, 3 bays, 4 posts; the corner's post is the left edge's own.
    assert_eq!(guard(&job).expect("a guard").posts, 4 + 3);
    // A stretch no longer than two posts is filled by one.
    let job = with_stairs(
        guarded("20ft", "12ft", &[Side::Last]),
        "19ft 5in",
        Side::Last,
        "7in",
    );
    let found = guard(&job).expect("a guard");
    assert_eq!((found.bays(), found.posts), (0, 1));
    // And stairs over all of it leave none.
    let job = with_stairs(
        guarded("20ft", "12ft", &[Side::Last]),
        "20ft",
        Side::Last,
        "0in",
    );
    assert_eq!(guard(&job).expect("a guard").posts, 0);
}

#[test]
fn what_is_bought_for_a_guard() {
    // By hand, of the deck above: 9 posts, 8 bays with 2 rails each, 88 balusters in
    // packs of 20.
    let job = guarded("20ft", "12ft", &[Side::Last, Side::Left, Side::Right]);
    let order = ordered(&job);
    let lines = order.lines.iter().filter(|line| line.group == Group::Guard);
    let lines: Vec<_> = lines
        .map(|line| (line.item.as_str(), line.needed, line.count))
        .collect();
    assert_eq!(
        lines,
        [
            ("post", Needed::Count(9), 9),
            ("rail", Needed::Count(16), 16),
            ("baluster", Needed::Count(88), 5),
        ]
    );
    let page = page(&job, &order);
    for part in [
        "Guard, 3 ft high: 44 ft of it on 9 posts, up to 6 ft apart on centre.",
        "- left edge, 0 in to 12 ft: 2 bays of 5 ft 6-3/4 in clear, each of 12 balusters 3-3/4 in apart.",
        "the guard for $610.00",
        "what fixes the guard's posts",
        "the guard is counted, not designed",
    ] {
        assert!(page.contains(part), "{part}:\n{page}");
    }
    let answer = answer(&job, &order);
    assert_eq!(answer["guard"]["posts"], 9);
    assert_eq!(answer["guard"]["balusters"], 88);
    assert_eq!(answer["guard"]["runs"][1]["space"], 3.75);
}

#[test]
fn rails_and_posts_are_cut_with_the_frame() {
    let mut job = guarded("20ft", "12ft", &[Side::Last, Side::Left, Side::Right]);
    let lumber = |size: &str, thickness: &str, feet, cents| Lumber {
        size: size.to_owned(),
        thickness: at(thickness),
        depth: at("3-1/2in"),
        treated: false,
        stock: vec![stock(feet, cents)],
    };
    job.lumber = vec![
        lumber("2x4", "1-1/2in", 20, 1100),
        lumber("4x4", "3-1/2in", 10, 1500),
    ];
    job.frame = Some(FrameRules {
        double_joists: false,
        ..FrameRules::new(0, at("1/8in"))
    });
    rules(&mut job).post.made = Made::Cut {
        size: 1,
        length: Some(at("4ft 6in")),
    };
    rules(&mut job).rail = Some(Rail {
        rows: 2,
        made: Made::Cut {
            size: 0,
            length: None,
        },
    });
    let order = ordered(&job);
    let framing = order.framing.as_ref().expect("a frame");
    let pieces = |part: &str| -> Vec<(Length, u64)> {
        let pieces = framing.skeleton.pieces.iter();
        let pieces = pieces.filter(|piece| piece.part.name() == part);
        pieces.map(|piece| (piece.length, piece.count)).collect()
    };
    assert_eq!(pieces("guard post"), [(at("4ft 6in"), 9)]);
    // 4 bays of two rails, and twice 2 bays of two.
    assert_eq!(pieces("rail"), [(at("55-5/8in"), 8), (at("66-3/4in"), 8)]);
    // Two posts of 4 ft 6 in from a stick of 10 ft: 5 sticks.
    let posts = order.lines.iter().find(|line| line.item == "10 ft × 4x4");
    assert_eq!(posts.expect("posts").count, 5);
    for (problem, plan) in order.cut_lists() {
        assert!(verify::cut(problem, plan).is_empty());
    }
    let bought: Vec<_> = order
        .lines
        .iter()
        .filter(|line| line.group == Group::Guard)
        .collect();
    assert_eq!(bought.len(), 1, "{bought:#?}");
}

fn cautions(job: &Job) -> Vec<String> {
    let said = ordered(job).cautions.into_iter();
    said.map(|caution| caution.message)
        .filter(|said| said.contains("R312") || said.contains("handout") || said.contains("limit)"))
        .collect()
}

#[test]
fn a_high_deck_without_a_guard() {
    // International Residential Code 2018, R312.1.1: more than 30 in above the
    // ground within 36 in of the open edge; 30 in exactly needs none.
    let plain = |height: &str| {
        let mut job = job(at("20ft"), at("12ft"));
        job.guards.height = Some(at(height));
        job
    };
    assert_eq!(cautions(&plain("30in")), [""; 0]);
    let said = cautions(&plain("30-1/64in"));
    assert_eq!(said.len(), 1);
    for part in ["30-1/64 in above", "more than 30 in", "IRC 2018, R312.1.1"] {
        assert!(said[0].contains(part), "{said:?}");
    }
    // The local code's own, by its name.
    let mut job = plain("25in");
    job.codes = Some(CodeRules {
        guard_above: Some(at("24in")),
        source: Some("county handout 2024".to_owned()),
        ..CodeRules::default()
    });
    assert!(cautions(&job)[0].contains("more than 24 in"));
    assert!(cautions(&job)[0].contains("(county handout 2024)"));
    // Stairs say how high it is, where nothing else does.
    let mut job = with_stairs(plain("0in"), "4ft", Side::Last, "8ft");
    job.guards.height = None;
    assert_eq!(cautions(&job), [""; 0]);
    job.stairs[0].rise = at("31in");
    // The deck without a guard, and the open sides of the stairs.
    assert_eq!(cautions(&job).len(), 2);
    // A guard all around is enough; one that leaves an edge out is told.
    let mut job = guarded("20ft", "12ft", &Side::ALL);
    job.guards.height = Some(at("40in"));
    assert_eq!(cautions(&job), [""; 0]);
    let mut job = guarded("20ft", "12ft", &[Side::First, Side::Last, Side::Left]);
    job.guards.height = Some(at("40in"));
    assert!(cautions(&job)[0].contains("leaves out the right edge"));
    job.edges.right = Edge::wall(Length::ZERO);
    assert_eq!(cautions(&job), [""; 0]);
}

#[test]
fn guards_lower_or_wider_than_the_code() {
    // International Residential Code 2018, R312.1.2: 36 in at least; R312.1.3: no
    // sphere of 4 in passes.
    let mut job = guarded("20ft", "12ft", &Side::ALL);
    assert_eq!(cautions(&job), [""; 0]);
    rules(&mut job).height = at("35-15/16in");
    assert!(cautions(&job)[0].contains("below 3 ft (IRC 2018, R312.1.2)"));
    rules(&mut job).height = at("36in");
    job.codes = Some(CodeRules {
        guard_least: Some(at("42in")),
        ..CodeRules::default()
    });
    assert!(cautions(&job)[0].contains("below 3 ft 6 in (the job's limit)"));
    job.codes = None;
    rules(&mut job)
        .baluster
        .as_mut()
        .expect("balusters")
        .clear_most = at("4-1/16in");
    assert!(cautions(&job)[0].contains("R312.1.3"));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn balusters_are_the_fewest_that_leave_no_wide_space(
        clear in 0..40_000_000i64,
        width in 50_000..700_000i64,
        most in 100_000..1_000_000i64,
        longer in 0..3_000_000i64,
    ) {
        let [clear, width, most] = [clear, width, most].map(Length::from_units);
        let count = balusters(clear, width, most);
        let fits = |count: i64| clear - width * count <= most * (count + 1);
        prop_assert!(fits(count as i64));
        prop_assert!(count == 0 || !fits(count as i64 - 1));
        prop_assert!(balusters(clear + Length::from_units(longer), width, most) >= count);
    }

    #[test]
    fn stretches_bays_and_spaces_keep_their_limits(
        (along, across) in (30..600i64, 30..400i64),
        spacing in 12..100i64,
        (stairs, from, side) in (12..29i64, 0..2i64, 0..4usize),
        longer in 0..100i64,
    ) {
        let deck = |along: i64| {
            let inches = |count: i64| format!("{count}in");
            let mut job = guarded(&inches(along), &inches(across), &Side::ALL);
            rules(&mut job).post.spacing = Length::from_inches(spacing);
            with_stairs(job, &inches(stairs), Side::ALL[side], &inches(from))
        };
        let job = deck(along);
        let found = guard(&job).expect("a guard");
        let around = Length::from_inches(2 * (along + across) - stairs);
        prop_assert_eq!(found.length(), around);
        let post = rules(&mut job.clone()).post.width;
        for run in &found.runs {
            prop_assert!(run.space <= at("4in"), "{:?}", run);
            let bays = run.bays as i64;
            if bays > 0 {
                // Posts and what is clear between them fill the stretch to a unit a bay.
                let filled = post * (bays + 1) + run.clear * bays;
                prop_assert!(filled >= run.length() && filled - run.length() < Length::from_units(bays));
                prop_assert!((run.length() - post) <= Length::from_inches(spacing) * bays);
                prop_assert!(bays == 1 || run.length() - post > Length::from_inches(spacing) * (bays - 1));
            }
        }
        // A longer edge takes no fewer posts.
        prop_assert!(guard(&deck(along + longer)).expect("a guard").posts >= found.posts);
    }
}
