//! What decks stand on: places, areas, loads and goods, counted by hand and
//! held against published figures.

use crate::common::{inches, job, lay, stock, surface_of};
use crate::{HERON_YARD, QUINCE_CORNER, at, line, ordered, page};
use lastcourse::base::{self, Base, Under, concrete, footing_side, stone};
use lastcourse::deck;
use lastcourse::frame::{Part, Skeleton, frame};
use lastcourse::job::base::*;
use lastcourse::job::{self, *};
use lastcourse::length::{Length, Unit};
use lastcourse::load::{Force, Pressure};
use lastcourse::money::Money;
use lastcourse::order::{Group, Line, Needed, Order, order};
use lastcourse::volume::Volume;
use lastcourse::watch::Unwatched;
use proptest::prelude::*;

fn read(text: &str) -> Job {
    job::read(text, "deck.toml", &[]).expect("a job").job
}

/// Blocks at this distance, set in by 6 in, and nothing else.
fn blocks(spacing: Length) -> BaseRules {
    BaseRules::new(
        Support {
            goods: Goods {
                name: "block".to_owned(),
                pack: Pack {
                    pieces: 1,
                    weight: None,
                    price: Some(Money::from_cents(1000)),
                },
                spare: Percent(0),
            },
            kind: SupportKind::Block,
            spacing,
            capacity: None,
        },
        at("6in"),
    )
}

fn crushed(depth: &str, beyond: &str, compaction: u32) -> Gravel {
    Gravel {
        name: "crushed stone".to_owned(),
        depth: at(depth),
        beyond: at(beyond),
        compaction: Percent(compaction),
        portion: Portion {
            unit: Bulk::CubicYard.sold_by(Step::Half),
            volume: Volume::CUBIC_YARD.part(2),
            price: Some(Money::from_cents(2700)),
        },
    }
}

fn skeleton(job: &Job) -> Option<Skeleton> {
    let rules = job.frame.as_ref()?;
    let joists = deck::supports(job).centres;
    Some(frame(job, rules, &joists, &[], &[]).expect("a frame"))
}

fn laid_out(job: &Job) -> Base {
    let rules = job.base.as_ref().expect("a base");
    let joists = deck::supports(job).centres;
    base::lay(job, rules, &joists, skeleton(job).as_ref())
}

fn cents(line: &Line) -> Option<i64> {
    line.price.map(Money::cents)
}

#[test]
fn footings_are_as_wide_as_the_codes_table_has_them() {
    // International Residential Code 2018, table R507.3.1 (40 psf live load, from
    // memory): area of ground = tributary area x 50 psf / soil. At 1500 psf by
    // tributary square feet, in inches: square, and the diameter of a round one;
    // the table rounds them to whole inches.
    let soil = Pressure::psf_100(150_000);
    let load = Pressure::psf_100(4000).and(Pressure::psf_100(1000));
    let foot = i128::from(at("1ft").units());
    for (feet, square, round) in [
        (40, 13.86, 15.64),
        (60, 16.97, 19.15),
        (80, 19.60, 22.11),
        (100, 21.91, 24.72),
        (120, 24.00, 27.08),
        (140, 25.92, 29.25),
        (160, 27.71, 31.27),
    ] {
        let area = soil.bears(load, 4 * feet * foot * foot).expect("an area");
        for (side, expected) in [
            (footing_side(area, false), square),
            (footing_side(area, true), round),
        ] {
            assert!(
                (side.inches() - expected).abs() < 0.006,
                "{feet} sq ft: {side:?}"
            );
        }
    }
    // 120 square feet at 50 are 6,000 lb, on 1500 psf exactly 4 square feet.
    let area = soil.bears(load, 4 * 120 * foot * foot).expect("an area");
    assert_eq!(footing_side(area, false), at("2ft"));
    assert_eq!(
        footing_side(area + 1, false),
        at("2ft") + Length::from_units(1)
    );
    assert_eq!(Pressure::psf_100(0).bears(load, area), None);
}

/// The same table begins at 12 in square, 14 in round and 6 in thick (from memory).
#[test]
fn footings_below_the_codes_table_are_told() {
    let told = |footing: &str| {
        let text = HERON_YARD.replace("diameter = \"20in\", depth = \"12in\"", footing);
        let order = ordered(&read(&text));
        let mut said = order.cautions.iter();
        said.any(|said| said.message.contains("the code's table begins at"))
    };
    assert!(!told("diameter = \"14in\", depth = \"6in\""));
    assert!(told("diameter = \"13-15/16in\", depth = \"12in\""));
    assert!(told("diameter = \"20in\", depth = \"5-7/8in\""));
    assert!(!told("side = \"12in\", depth = \"12in\""));
    assert!(told("side = \"11-7/8in\", depth = \"12in\""));
}

/// Common practice, no source: 2 to 3 in of crushed stone under blocks.
#[test]
fn blocks_on_little_stone_are_told() {
    let told = |depth: &str| {
        let mut job = read(QUINCE_CORNER);
        let base = job.base.as_mut().expect("a base");
        base.gravel.as_mut().expect("stone").depth = at(depth);
        let order = ordered(&job);
        let mut said = order.cautions.iter();
        said.any(|said| said.message.contains("on stone only"))
    };
    assert!(told("1-15/16in") && !told("2in") && !told("3in"));
}

/// Common practice, no source: joists of 2x6 in a low deck on blocks are carried
/// every five feet at least.
#[test]
fn low_joists_carried_seldom_are_told() {
    let told = |across: &str, joists: &str| {
        let wide = QUINCE_CORNER
            .replace("across = \"8ft\"", &format!("across = \"{across}\""))
            .replace(
                "spacing = \"5ft\", capacity",
                "spacing = \"10ft\", capacity",
            )
            .replace("2x6", joists);
        assert_ne!(wide, QUINCE_CORNER);
        let order = ordered(&read(&wide));
        let mut cautions = order.cautions.iter();
        cautions.any(|caution| caution.message.contains("are carried only every"))
    };
    // Rows stand 6 in inside either edge of the frame.
    assert!(!told("6ft", "2x6"));
    assert!(told("6ft 1/16in", "2x6"));
    assert!(!told("6ft 1/16in", "2x8"));
}

#[test]
fn concrete_in_bags() {
    // Common practice, no source: a pier 12 in across and 48 in deep is 3.1416
    // cubic feet (computed), 6 bags that make 0.60 and 7 that make 0.45 cu ft.
    let pier = |depth| Footing {
        outline: Outline::Round(at("12in")),
        depth: at(depth),
        bag: None,
    };
    let volume = concrete(&pier("48in"));
    assert_eq!(volume.show(Unit::Inch), "3.15 cu ft");
    assert_eq!(volume.show_in(Volume::CUBIC_YARD, "cu yd"), "0.12 cu yd");
    let bag = |hundredths: i64| Volume::ten_thousandths(hundredths * 100, Volume::CUBIC_FOOT);
    assert_eq!(volume.fill(bag(60).expect("a bag")), 6);
    assert_eq!(volume.fill(bag(45).expect("a bag")), 7);
    // A square of 18 in, 8 in deep: 2,592 cubic inches, exactly 1.5 cubic feet.
    let square = Footing {
        outline: Outline::Square(at("18in")),
        depth: at("8in"),
        bag: None,
    };
    assert_eq!(concrete(&square) * 2, Volume::CUBIC_FOOT * 3);
}

#[test]
fn stone_under_ground_blocks() {
    // Common practice, no source: 2 to 3 in of crushed stone under ground blocks;
    // 14 by 11 ft at 2-1/2 in are 32.08 cu ft, 1.188 cu yd (computed).
    let job = job(at("14ft"), at("11ft"));
    let [compacted, loose] = stone(&job, &crushed("2-1/2in", "0in", 2000));
    // 154 x 2.5 / 12 = 385 / 12; a fifth more is 38.5.
    assert_eq!(compacted * 12, Volume::CUBIC_FOOT * 385);
    assert_eq!(loose * 2, Volume::CUBIC_FOOT * 77);
    assert_eq!(compacted.show(Unit::Inch), "32.09 cu ft");
    assert!((compacted.value(Unit::Inch) / 27.0 - 1.188).abs() < 0.0005);
    // A foot past the frame where it is open, not at a wall: 16 by 12 ft.
    let mut job = job;
    job.edges.first = Edge::wall(Length::ZERO);
    let [compacted, _] = stone(&job, &crushed("2in", "12in", 0));
    assert_eq!(compacted, Volume::CUBIC_FOOT * 32);
}

#[test]
fn quince_corner_stands_on_blocks() {
    let job = read(QUINCE_CORNER);
    let base = laid_out(&job);
    // Joists at 3/4 in, at 16, 32, ... 112 (7 of them) and at 125-1/4 in: 9 rows.
    // Across 96 in less 6 at each end are 84, two spaces of 42 at 5 ft: 3 in each.
    assert_eq!((base.count(), base.rows()), (27, [9, 3]));
    assert_eq!(base.across, [at("6in"), at("48in"), at("90in")]);
    // The joist at 32 in carries from 24 to 40, the block in its middle from 27 to
    // 69: 16 x 42 = 672 square inches, 4-2/3 square feet, 233-1/3 lb at 50 psf.
    let (along, across, area) = base.heaviest().expect("a block");
    assert_eq!((along, across), (at("32in"), at("48in")));
    let inch = i128::from(at("1in").units());
    assert_eq!(area, 4 * 672 * inch * inch);
    let load = base.heaviest_load(Pressure::psf_100(5000)).expect("a load");
    assert!(Force::pounds_100(23_333) < load && load < Force::pounds_100(23_334));

    let order = ordered(&job);
    let count = |item: &str| {
        let line = line(&order, item);
        (line.needed, line.count, cents(line))
    };
    // 27 at 11.90.
    assert_eq!(
        count("concrete deck block"),
        (Needed::Count(27), 27, Some(32_130))
    );
    // 138 x 108 x 2-1/2 = 37,260 cubic inches, a fifth more 44,712: 25.875 cu ft,
    // less than the 27 of two half yards at 27.00.
    let loose = Volume::ten_thousandths(258_750, Volume::CUBIC_FOOT).expect("a volume");
    assert_eq!(
        count("crushed stone, 2-1/2 in deep"),
        (Needed::Volume(loose), 2, Some(5_400))
    );
    // Strips of 72 in that lap 12: two cover 108 in, each 138 in long, 23 ft of a
    // roll of 50. Three of 108 in would be 27.
    assert_eq!(
        count("fabric under the base"),
        (Needed::Length(at("23ft")), 1, Some(3_250))
    );
    // Around: 2 x (138 + 108) = 492 in, 5-1/8 pieces of 8 ft.
    assert_eq!(
        count("edging, 8 ft"),
        (Needed::Length(at("41ft")), 6, Some(7_650))
    );
    let of_base = order.lines.iter().filter(|line| line.group == Group::Base);
    assert_eq!(of_base.filter_map(cents).sum::<i64>(), 48_430);
    let left_out = order.not_counted.join("; ");
    assert!(!left_out.contains("footings"), "{left_out}");
    let said = page(&job, &order);
    for part in [
        "Base: 27 blocks in 9 rows of 3 under joists, centred 3/4 in, 16 in,",
        "carries most: 4.67 sq ft, 234 lb at 50 psf, of 1,200 lb stated.",
        "21.57 cu ft (0.80 cu yd) once it is compacted, 25.88 cu ft (0.96 cu yd) loose.",
        // Two halves, which "2 1/2" would not be.
        "25.88 cu ft    2  × 1/2 cu yd",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
}

#[test]
fn the_heron_yard_deck_stands_on_posts_and_footings() {
    let job = read(HERON_YARD);
    let base = laid_out(&job);
    // 378 in less 12 at each end are 354: at 8 ft four spaces of 88-1/2 in, so 5
    // under each of the two beams.
    assert_eq!(base.under, Under::Beams);
    assert_eq!((base.count(), base.rows()), (10, [2, 5]));
    let places: Vec<Length> = ["12in", "100-1/2in", "189in", "277-1/2in", "366in"]
        .into_iter()
        .map(at)
        .collect();
    assert_eq!(
        (&base.along, &base.across),
        (&places, &vec![at("9ft"), at("17ft")])
    );
    // Half of the 108 in to the ledger and half of the 96 between the beams: 102
    // in, by 88-1/2: 9,027 square inches, 62.6875 square feet, 3,134-3/8 lb.
    let (along, across, _) = base.heaviest().expect("a footing");
    assert_eq!((along, across), (at("100-1/2in"), at("9ft")));
    let load = base.heaviest_load(Pressure::psf_100(5000)).expect("a load");
    assert_eq!(load.show(Unit::Inch), "3,135 lb");
    // On 1500 psf 2.089583 square feet: round, 1.63112 ft or 19.5734 in.
    let rules = job.base.as_ref().expect("a base");
    let width = base.on_the_ground(rules).expect("a width");
    assert!((width.inches() - 19.5734).abs() < 0.0002, "{width:?}");

    let order = ordered(&job);
    // pi / 4 x 20 in x 20 in x 12 in = 3,769.91 cubic inches, 2.18166 cu ft, ten of
    // them 21.8166: 36.4 bags of 0.6.
    let bags = line(&order, "bag of concrete, 80 lb, 0.60 cu ft");
    assert_eq!((bags.unit.plural(), bags.count), ("bags", 37));
    assert_eq!(cents(bags), Some(37 * 715));
    for item in ["form tube, 20 in", "6x6 post base", "6x6 post cap"] {
        assert_eq!(line(&order, item).count, 10, "{item}");
    }
    // Posts of 40 in: two to 8 ft, three to 12 ft with the cuts between. At 39.80
    // and 58.90 the cheapest for ten is two of 12 ft and two of 8 ft, 197.40: five
    // of 8 ft are 199.00, three of 12 and one of 8 for more than ten 216.50.
    let framing = order.framing.as_ref().expect("a frame");
    let posts = framing.cuts.last().expect("a cut list");
    assert_eq!(posts.parts, [Part::Post]);
    assert_eq!(posts.problem.pieces[0].count, 10);
    assert_eq!((posts.plan.cost.cents(), posts.plan.proven), (19_740, true));
    assert_eq!(line(&order, "12 ft × 6x6, treated").count, 2);
    let left_out = order.not_counted.join("; ");
    assert!(left_out.contains("digging and reinforcement of the footings"));
    let over = |order: &Order, what: &str| {
        let mut cautions = order.cautions.iter();
        cautions.any(|caution| caution.message.contains(what))
    };
    assert!(!over(&order, "footings are"));
    // Footings of 18 in are too narrow, and 3,000 lb are not enough: of three
    // inner footings under the first beam.
    let mut job = job;
    let rules = job.base.as_mut().expect("a base");
    rules.footing.as_mut().expect("footings").outline = Outline::Round(at("18in"));
    rules.support.capacity = Some(Force::pounds_100(300_000));
    let order = ordered(&job);
    assert!(over(
        &order,
        "footings are 18 in wide, and on ground that bears 1500 psf"
    ));
    assert!(over(
        &order,
        "3 of 10 supports carry more than the 3,000 lb stated: the one at 8 ft 4-1/2 in along, 9 ft across carries 3,135 lb"
    ));
    // Exactly what is stated is enough: 3,134.375 lb are below 3,134.38.
    let rules = job.base.as_mut().expect("a base");
    rules.support.capacity = Some(Force::pounds_100(313_438));
    assert!(!over(&ordered(&job), "supports carry more"));
    let rules = job.base.as_mut().expect("a base");
    rules.support.capacity = Some(Force::pounds_100(313_437));
    assert!(over(&ordered(&job), "supports carry more"));
}

#[test]
fn posts_may_differ_on_ground_that_falls() {
    // Two beams of five posts: one height for each beam, or one for each post, and
    // equal ones are one line of the cut list.
    let posts = |heights: &str| -> Result<Vec<(String, u64)>, String> {
        let with = format!("heights = [{heights}]");
        let text = HERON_YARD.replace("height = \"3ft 4in\"", &with);
        let job = read(&text);
        let order = order(&job, &surface_of(&job), &lay(&job), &Unwatched);
        let order = order.map_err(|error| error.to_string())?;
        let pieces = order.framing.expect("a frame").skeleton.pieces;
        let posts = pieces.iter().filter(|piece| piece.part == Part::Post);
        Ok(posts
            .map(|post| (post.length.show(Unit::Inch), post.count))
            .collect())
    };
    let named = |all: &[(&str, u64)]| -> Result<Vec<(String, u64)>, String> {
        let all = all.iter();
        Ok(all.map(|&(at, count)| (at.to_owned(), count)).collect())
    };
    assert_eq!(posts("\"3ft 4in\""), named(&[("3 ft 4 in", 10)]));
    let falling = named(&[("3 ft 4 in", 5), ("3 ft 10 in", 5)]);
    assert_eq!(posts("\"3ft 4in\", \"3ft 10in\""), falling);
    let each = "40, 41, 42, 43, 44, 46, 46, 46, 46, 40";
    let expected = [
        ("3 ft 4 in", 2),
        ("3 ft 5 in", 1),
        ("3 ft 6 in", 1),
        ("3 ft 7 in", 1),
        ("3 ft 8 in", 1),
        ("3 ft 10 in", 4),
    ];
    assert_eq!(posts(each), named(&expected));
    assert_eq!(
        posts("40, 41, 42"),
        Err(
            "the job gives 3 heights of posts, and 10 posts stand under 2 beams, 5 under each"
                .to_owned()
        )
    );
}

#[test]
fn rows_may_be_fewer_than_joists() {
    // 10 ft along, joists at 3/4, 16, 32, ... 112 and 119-1/4 in. At 4 ft: from 3/4
    // the furthest within reach is 48 in, then 96, then the last: 4 rows, 5 joists
    // between.
    let mut job = job(at("10ft"), at("8ft"));
    let mut rules = blocks(at("5ft"));
    rules.row_spacing = Some(at("4ft"));
    job.base = Some(rules);
    let base = laid_out(&job);
    assert_eq!(base.along, ["3/4in", "48in", "96in", "119-1/4in"].map(at));
    assert_eq!(base.under, Under::Joists { between: 5 });
    let cautions = |job: &Job| {
        let order = ordered(job);
        let said = order.cautions.into_iter().map(|caution| caution.message);
        said.collect::<Vec<_>>().join("\n")
    };
    assert!(cautions(&job).contains("5 joists between the rows have no support of their own"));
    // Rows cannot be nearer than joists are.
    job.base.as_mut().expect("a base").row_spacing = Some(at("12in"));
    assert_eq!(laid_out(&job).rows(), [9, 3]);
    assert!(cautions(&job).contains("two rows of supports are 16 in apart, more than the 12 in"));
}

#[test]
fn a_ledger_carries_its_side() {
    let mut job = job(at("10ft"), at("10ft"));
    job.edges.first = Edge::wall(Length::ZERO);
    job.lumber = vec![Lumber {
        size: "2x8".to_owned(),
        thickness: at("1-1/2in"),
        depth: at("7-1/4in"),
        treated: false,
        stock: vec![stock(20, 3000)],
    }];
    job.frame = Some(FrameRules {
        ledger: Some(0),
        double_joists: false,
        ..FrameRules::new(0, at("1/8in"))
    });
    job.base = Some(blocks(at("5ft")));
    // From the ledger to 6 in inside the rim are 114 in, two spaces of 57.
    let base = laid_out(&job);
    assert_eq!(base.across, [at("57in"), at("114in")]);
    // Of 120 in the ledger keeps 28-1/2 in all along.
    let inch = i128::from(at("1in").units());
    let all: i128 = base.areas().sum();
    assert_eq!(2 * all, 4 * 120 * (240 - 57) * inch * inch);
    // Between two ledgers near enough there is nothing to stand on.
    job.edges.last = Edge::wall(Length::ZERO);
    job.base = Some(blocks(at("10ft")));
    assert_eq!(laid_out(&job).count(), 0);
    let order = ordered(&job);
    assert!(!order.lines.iter().any(|line| line.group == Group::Base));
    assert!(page(&job, &order).contains("Base: no block, since ledgers carry both ends"));
}

#[test]
fn without_a_base_it_is_said_to_be_left_out() {
    let order = ordered(&job(at("10ft"), at("8ft")));
    assert_eq!(order.base, None);
    assert!(
        order
            .not_counted
            .iter()
            .any(|what| what == "footings and base")
    );
}

#[test]
fn stone_in_more_bags_than_money_can_say_is_refused() {
    let mut job = job(at("90ft"), at("90ft"));
    job.stock = vec![stock(100, 9000)];
    let mut gravel = crushed("4ft", "0in", 0);
    gravel.portion.price = Some(Money::LIMIT);
    let mut rules = blocks(at("10ft"));
    rules.gravel = Some(gravel);
    job.base = Some(rules);
    let error = order(&job, &surface_of(&job), &lay(&job), &Unwatched).expect_err("too much");
    assert_eq!(
        error.to_string(),
        "crushed stone, 4 ft deep comes to more than a thousand million"
    );
}

#[test]
fn a_metric_base_is_told_in_metres_and_kilonewtons() {
    // 3 m by 2 m, joists of 38 mm at 400: 19, 400, ... 2800, 2981: 9. Across two
    // spaces of 850 at 1 m. The middle carries 400 x 850 mm = 0.34 m², at 2.4 kPa
    // 0.816 kN.
    let mut job = job(Length::from_mm(3000), Length::from_mm(2000));
    job.unit = Unit::Millimetre;
    job.joists = Joists::Spaced {
        spacing: Length::from_mm(400),
        first: Length::from_mm(400),
        thickness: Length::from_mm(38),
    };
    let mut rules = blocks(Length::from_mm(1000));
    rules.inset = Length::from_mm(150);
    rules.load = Some(Pressure::pascals(1920).and(Pressure::pascals(480)));
    rules.gravel = Some(crushed("0in", "0in", 0));
    rules.gravel.as_mut().expect("stone").depth = Length::from_mm(50);
    job.base = Some(rules);
    assert_eq!(laid_out(&job).rows(), [9, 3]);
    let said = page(&job, &ordered(&job));
    // 3 x 2 x 0.05 = 0.3 m³.
    for part in [
        "0.34 m², 0.82 kN at 2.4 kPa",
        "0.30 m³ once it is compacted",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
}

/// A deck of chance on blocks or, with `beams`, on beams.
fn by_chance(along: i64, across: i64, spacing: i64, inset: i64, beams: u32, ledger: bool) -> Job {
    let mut job = job(inches(along), inches(across));
    job.lumber = vec![Lumber {
        size: "2x8".to_owned(),
        thickness: at("1-1/2in"),
        depth: at("7-1/4in"),
        treated: false,
        stock: vec![stock(60, 3000)],
    }];
    if ledger {
        job.edges.first = Edge::wall(Length::ZERO);
    }
    job.frame = Some(FrameRules {
        ledger: ledger.then_some(0),
        double_joists: false,
        beam: (beams > 0).then_some(Beam {
            size: 0,
            plies: 2,
            at: BeamPlaces::Even(beams),
        }),
        ..FrameRules::new(0, at("1/8in"))
    });
    let mut rules = blocks(inches(spacing));
    rules.inset = inches(inset);
    rules.gravel = Some(crushed("2in", "6in", 1500));
    job.base = Some(rules);
    job
}

proptest! {
    #[test]
    fn supports_share_the_whole_deck_and_are_near_enough(
        along in 40i64..480,
        across in 40i64..300,
        spacing in 12i64..120,
        inset in 0i64..12,
        beams in 0u32..5,
        ledger in any::<bool>(),
    ) {
        let job = by_chance(along, across, spacing, inset, beams, ledger);
        let base = laid_out(&job);
        let beside = if beams > 0 { &base.along } else { &base.across };
        for pair in beside.windows(2) {
            prop_assert!(pair[1] - pair[0] <= inches(spacing));
            prop_assert!(pair[1] > pair[0]);
        }
        prop_assert_eq!(base.areas().count() as u64, base.count());
        // What the ledger carries is a strip up to halfway to the first row.
        let kept = if ledger { base.across[0] } else { Length::ZERO };
        let (along, across) = (job.deck.along.units(), job.deck.across.units());
        let whole = 2 * i128::from(along) * i128::from(2 * across - kept.units());
        prop_assert_eq!(base.areas().sum::<i128>(), whole);
        let heaviest = base.heaviest().expect("a support").2;
        prop_assert_eq!(base.areas().max(), Some(heaviest));
    }

    #[test]
    fn more_deck_never_needs_fewer_blocks_or_less_stone(
        along in 40i64..480,
        across in 40i64..300,
        longer in 0i64..60,
        wider in 0i64..60,
        spacing in 12i64..120,
        beams in 0u32..5,
        ledger in any::<bool>(),
    ) {
        let of = |along, across| {
            let job = by_chance(along, across, spacing, 6, beams, ledger);
            let rules = job.base.as_ref().expect("a base");
            let [_, loose] = stone(&job, rules.gravel.as_ref().expect("stone"));
            (laid_out(&job).count(), loose)
        };
        let (small, large) = (of(along, across), of(along + longer, across + wider));
        prop_assert!(small.0 <= large.0, "{small:?} {large:?}");
        prop_assert!(small.1 <= large.1, "{small:?} {large:?}");
    }

    #[test]
    fn rows_are_as_near_as_joists_allow(
        along in 40i64..480,
        spacing in 10i64..25,
        rows in 12i64..120,
    ) {
        let mut job = job(inches(along), inches(96));
        job.joists = Joists::Spaced {
            spacing: inches(spacing),
            first: inches(spacing),
            thickness: at("1-1/2in"),
        };
        let mut rules = blocks(inches(60));
        rules.row_spacing = Some(inches(rows));
        job.base = Some(rules);
        let base = laid_out(&job);
        let joists = deck::supports(&job).centres;
        prop_assert_eq!(base.along.first(), joists.first());
        prop_assert_eq!(base.along.last(), joists.last());
        for pair in base.along.windows(2) {
            let between = joists.iter().any(|joist| pair[0] < *joist && *joist < pair[1]);
            prop_assert!(pair[1] - pair[0] <= inches(rows) || !between);
        }
        for three in base.along.windows(3) {
            // No row could be left out.
            prop_assert!(three[2] - three[0] > inches(rows));
        }
    }
}
