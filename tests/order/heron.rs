//! A whole order counted a second time by hand, as somebody does who is about
//! to drive to the yard: is anything missing from the car? Only the joints and
//! the boards themselves are taken from the plan, which is verified by itself.

use lastcourse::job;
use lastcourse::money::Money;
use lastcourse::order::{Group, Line, Needed, Order, order};
use lastcourse::plan::{Plan, PlanOptions, plan};
use lastcourse::watch::Unwatched;

use crate::common::surface_of;
use crate::{HERON_YARD, line};

fn planned() -> (Plan, Order) {
    let job = job::read(HERON_YARD, "deck.toml", &[]).expect("a job").job;
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("a plan");
    let order = order(&job, &surface_of(&job), &plan, &Unwatched).expect("an order");
    (plan, order)
}

/// What is needed and what is bought of an item, singles or packs.
#[track_caller]
fn of(order: &Order, item: &str) -> (u64, u64) {
    let line = line(order, item);
    match line.needed {
        Needed::Count(needed) => (needed, line.count),
        Needed::Length(_) | Needed::Volume(_) => panic!("{item} is counted"),
    }
}

/// Sticks bought of a size, all lengths together.
fn sticks(order: &Order, size: &str) -> u64 {
    let of_size = |line: &&Line| line.item.contains(&format!("× {size},"));
    let lines = order.lines.iter().filter(of_size);
    lines.map(|line| line.count).sum()
}

#[test]
fn nothing_is_missing_from_the_car() {
    let (plan, order) = planned();
    // Supports: ends at 3/4 in and 31 ft 5-1/4 in, between them 16, 32, ... 368 in
    // (23 of them): 25. Those that carry joints have a second joist.
    assert_eq!(plan.supports.len(), 25);
    let doubled = u64::from(plan.totals.doubled_joists);

    // Clips: 25 in each of the 38 gaps between 39 courses, and at each joint one
    // more in the gap before its course and in the one after.
    let joints = |course: usize| {
        let runs = plan.courses[course].runs.iter();
        runs.map(|run| run.pieces.len() as u64 - 1).sum::<u64>()
    };
    assert_eq!(plan.courses.len(), 39);
    let inner: u64 = (1..38).map(joints).sum();
    let clips = 25 * 38 + 2 * inner + joints(0) + joints(38);
    // With 5 in a hundred to spare, in packs of 250.
    let packs = (clips * 105).div_ceil(100).div_ceil(250);
    assert_eq!(of(&order, "edge clip"), (clips, packs));
    // Starters: 25 at either outer edge; 52-1/2 with spares, 53: 3 packs of 25.
    assert_eq!(of(&order, "starter clip"), (50, 3));

    // A joist is 18 ft less a ledger of 1-1/2 in and two rims: 17 ft 7-1/2 in, so
    // each takes a stick of 18 ft or longer: of all 2x8 at least as many.
    assert!(sticks(&order, "2x8") >= 25 + doubled);
    // Hangers at the ledger only; ties on two beams.
    let single = 25 - doubled;
    assert_eq!(of(&order, "2x8 joist hanger").0, single);
    assert_eq!(of(&order, "doubled 2x8 joist hanger").0, doubled);
    assert_eq!(of(&order, "joist tie"), (50, 1));
    // Nails: 10 in a hanger, 14 in a doubled one, 10 in a tie, 12 and 22 at each of
    // ten posts.
    let nails = 10 * single + 14 * doubled + 10 * 50 + (12 + 22) * 10;
    let packs = (nails * 110).div_ceil(100).div_ceil(1_000);
    assert_eq!(of(&order, "1-1/2 in connector nail"), (nails, packs));
    // 10d nails: three to each ply of a joist at the rim and at each of two splices
    // there; two to each end of 48 pieces of blocking; two at each place of plies:
    // 25 and two splices along the rim, 15 along each second joist, 25 and two
    // splices along each of two beams. 5 lb of 66 are 330.
    let nails = 3 * (25 + doubled + 2) + 2 * 96 + 2 * (27 + 15 * doubled + 2 * 27);
    let boxes = (nails * 110).div_ceil(100).div_ceil(330);
    assert_eq!(of(&order, "10d nail, 3 in"), (nails, boxes));
    // Ledger: 378 in at 16 in are 24 spaces, 25 places, two screws at each.
    assert_eq!(of(&order, "ledger screw"), (50, 1));
    // Flashing: 10 ft, and 9 ft 8 in for each further piece: 4 for 31 ft 6 in.
    assert_eq!(line(&order, "ledger flashing, 10 ft").count, 4);

    // Footings: 29 ft 6 in between the outer ones is four spaces of at most 8 ft,
    // so five under each of two beams. Each is 20 in across and 12 in deep,
    // 3.1416 / 4 x (20/12)² x 1 = 2.182 cu ft: 21.82 for ten, 37 bags of 0.6.
    assert_eq!(of(&order, "form tube, 20 in"), (10, 10));
    assert_eq!(line(&order, "bag of concrete, 80 lb, 0.60 cu ft").count, 37);
    assert_eq!(of(&order, "6x6 post base"), (10, 10));
    assert_eq!(of(&order, "6x6 post cap"), (10, 10));
    // Posts of 3 ft 4 in: two from 8 ft, three from 12 ft; four sticks at least.
    assert_eq!(sticks(&order, "6x6"), 4);
    // Beams: two of two plies, each spliced over the middle one of five footings,
    // at 15 ft 9 in: 8 pieces of that, each from a stick of 16 ft.
    assert_eq!(sticks(&order, "2x10"), 8);

    // Stairs: 57-1/2 in at 7-3/4 in at most are 8 risers, 7 treads of two boards,
    // and 4 ft of width at 16 in are three spaces, four stringers; a screw pair
    // for each board on each stringer.
    let treads = plan.extras.len();
    assert_eq!(treads, 14);
    // 112, and 1 lb is 85.
    assert_eq!(of(&order, "deck screw, 2-1/2 in"), (7 * 2 * 4 * 2, 2));
    // A handrail for 8 risers, and a slab of 4 ft by 3 ft by 4 in: 4 cu ft, 7 bags.
    assert_eq!(of(&order, "handrail, 10 ft, with brackets"), (1, 1));
    let slab = "bag of concrete, 80 lb, 0.60 cu ft, landing of garden stairs";
    assert_eq!(line(&order, slab).count, 7);
    // 8 steps of 11-3/16 by 7-3/16 in are 106.4 in of stringer: one from 12 ft.
    assert_eq!(sticks(&order, "2x12"), 4);

    // Fascia: pieces of 186-3/4, 192-3/4 and twice 216-3/4 in have 13, 14 and
    // twice 15 places at 16 in, two screws each; 67 ft 9 in takes 3 tubes for
    // 24 ft. Spares make 120 of 114: two packs of 100.
    assert_eq!(of(&order, "fascia screw"), (2 * (13 + 14 + 15 + 15), 2));
    assert_eq!(of(&order, "fascia plug"), (114, 2));
    assert_eq!(line(&order, "fascia adhesive").count, 3);

    // Guard: the last edge less 4 ft of stairs is 3 ft and 24 ft 6 in, the sides
    // 18 ft each. Posts: 2 and 6 along the last edge, 3 more at each side, the
    // corners shared: 14, two from a stick of 4x4. Balusters (n >= (clear - 4) /
    // 5-1/2): 5 in 29 in; 10 in each of five bays of 4 ft 6-5/8 in; 12 in each of
    // six of 5 ft 7-5/16 in: 127, with spares 130, 6 packs.
    let guard = order.guard.as_ref().expect("a guard");
    assert_eq!(guard.posts, 14);
    assert_eq!(sticks(&order, "4x4"), 7);
    assert_eq!(of(&order, "baluster, 32 in"), (5 + 5 * 10 + 6 * 12, 6));
    // Two bolts to a post, by the job's own item.
    assert_eq!(of(&order, "1/2 in bolt, 6 in, with nut and washers").1, 28);

    // Nothing else is in the car, and every group has something.
    let groups = Group::ALL.into_iter();
    for group in groups {
        let has = order.lines.iter().any(|line| line.group == group);
        assert!(has, "{}", group.name());
    }
}

#[test]
fn the_parts_come_to_the_whole_to_the_cent() {
    let (_, order) = planned();
    let lines: Money = order.lines.iter().filter_map(|line| line.price).sum();
    assert_eq!(lines, order.total);
    for line in &order.lines {
        let each = line.price_each.map(|each| each * line.count as i64);
        assert_eq!(each, line.price, "{}", line.item);
    }
    let groups: Money = Group::ALL
        .map(|group| order.of_group(group))
        .into_iter()
        .sum();
    assert_eq!(groups, order.sums.goods);
    let sums = order.sums;
    let parts = [
        sums.goods,
        sums.contingency,
        sums.delivery,
        sums.tax,
        sums.labour,
    ];
    assert_eq!(parts.into_iter().sum::<Money>(), sums.all);
    let brought: Money = order.deliveries.iter().map(|delivery| delivery.goods).sum();
    assert_eq!(brought, sums.goods);
}
