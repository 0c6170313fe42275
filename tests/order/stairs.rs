//! Stairs worked by hand: risers, treads, stringers, what is ordered for them,
//! and the limits of the code.

use crate::common::{inches, job, lay};
use lastcourse::job;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::{Group, Line, Needed, order};
use lastcourse::plan::{PlanOptions, plan};
use lastcourse::stairs::{Flight, Limits, Stairs, Timber, cautions};
use lastcourse::verify;
use lastcourse::watch::Unwatched;
use proptest::prelude::*;

const FACE: Length = Length::from_64ths(352);
const GAP: Length = Length::from_64ths(12);

fn stairs(rise: Length) -> Stairs {
    Stairs::of(Unit::Inch, "stairs", rise, inches(36))
}

fn flight(stairs: &Stairs) -> Flight {
    stairs.flight(FACE, GAP, Unit::Inch)
}

#[test]
fn a_rise_of_thirty_four_inches() {
    // 34 / 7-3/4 = 4.39, so 5 risers of 6.8 in. Marks above the ground, to the
    // nearest 1/64: 6.8 = 435.2 -> 435, 13.6 = 870.4 -> 870, 20.4 = 1305.6 ->
    // 1306, 27.2 = 1740.8 -> 1741, 34 = 2176. Their differences are 435, 435,
    // 436, 435, 435 sixty-fourths: 6-51/64 and 6-52/64.
    let found = flight(&stairs(inches(34)));
    assert_eq!(found.risers, 5);
    let heights: Vec<Length> = [435, 435, 436, 435, 435].map(Length::from_64ths).to_vec();
    assert_eq!(found.heights, heights);
    assert_eq!(found.between(), [435, 436].map(Length::from_64ths));
    // Four treads below the deck; one board of 5-1/2 is less than 10 in, two
    // with 3/16 between them are 11-3/16.
    assert_eq!((found.treads, found.boards_each), (4, 2));
    assert_eq!(found.depth, Length::from_64ths(716));
    assert_eq!(found.run, found.depth);
    assert_eq!(found.nosing, Length::ZERO);
    assert_eq!(found.total_run, Length::from_64ths(4 * 716));
    // 36 in less 1-1/2: 34-1/2 between the outer stringers' centres, three bays
    // of 16 in at most: four stringers.
    assert_eq!(found.stringers, 4);
    // Each from a board of five slopes: sqrt(34^2 + (5 x 11.1875)^2) = sqrt(1156
    // + 3128.9) = 65.459 in.
    assert!((found.stringer.inches() - 65.459).abs() < 0.001);
}

#[test]
fn a_slope_of_whole_numbers_is_exact() {
    // Four risers of 7-1/2 are 30 in, four runs of 10 are 40: 50 in.
    let found = flight(&Stairs {
        run: Some(inches(10)),
        ..stairs(inches(30))
    });
    assert_eq!(found.risers, 4);
    assert_eq!(found.between(), [480, 480].map(Length::from_64ths));
    assert_eq!(found.stringer, inches(50));
    // Two boards of 11-3/16 stand 1-3/16 over.
    assert_eq!(found.nosing, Length::from_64ths(76));
}

#[test]
fn the_highest_riser_itself_is_allowed() {
    // Twice 7-3/4 is 15-1/2; a sixty-fourth more takes three.
    let rise = Length::from_64ths(2 * 496);
    assert_eq!(flight(&stairs(rise)).risers, 2);
    assert_eq!(flight(&stairs(rise + Length::from_64ths(1))).risers, 3);
    // A local limit of 7 in takes three of 5-1/6.
    let local = Limits {
        riser_most: Some(inches(7)),
        ..Limits::default()
    };
    let limited = Stairs {
        limits: local,
        ..stairs(rise)
    };
    assert_eq!(flight(&limited).risers, 3);
    // One step down has no tread and no stringer.
    let one = flight(&stairs(inches(7)));
    assert_eq!((one.risers, one.treads, one.stringers), (1, 0, 0));
    assert_eq!(one.tread_boards(), 0);
}

#[test]
fn millimetres_are_marked_in_millimetres() {
    // 500 mm by 196.85 mm (7-3/4 in): three risers, marks 166.67 -> 167, 333.33
    // -> 333, 500: 167, 166, 167.
    let stairs = Stairs::of(
        Unit::Millimetre,
        "stairs",
        Length::from_mm(500),
        Length::from_mm(1_000),
    );
    let found = stairs.flight(Length::from_mm(145), Length::from_mm(5), Unit::Millimetre);
    assert_eq!(found.heights, [167, 166, 167].map(Length::from_mm));
    // 1000 less 38 is 962 mm, three bays of 400 at most.
    assert_eq!(found.stringers, 4);
}

fn said(stairs: &Stairs) -> Vec<String> {
    let said = cautions(stairs, &flight(stairs), false, Unit::Inch);
    said.into_iter().map(|caution| caution.message).collect()
}

// Limits of the International Residential Code, 2018 and 2021, R311.7, from
// memory: riser 7-3/4 in at most, run 10 in at least, width 36 in, flights to
// 151 in, landings 36 in, a handrail from 4 risers on.

#[test]
fn the_codes_limits_are_cautions_with_edition_and_section() {
    // 22 in are three risers of 7-1/3; nothing but the word about design.
    let sound = stairs(inches(22));
    assert_eq!(said(&sound).len(), 1, "{:?}", said(&sound));
    assert!(said(&sound)[0].contains("counted, not designed"));
    let with = |change: fn(&mut Stairs)| {
        let mut other = sound.clone();
        change(&mut other);
        let mut said = said(&other);
        said.pop();
        said
    };
    for (section, change) in [
        ("R311.7.5.1", (|s| s.risers = Some(2)) as fn(&mut Stairs)),
        ("R311.7.5.2", |s| {
            s.run = Some(Length::from_64ths(10 * 64 - 1))
        }),
        ("R311.7.1", |s| s.width = Length::from_64ths(36 * 64 - 1)),
        ("R311.7.6", |s| s.landing = Some(inches(35))),
        ("R311.7.8", |s| s.rise = inches(30)),
        ("R311.7.3", |s| s.rise = inches(152)),
    ] {
        let said = with(change);
        let told = said.iter().any(|said| {
            said.contains(section) && said.contains("IRC 2018 and 2021") && said.contains("memory")
        });
        assert!(told, "{section}: {said:?}");
    }
    for none in [
        (|s: &mut Stairs| s.width = inches(36)) as fn(&mut Stairs),
        |s| s.landing = Some(inches(36)),
        |s| s.run = Some(inches(10)),
    ] {
        assert!(with(none).is_empty(), "{:?}", with(none));
    }
    // Two boards leave 13/16 of a run of 12 open.
    let open = with(|s| {
        s.run = Some(inches(12));
        s.tread_boards = Some(2);
    });
    assert!(
        open.iter()
            .any(|said| said.contains("leave 13/16 in of the run open"))
    );
}

#[test]
fn local_limits_stand_in_for_the_codes() {
    let mut local = stairs(inches(22));
    local.width = inches(30);
    local.limits.width_least = Some(inches(30));
    assert_eq!(said(&local).len(), 1);
    local.limits.width_least = Some(inches(32));
    assert!(said(&local)[0].contains("32 in (the job's limit)"));
}

/// The lines of one group, as item, need, count.
fn lines(lines: &[Line]) -> Vec<(&str, u64, u64)> {
    let stairs = lines.iter().filter(|line| line.group == Group::Stairs);
    stairs
        .map(|line| match line.needed {
            Needed::Count(needed) => (line.item.as_str(), needed, line.count),
            Needed::Length(_) | Needed::Volume(_) => panic!("stairs are counted"),
        })
        .collect()
}

#[test]
fn what_stairs_take_is_ordered() {
    let timber = |feet, cents| Timber {
        length: Length::from_feet(feet),
        price: Some(Money::from_cents(cents)),
    };
    let mut job = job(inches(192), inches(144));
    job.stairs = vec![Stairs {
        timber: vec![timber(8, 2_400), timber(10, 2_700), timber(12, 3_900)],
        closed: true,
        landing: Some(inches(36)),
        run: Some(inches(10)),
        ..stairs(inches(30))
    }];
    let plan = lay(&job);
    let surface = crate::common::surface_of(&job);
    let ordered = order(&job, &surface, &plan, &Unwatched).expect("an order");
    // Four risers, three treads of two boards on four stringers of 50 in. One
    // 8 ft board gives one (twice 50-1/8 is more than 96-1/8): 4 x $24.00. A
    // 10 ft board gives two (100-1/4 of 120-1/8): 2 x $27.00, the cheapest. A
    // 12 ft board gives two as well.
    // Screws: 6 boards x 4 stringers x 2 = 48.
    assert_eq!(
        lines(&ordered.lines),
        [
            ("10 ft board for 4 stringers of 4 ft 2 in, stairs", 2, 2),
            ("screw through a tread's face, stairs", 48, 48),
            ("riser board, 3 ft × 7-1/2 in, stairs", 4, 4),
            ("landing, 3 ft × 3 ft, stairs", 1, 1),
        ]
    );
    let price: Money = ordered.lines.iter().filter_map(|line| line.price).sum();
    assert_eq!(price, ordered.total);
    let stringers = ordered
        .lines
        .iter()
        .find(|l| l.item.contains("stringers of"));
    assert_eq!(
        stringers.and_then(|line| line.price),
        Some(Money::from_cents(5_400))
    );
    // Too short ones are told, and the stringers listed without a price.
    job.stairs[0].timber = vec![timber(4, 1_000)];
    let ordered = order(&job, &surface, &plan, &Unwatched).expect("an order");
    assert_eq!(
        lines(&ordered.lines)[0],
        ("stringer, from a board of 4 ft 2 in at least, stairs", 4, 4)
    );
    let told = |said: &lastcourse::caution::Caution| said.message.contains("as long as 4 ft 2 in");
    assert!(ordered.cautions.iter().any(told));
}

/// International Residential Code 2018, R312.1.1 and R312.1.3, as counties print
/// them: more than 30 in above the ground takes a guard; beside stairs no sphere of
/// 4-3/8 in passes it, nor one of 6 in its triangles.
#[test]
fn open_sides_of_high_stairs_take_a_guard() {
    let told = |rise: Length| {
        let said = said(&stairs(rise));
        said.into_iter().find(|said| said.contains("R312.1.1"))
    };
    assert_eq!(told(inches(30)), None);
    let told = told(inches(30) + Length::from_units(1)).expect("a caution");
    for part in ["4-3/8 in", "6 in", "R312.1.3"] {
        assert!(told.contains(part), "{told}");
    }
}

/// A job with a flight of four risers, a landing and what is bought for them.
const GARDEN: &str = r#"
[deck]
along  = "16ft"
across = "12ft"
[edge.last]
fascia   = "3/4in"
overhang = "1in"
[board]
face = "5-1/2in"
[[fastener]]
name = "clip"
gap  = "3/16in"
[[stock]]
length = "16ft"
price  = 30
[joists]
spacing = "16in"
[fascia]
height = "9-1/4in"
[[fascia.stock]]
length = "12ft"
price  = 24
[[fascia.stock]]
length = "16ft"
price  = 33
[[stairs]]
rise  = "30in"
width = "3ft"
riser_from_fascia = true
handrail  = { name = "handrail, 6 ft", price = 42.50 }
handrails = 2
landing      = "3ft"
landing_slab = "4in"
landing_bag  = { yields = "0.6 cu ft", price = 7.15 }
"#;

#[track_caller]
fn read(text: &str) -> lastcourse::job::Job {
    let checked = job::read(text, "deck.toml", &[]).expect("a job");
    assert_eq!(checked.findings.problems, []);
    checked.job
}

#[test]
fn what_a_flight_takes_is_bought_with_it() {
    let text = GARDEN;
    let job = read(text);
    assert!(job.stairs[0].closed);
    let order = crate::ordered(&job);
    // Four risers of 3 ft are cut with the fascia of the last edge, 16 ft: 36 x 4 =
    // 144 in and three kerfs do not fit 12 ft. One of 16 ft for the fascia, and one of
    // 16 ft for the risers: 2 x $33; or 12 ft for three and nothing for the fourth.
    let cut = order.fascia.as_ref().expect("a fascia");
    assert_eq!(cut.labels, ["last edge", "stairs riser"]);
    assert_eq!(cut.problem.pieces[1].count, 4);
    assert_eq!(cut.plan.cost, Money::from_cents(6_600));
    assert!(cut.plan.proven);
    let line = |item| crate::line(&order, item);
    let rail = line("handrail, 6 ft");
    assert_eq!(
        (rail.count, rail.price),
        (2, Some(Money::from_cents(8_500)))
    );
    // 3 ft by 3 ft by 4 in are 3 cubic feet: 5 bags of 0.6, $35.75.
    let bags = line("bag of concrete, 0.60 cu ft, landing of stairs");
    assert_eq!(
        (bags.count, bags.price),
        (5, Some(Money::from_cents(3_575)))
    );
    assert!(
        order
            .lines
            .iter()
            .all(|line| !line.item.starts_with("riser board"))
    );
    let left = order.not_counted.join("\n");
    assert!(!left.contains("handrails"), "{left}");
    let said = |order: &lastcourse::order::Order, part: &str| {
        order
            .cautions
            .iter()
            .any(|said| said.message.contains(part) || said.help.contains(part))
    };
    assert!(said(&order, "one is counted, not designed"));
    // Boards lower than the risers are told.
    let low = text.replace("9-1/4in", "7-1/4in");
    assert!(said(
        &crate::ordered(&read(&low)),
        "the risers of stairs are up to 7-1/2 in high"
    ));
    // Bought riser boards are goods of their own, and a landing without a slab is
    // named only.
    let bought = text
        .replace(
            "riser_from_fascia = true",
            "riser = { name = \"riser, 3 ft\", price = 11.20 }",
        )
        .replace("landing_slab = \"4in\"\n", "")
        .replace(
            "landing_bag  = { yields = \"0.6 cu ft\", price = 7.15 }\n",
            "",
        );
    let order = crate::ordered(&read(&bought));
    let riser = crate::line(&order, "riser, 3 ft");
    assert_eq!(
        (riser.count, riser.price),
        (4, Some(Money::from_cents(4_480)))
    );
    assert_eq!(
        crate::line(&order, "landing, 3 ft × 3 ft, stairs").price,
        None
    );
    // A slab without bags says how much it is.
    let poured = text.replace(
        "landing_bag  = { yields = \"0.6 cu ft\", price = 7.15 }\n",
        "",
    );
    let order = crate::ordered(&read(&poured));
    let item = "landing, 3 ft × 3 ft, 4 in of concrete, 3.00 cu ft, stairs";
    assert_eq!(crate::line(&order, item).count, 1);
}

#[test]
fn what_a_flight_takes_has_to_fit_together() {
    for (from, to, says) in [
        (
            "riser_from_fascia = true",
            "riser_from_fascia = true\nriser = { price = 9 }",
            "both `riser` and `riser_from_fascia`",
        ),
        (
            "riser_from_fascia = true",
            "riser_from_fascia = true\nclosed = false",
            "leave their risers open",
        ),
        (
            "handrail  = { name = \"handrail, 6 ft\", price = 42.50 }\n",
            "",
            "do not say what a handrail is",
        ),
        (
            "landing      = \"3ft\"\n",
            "",
            "`landing_slab`: these stairs have no `landing`",
        ),
        (
            "landing_slab = \"4in\"\n",
            "",
            "`landing_bag`: these stairs have no `landing_slab`",
        ),
    ] {
        let text = GARDEN.replace(from, to);
        assert_ne!(text, GARDEN);
        let said = job::read(&text, "deck.toml", &[]).expect_err("a mistake");
        assert!(said.to_string().contains(says), "{said}");
    }
    let bare: String = GARDEN
        .replace("[fascia]\nheight = \"9-1/4in\"\n", "")
        .replace("[[fascia.stock]]\nlength = \"12ft\"\nprice  = 24\n", "")
        .replace("[[fascia.stock]]\nlength = \"16ft\"\nprice  = 33\n", "");
    let said = job::read(&bare, "deck.toml", &[]).expect_err("a mistake");
    assert!(said.to_string().contains("describes no fascia"), "{said}");
}

#[test]
fn stringers_of_the_frames_lumber_share_its_sticks() {
    let text = r#"
[deck]
along  = "8ft"
across = "8ft"
[edge.first]
wall_clearance = "1/4in"
[board]
face = "5-1/2in"
[[fastener]]
name = "clip"
gap  = "3/16in"
[[stock]]
length = "12ft"
price  = 30
[[lumber]]
size   = "2x10"
length = "8ft"
price  = 20
[[lumber]]
size   = "2x10"
length = "12ft"
price  = 28
[frame]
joist  = "2x10"
ledger = "2x10"
[[stairs]]
rise  = "30in"
run   = "10in"
width = "3ft"
stringer_size = "2x10"
"#;
    let job = job::read(text, "job.toml", &[]).expect("a job").job;
    let plan = lay(&job);
    let found = order(&job, &crate::common::surface_of(&job), &plan, &Unwatched).expect("an order");
    // Four stringers of 50 in, as above. Joists are 96 in less rim and ledger, 93
    // in: 93 and 50 and a cut are 143-1/8 in, within a stick of 144. Joists at
    // 3/4, 16, 32, 48, 64, 80 and 95-1/4 in: seven, and a rim and a ledger of
    // 96. A stick of 12 ft for $28 holds a joist and a stringer, where both
    // alone would take two of 8 ft for $40; one of 8 ft for $20 holds one joist.
    // Four of 12 ft, three of 8 ft for the other joists, two for rim and ledger:
    // 4 x 28 + 5 x 20 = $212. Every long member (nine of 93 in or more) takes a
    // stick of its own; so nine at $20 are $180 at least, and each stringer
    // beside one asks for $8 more.
    // Two stringers alone share one of 12 ft for $28, which is more than $16.
    let cut = &found.framing.as_ref().expect("a frame").cuts[0];
    assert_eq!(cut.plan.cost, Money::from_cents(21_200));
    assert!(cut.plan.proven);
    assert_eq!(verify::cut(&cut.problem, &cut.plan), vec![]);
    let stringers = cut.parts.iter().zip(&cut.problem.pieces);
    let stringers: Vec<_> = stringers
        .filter(|(part, _)| part.name() == "stringer")
        .map(|(_, piece)| (piece.length, piece.count))
        .collect();
    assert_eq!(stringers, [(inches(50), 4)]);
    assert!(
        found
            .lines
            .iter()
            .all(|line| !line.item.contains("stringer"))
    );
}

const JOB: &str = r#"
[deck]
along  = "12ft"
across = "22-9/16in"
[board]
face = "5-1/2in"
[[fastener]]
name = "slim clip"
gap  = "3/16in"
[[stock]]
length = "12ft"
price  = 30.00
[[stock]]
length = "16ft"
price  = 40.00
[joists]
spacing = "16in"
[[extra]]
label  = "hatch"
length = "20in"
count  = 2
[[stairs]]
rise  = "22in"
width = "4ft"
"#;

#[test]
fn treads_are_cut_with_the_courses() {
    let job = job::read(JOB, "deck.toml", &[]).expect("a job").job;
    // Three risers of 7-1/3, two treads of two boards each, 4 ft long.
    let extras: Vec<(&str, Length, u32)> = job
        .extras
        .iter()
        .map(|extra| (extra.label.as_str(), extra.length, extra.count))
        .collect();
    assert_eq!(
        extras,
        [("hatch", inches(20), 2), ("stairs tread", inches(48), 4)]
    );
    // Four courses of 12 ft: whole boards at $30.00, or a 16 ft one with some
    // 47-7/8 in over, a sixteenth and a saw cut short of a tread. Treads and
    // hatches: three treads are 12 ft and two saw cuts, over a 12 ft board, so
    // they take 16 ft: 3 x 48 + 20 + ... and the last tread and hatch another
    // board. 4 x 30 + 40 + 30 = 190 is a plan; the planner's own is no dearer,
    // proven, and holds what verify asks.
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
    assert!(verify::plan(&job, &plan).is_empty());
    assert_eq!(plan.extras.len(), 6);
    assert!(plan.totals.proven);
    assert!(
        plan.totals.price <= Money::from_cents(19_000),
        "{:?}",
        plan.totals
    );
    assert!(plan.totals.price > Money::from_cents(12_000));
}

#[test]
fn treads_longer_than_any_board_say_so() {
    let wide = JOB.replace("width = \"4ft\"", "width = \"17ft\"");
    let job = job::read(&wide, "deck.toml", &[]).expect("a job").job;
    let error = plan(&job, &PlanOptions::default(), &Unwatched).expect_err("no plan");
    let said = error.to_string();
    assert!(said.contains("\"stairs tread\" is 17 ft long"), "{said}");
    assert!(
        !said.contains("extra."),
        "no field of the job is named: {said}"
    );
}

proptest! {
    /// Risers are alike to a mark, none above the limit by more than half a
    /// mark each side, and together exactly the rise.
    #[test]
    fn risers_are_alike_and_sum_to_the_rise(units in 1i64..30_000_000, own in 0u32..20) {
        let rise = Length::from_units(units);
        let flight = flight(&Stairs {
            risers: (own > 0).then_some(own),
            ..stairs(rise)
        });
        prop_assert_eq!(flight.heights.iter().copied().sum::<Length>(), rise);
        prop_assert_eq!(flight.heights.len() as u32, flight.risers);
        let [least, most] = flight.between();
        // A rise between two marks puts up to half a mark more into the last riser.
        prop_assert!((most - least).units() * 2 <= 3 * Length::from_64ths(1).units());
        if own == 0 {
            prop_assert!(rise <= Length::from_64ths(496) * i64::from(flight.risers));
            prop_assert!(rise > Length::from_64ths(496) * i64::from(flight.risers - 1));
        }
    }
}
