//! Every other job beside the code ordered and counted a second time by hand, as
//! somebody does who is about to drive to the yard: is anything missing from the
//! car? Only joints, boards and sticks are taken from the plan and the cut
//! lists, which are verified by themselves; all else is written down here, with
//! its price, and nothing else may be in the order.

use lastcourse::job;
use lastcourse::money::Money;
use lastcourse::order::{Line, Needed, Order, Trade, order};
use lastcourse::plan::{Plan, PlanOptions, plan};
use lastcourse::verify;
use lastcourse::watch::Unwatched;

use crate::QUINCE_CORNER;
use crate::common::surface_of;

const BOATHOUSE: &str = include_str!("../../fixtures/boathouse-terrace.toml");
const ORCHARD: &str = include_str!("../../fixtures/orchard-platform.toml");
const MILL_POND: &str = include_str!("../../fixtures/mill-pond-landing.toml");

fn planned(text: &str) -> (Plan, Order) {
    let job = job::read(text, "deck.toml", &[]).expect("a job").job;
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
    let order = order(&job, &surface_of(&job), &plan, &Unwatched).expect("an order");
    (plan, order)
}

/// Joints of each course.
fn joints(plan: &Plan) -> Vec<u64> {
    let of = |course: &lastcourse::plan::PlannedCourse| {
        let runs = course.runs.iter();
        runs.map(|run| run.pieces.len() as u64 - 1).sum()
    };
    plan.courses.iter().map(of).collect()
}

/// Clips on so many supports: one on each in each gap, and at each joint one more
/// in the gap before its course and one in the gap after.
fn clips(plan: &Plan, supports: u64) -> u64 {
    let joints = joints(plan);
    let [first, inner @ .., last] = joints.as_slice() else {
        panic!("two courses at least");
    };
    supports * (joints.len() as u64 - 1) + first + last + 2 * inner.iter().sum::<u64>()
}

/// So many with hundredths to spare, in packs.
fn packs(needed: u64, spare: u64, pack: u64) -> u64 {
    (needed * (100 + spare)).div_ceil(100).div_ceil(pack)
}

/// Rolls for strips one after the other: each roll after the first laps the one
/// before.
fn rolls(strips: u64, roll: u64, lap: u64) -> u64 {
    (strips - lap).div_ceil(roll - lap)
}

/// Sticks of a size, all lengths together.
fn sticks(order: &Order, size: &str) -> u64 {
    let of_size = |line: &&Line| line.item.contains(&format!("× {size},"));
    let lines = order.lines.iter().filter(of_size);
    lines.map(|line| line.count).sum()
}

/// What was counted by hand: an item, how many of it are needed, how many units
/// are bought, and what one costs in cents.
type Counted<'a> = (&'a str, Option<u64>, u64, i64);

/// The order has what was counted by hand, boards and sticks, and nothing else;
/// and all of it comes to its sum to the cent.
#[track_caller]
fn is_all(order: &Order, counted: &[Counted]) {
    let mut sum = Money::ZERO;
    for line in &order.lines {
        let by_hand = counted.iter().find(|(item, ..)| *item == line.item);
        let Some(&(_, needed, count, cents)) = by_hand else {
            let cut = [Trade::Board, Trade::Stick].contains(&line.unit);
            assert!(cut, "{} was not counted by hand", line.item);
            sum += line.price.expect("boards and sticks have a price");
            continue;
        };
        if let (Some(needed), Needed::Count(found)) = (needed, line.needed) {
            assert_eq!(found, needed, "{}", line.item);
        }
        assert_eq!(line.count, count, "{}", line.item);
        let each = line.price_each.map(Money::cents);
        assert_eq!(each, Some(cents), "{}", line.item);
        sum += Money::from_cents(cents * count as i64);
    }
    for (item, ..) in counted {
        let found = order.lines.iter().any(|line| line.item == *item);
        assert!(found, "{item} is not in the car");
    }
    assert_eq!(sum, order.total);
    assert_eq!(sum, order.sums.goods);
    for (problem, cut) in order.cut_lists() {
        assert!(cut.proven);
        assert_eq!(verify::cut(problem, cut), []);
    }
    let on_top = [
        order.sums.contingency,
        order.sums.delivery,
        order.sums.tax,
        order.sums.labour,
    ];
    let on_top: Money = on_top.into_iter().sum();
    assert_eq!(sum + on_top, order.sums.all);
}

/// What is said to be left out.
fn left_out(order: &Order) -> String {
    order.not_counted.join("; ")
}

#[test]
fn the_boathouse_terrace() {
    let (plan, order) = planned(BOATHOUSE);
    // Supports along 268 in: ends at 3/4 and 267-1/4 in, between them 16, ... 256
    // (16 of them): 18. Courses: 28 whole ones and the strip.
    assert_eq!((plan.supports.len(), plan.courses.len()), (18, 29));
    let doubled = u64::from(plan.totals.doubled_joists);
    let plies = 18 + doubled;
    let clips = clips(&plan, 18);
    // A joist is 158 in less a rim and a ledger of 1-1/2: 155 in, from a stick of
    // 14 ft or longer; blocking comes out of what is left and out of 2 more.
    assert!(sticks(&order, "2x10") > plies + 4);
    assert_eq!(sticks(&order, "6x6"), 1);
    // Footings: 268 less 12 at each end are 244 in, three spaces of at most 84:
    // four, each 3.1416 / 4 x 1.5² x 1 = 1.767 cu ft: 7.07 in bags of 0.6 are 12.
    // Connector nails: 14 in a hanger, 18 in a doubled one, 10 in each of 18 ties,
    // 12 and 22 at each of four posts. 5 lb of 142 are 710.
    let connector = 14 * (18 - doubled) + 18 * doubled + 10 * 18 + (12 + 22) * 4;
    // 10d nails. Joists' ends at the rim, and the one splice of a rim of 22 ft 4 in:
    // three in each. Blocking: 17 pieces, two ends of two. Second joists: 155 in at
    // 16 are ten spaces, eleven places of two. The beam: 268 in at 16 are 17
    // spaces, 18 places, and each ply is spliced once: 20 of two.
    let nails = 3 * (plies + 1) + 17 * 2 * 2 + doubled * 11 * 2 + 20 * 2;
    // Tape covers one ply: two strips on a doubled joist, one on rim and ledger.
    let tape = rolls(plies * 155 + 2 * 268, 900, 6);
    // Ledger: 268 in at 16 are 18 places of two. Flashing: 120 and 2 x 116 are
    // 352 in. Cut ends: no more than two of each of 25 joists, 17 blocks, two parts
    // of rim and ledger, four of the beam, four posts: 108, which a can does.
    // Fascia at 24 in: 128-9/16 and 140-9/16 in are seven places each, 158 in are
    // eight, twice: 30 of two, 63 with spares. Two of 12 ft and two of 16 ft.
    is_all(
        &order,
        &[
            ("slim clip", Some(clips), packs(clips, 5, 90), 2490),
            ("starter clip", Some(36), 2, 790),
            ("2x10 joist hanger", Some(18 - doubled), 18 - doubled, 195),
            ("doubled 2x10 joist hanger", Some(doubled), doubled, 360),
            ("joist tie", Some(18), 18, 90),
            (
                "1-1/2 in connector nail",
                Some(connector),
                packs(connector, 5, 710),
                2750,
            ),
            ("10d nail, 3 in", Some(nails), packs(nails, 10, 330), 2180),
            ("joist tape", None, tape, 2310),
            ("ledger screw", Some(36), 2, 2460),
            ("ledger flashing, 10 ft", None, 3, 1820),
            ("preservative for cut ends", None, 1, 1740),
            ("form tube, 18 in", Some(4), 4, 1890),
            ("bag of concrete, 80 lb, 0.60 cu ft", None, 12, 695),
            ("6x6 post base", Some(4), 4, 2380),
            ("6x6 post cap", Some(4), 4, 2720),
            (
                "1/2 in anchor bolt, 10 in, with nut and washer",
                Some(4),
                4,
                340,
            ),
            ("fascia screw", Some(60), 1, 2360),
            ("sealer for sawn ends, 1 qt", Some(1), 1, 1590),
        ],
    );
    let fascia = order
        .lines
        .iter()
        .filter(|l| l.item.contains("fascia board"));
    let fascia: Money = fascia.filter_map(|line| line.price).sum();
    assert_eq!(fascia, Money::from_cents(2 * 4875 + 2 * 6620));
    // The beam's plies end over a footing: at 14 ft 6-2/3 in and 7 ft 9-1/3 in.
    assert_eq!(
        left_out(&order),
        "digging and reinforcement of the footings; anchors of post bases beyond the job's own \
         items; stairs and guards; sealer for ripped edges and sawn ends beyond the job's own items"
    );
}

#[test]
fn the_orchard_platform() {
    let (plan, order) = planned(ORCHARD);
    // Supports along 6,200 mm: ends at 22.5 and 6,177.5, between them 400, ...
    // 6,000 (15 of them): 17.
    assert_eq!((plan.supports.len(), plan.courses.len()), (17, 30));
    let doubled = u64::from(plan.totals.doubled_joists);
    let plies = 17 + doubled;
    // Two screws for each piece on each support: 17 in each of 30 courses, one
    // piece more at each joint.
    let deck_screws = 2 * (17 * 30 + joints(&plan).iter().sum::<u64>());
    // Construction screws. Joists' ends at two rims, and a splice in each: three in
    // each. Blocking: two rows in 16 bays, two ends of two. Second joists of 4,350
    // - 90 = 4,260 mm at 400: 11 spaces, 12 places of two. Three beams of 6,200 at
    // 400: 17 places each, and six plies spliced once: 57 of two. 2.5 kg at 62 to
    // the kilogram are 155.
    let screws = 3 * (2 * plies + 2) + 2 * 16 * 2 * 2 + doubled * 12 * 2 + (3 * 17 + 6) * 2;
    // Tape of 50 mm covers one ply of 45.
    let tape = rolls(plies * 4_260 + 2 * 6_200, 20_000, 100);
    // Trimmed, all ends are sawn: two of each ply, of 32 blocks, of two parts of
    // each rim and of each of six plies of beam, of four stringers.
    let ends = 2 * (plies + 32 + 4 + 12 + 4);
    // Ground screws: 5,600 mm at 1,600 are four spaces: five under each of three
    // beams. Stone: 6.6 x 4.75 x 0.05 m are 1.5675 m³: 16 tenths. Fabric: four
    // strips across, (6,600 - 150) / 1,850 = 3.5, of 4.75 m: 19 m of a roll of 25.
    // The step: 380 mm are two risers, so one tread of two boards, on four
    // stringers (1,155 / 400 = 2.9 bays); two screws to a board on each.
    is_all(
        &order,
        &[
            (
                "screws with spacers",
                Some(deck_screws),
                packs(deck_screws, 5, 500),
                4680,
            ),
            ("joist tie", Some(51), 3, 2150),
            // 8 in each of 51, 429 with spares.
            ("connector screw, 5 × 40 mm", Some(408), 2, 1980),
            (
                "construction screw, 6 × 120 mm",
                Some(screws),
                packs(screws, 5, 155),
                3190,
            ),
            ("joist tape", None, tape, 1640),
            (
                "preservative for cut ends",
                Some(ends),
                ends.div_ceil(150),
                1460,
            ),
            ("ground screw, 76 × 1000 mm", Some(15), 15, 2340),
            ("crushed stone, 8-16 mm, 50 mm deep", None, 16, 460),
            ("fabric under the base", None, 1, 2750),
            (
                "beam bracket for ground screws, with screws",
                Some(15),
                15,
                790,
            ),
            ("deck screw, 5 × 60 mm", Some(16), 1, 1240),
            ("stringer bracket, with screws", Some(4), 4, 480),
            ("paving slab, 400 × 400 mm", Some(3), 3, 620),
            ("end-grain sealer, 1 l", Some(1), 1, 1890),
        ],
    );
    // Stringers: the root of 380² + 590² is 701.8 mm, four of them from 3.6 m.
    assert_eq!(sticks(&order, "45x195"), 1);
    // Every ply of a joist takes a stick of 4.8 m or longer; the plies of beams and
    // rims make 37.2 and 12.4 m more.
    assert!(sticks(&order, "45x145") > plies + 8);
    assert_eq!(
        left_out(&order),
        "guards, handrails, and what fixes the stringers and bears the landing beyond the job's \
         own items; sealer for ripped edges and sawn ends beyond the job's own items"
    );
}

#[test]
fn the_mill_pond_landing() {
    let (plan, order) = planned(MILL_POND);
    // Supports along 232 in: 3/4, 16, ... 224 (14 of them) and 231-1/4 in: 16.
    // Planned on 1/4 in, 25 courses come out whole. A 20 ft board is one course.
    assert_eq!((plan.supports.len(), plan.courses.len()), (16, 25));
    assert_eq!(plan.totals.joints, 0);
    // The steps: 21 in are three risers, two treads of two boards (5-1/2 twice and
    // 1/4), 48 in wide: three bays of at most 16, four stringers; 32 screws, and
    // 1 lb is 85. A stringer is the root of 21² + 33-3/4², 39.75 in: two from 8 ft.
    // Fascia: 232 in bare at both ends, from 20 ft; at 16 in 16 places of two, with
    // spares 34 screws, and as many plugs.
    is_all(
        &order,
        &[
            // 16 in each of 24 gaps, 403.2 with spares.
            ("groove clip, by the box", Some(16 * 24), 5, 3460),
            ("starter clip", Some(32), 1, 1520),
            ("joist tape, 1-5/8 in, 75 ft", Some(3), 3, 2240),
            (
                "8 ft board for 4 stringers of 3 ft 3-3/4 in, pond steps",
                Some(2),
                2,
                1980,
            ),
            ("deck screw, 2-1/2 in", Some(32), 1, 1190),
            ("stringer connector", Some(4), 4, 685),
            ("patio block, 16 in", Some(4), 4, 460),
            ("fascia screw", Some(32), 1, 1720),
            ("fascia plug", Some(32), 1, 1160),
            ("sealer for sawn ends, 1 qt", Some(1), 1, 1590),
        ],
    );
    // What stands already is not missing.
    assert_eq!(
        left_out(&order),
        "guards, handrails, and what fixes the stringers and bears the landing beyond the job's \
         own items"
    );
}

#[test]
fn quince_corner() {
    let (plan, order) = planned(QUINCE_CORNER);
    // Supports along 126 in: 3/4, 16, ... 112 (seven of them) and 125-1/4 in: 9.
    assert_eq!((plan.supports.len(), plan.courses.len()), (9, 18));
    let doubled = u64::from(plan.totals.doubled_joists);
    let (plies, single) = (9 + doubled, 9 - doubled);
    let clips = clips(&plan, 9);
    // Joists of 96 - 3 = 93 in, one from each stick of 8 ft; two rims of 10 ft 6 in
    // from 12 ft. Each has one sawn end.
    assert_eq!(sticks(&order, "2x6"), plies + 2);
    // They hang in both rims: 6 nails in a hanger, 10 in a doubled one.
    let connector = 2 * (6 * single + 10 * doubled);
    // Second joists: 93 in at 16 are six spaces, seven places of two.
    let nails = doubled * 7 * 2;
    let tape = rolls(plies * 93 + 2 * 126, 600, 6);
    // Blocks: 84 in at 60 are two spaces: three in each of nine rows. Stone: 11.5 x
    // 9 ft x 2-1/2 in are 21.56 cu ft, with a fifth 25.9: two halves of 13.5.
    // Fabric: two strips along of 11 ft 6 in. Edging: 41 ft in pieces of 8.
    is_all(
        &order,
        &[
            ("groove clip", Some(clips), packs(clips, 5, 100), 3380),
            ("starter clip", Some(18), 1, 760),
            ("2x6 joist hanger", Some(2 * single), 2 * single, 165),
            (
                "doubled 2x6 joist hanger",
                Some(2 * doubled),
                2 * doubled,
                295,
            ),
            (
                "1-1/2 in connector nail",
                Some(connector),
                connector.div_ceil(250),
                940,
            ),
            ("10d nail, 3 in", Some(nails), nails.div_ceil(66), 560),
            ("joist tape", None, tape, 1790),
            ("preservative for cut ends", Some(plies + 2), 1, 1420),
            ("concrete deck block", Some(27), 27, 1190),
            ("crushed stone, 2-1/2 in deep", None, 2, 2700),
            ("fabric under the base", None, 1, 3250),
            ("edging, 8 ft", None, 6, 1275),
            ("sealer for sawn ends, 1 qt", Some(1), 1, 1590),
        ],
    );
    assert_eq!(
        left_out(&order),
        "blocking; stairs and guards; sealer for ripped edges and sawn ends beyond the job's own \
         items"
    );
}
