//! A plan that needs no relaxation, for decks whose pieces are so many that the first
//! one may take longer than somebody waits, and for those where what a relaxation
//! gives cannot be put in order: courses cheapest by what each piece costs cut from
//! boards of one kind by itself, and then the boards are a cutting problem of their
//! own. It knows nothing of what better plans share.

use super::class::Class;
use super::master::Column;
use super::model::Model;
use super::round;
use super::search::Laid;
use crate::job::JointRules;
use crate::joints::{Block, Path, PathCosts, Place};
use crate::length::Length;

/// Lengths of pieces from which a relaxation takes long.
const MANY_LENGTHS: usize = 150;
/// Steps of the graph of the courses that lie again and again.
const MOST_STEPS: usize = 1_500_000;
/// Courses by which a round is longer at most than the rules ask for.
const MORE: usize = 3;
/// Parts of one unit of weight that pieces are priced in.
const PARTS: i64 = 1_000;

/// Whether the relaxation of a deck takes long: it has many different pieces.
pub(crate) fn takes_long(model: &Model) -> bool {
    model.rows >= MANY_LENGTHS
}

/// A plan of repeating courses, or of courses laid one after another where those are
/// too many to look at together; nothing where the boards that can be had allow
/// neither this way.
pub(crate) fn first(model: &Model, rules: &JointRules, stop: &dyn Fn() -> bool) -> Option<Laid> {
    if stop() {
        return None;
    }
    let costs = PathCosts {
        row: (0..model.run.lengths.len())
            .map(|row| alone(model, row))
            .collect(),
        joint: vec![model.weights.joint * PARTS; model.run.joints.len() + 1],
        course: Vec::new(),
    };
    let courses = repeating(model, rules, &costs).or_else(|| in_turn(model, rules, &costs))?;
    round::laid(model, courses, None, stop)
}

/// The cheapest few courses that may lie again and again, over the whole deck.
fn repeating(model: &Model, rules: &JointRules, costs: &PathCosts) -> Option<Path> {
    let count = model.materials.len();
    let least = (rules.same_joist_after as usize + 1).max(2).min(count);
    // Some rules keep so few courses from coming round at once, but not some more.
    for period in least..=(least + MORE).min(count) {
        let alike = vec![0; period];
        let block = Block::among(&model.run, rules, &alike, None, period < count, MOST_STEPS);
        if let Some(block) = block.ok()? {
            let (_, path) = block
                .cheapest(costs, None, 0, i64::MAX)
                .into_iter()
                .next()?;
            return Some(path.iter().cycle().take(count).cloned().collect());
        }
    }
    None
}

/// Course after course, each the cheapest that may lie beside those before it.
fn in_turn(model: &Model, rules: &JointRules, costs: &PathCosts) -> Option<Path> {
    let run = &model.run;
    let one = Block::among(run, rules, &[0], None, false, usize::MAX).ok()??;
    let reach = (rules.same_joist_after as usize).max(1);
    let mut courses = Path::new();
    while courses.len() < model.materials.len() {
        let near = || courses.iter().rev().take(reach).zip(1..);
        let free = |place: Place| {
            near().all(|(joints, apart)| {
                let mut joints = joints.iter();
                joints.all(|&joint| run.compatible(rules, joint, place, apart))
            })
        };
        let end = run.end();
        let open = (0..=end).map(|place| place == 0 || place == end || free(place));
        let allowed = vec![open.collect()];
        let (_, path) = one
            .cheapest(costs, Some(&allowed), 0, i64::MAX)
            .into_iter()
            .next()?;
        courses.extend(path);
    }
    Some(courses)
}

/// The boards and blocks of a plan as columns of a relaxation over some classes.
pub(crate) fn columns(laid: &Laid, model: &Model, classes: &[Class]) -> Vec<Column> {
    let boards = laid.boards.iter();
    let boards = boards.map(|(kind, filling, _)| Column::Board(*kind, filling.clone()));
    let mut columns: Vec<Column> = boards.collect();
    let width = classes.iter().map(|c| c.materials.len()).max().unwrap_or(1);
    let blocks = laid
        .courses
        .chunks(width)
        .zip(model.materials.chunks(width));
    for (courses, materials) in blocks {
        let of = |class: &Class| class.materials == materials;
        if let Some(q) = classes.iter().position(of) {
            columns.push(Column::Block(q, courses.to_vec()));
        }
    }
    columns
}

/// Prices of so many rows by length alone, as much as the cheapest board allows:
/// not good, but never far off, and known before anything is solved; nothing where
/// the relaxation is soon solved.
pub(crate) fn even(model: &Model, rows: usize) -> Option<Vec<f64>> {
    if !takes_long(model) {
        return None;
    }
    let long = |length: Length| (length + model.kerf).units().max(1) as f64;
    let kinds = model.kinds.iter();
    let rates = kinds.map(|kind| kind.cost as f64 / long(kind.usable));
    let rate = rates.fold(f64::INFINITY, f64::min);
    let mut prices = vec![0.0; rows];
    for (price, &length) in prices.iter_mut().zip(&model.lengths) {
        *price = rate * long(length);
    }
    Some(prices)
}

/// What a piece costs where boards of one kind hold nothing else, limited kinds
/// only where no other holds it; in parts.
fn alone(model: &Model, row: usize) -> i64 {
    let share = |k: usize| {
        let held = model.boards.holds(row, k);
        (held > 0).then(|| (model.kinds[k].cost * PARTS / held).max(1))
    };
    let least = |limited: bool| {
        let kinds = 0..model.kinds.len();
        kinds
            .filter(|&k| model.kinds[k].limit.is_some() == limited)
            .filter_map(share)
            .min()
    };
    // Paths are sums of some thousand such shares.
    least(false).or_else(|| least(true)).unwrap_or(1 << 40)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::read;
    use crate::plan::Objective;

    /// 56 ft on joists a foot apart, joints 24 in from the next course's and no two on
    /// a joist within four courses: four such courses together are too many to look at.
    const LONG: &str = r#"
        deck = { along = "56ft", across = "10ft" }
        board = { face = "5-1/2in" }
        fastener = [{ name = "clip", gap = "3/16in" }]
        stock = [
            { length = "12ft", price = 24 },
            { length = "16ft", price = 37 },
            { length = "20ft", price = 48 },
        ]
        joists = { spacing = "12in" }
        joints = { stagger = "24in", same_joist_after = 3, bearing = 3 }
    "#;

    #[test]
    fn courses_in_turn_keep_the_rules_where_no_round_is_found() {
        let job = read(LONG, "long", &[]).expect("a job").job;
        let model = Model::new(&job, 0, Objective::Cost).expect("a model");
        let (run, rules) = (&model.run, &job.joints);
        let costs = PathCosts::of_pieces(vec![1; run.lengths.len()], run);
        assert_eq!(repeating(&model, rules, &costs), None);
        let courses = in_turn(&model, rules, &costs).expect("courses");
        assert_eq!(courses.len(), model.materials.len());
        for (at, joints) in courses.iter().enumerate() {
            assert!(!joints.is_empty());
            for (apart, before) in (1..=3).zip(courses[..at].iter().rev()) {
                let mut pairs = joints
                    .iter()
                    .flat_map(|&a| before.iter().map(move |&b| (a, b)));
                assert!(pairs.all(|(a, b)| run.compatible(rules, a, b, apart)));
            }
        }
        let laid = first(&model, rules, &|| false).expect("a plan");
        assert!(model.allows(&laid.courses));
        assert_eq!(first(&model, rules, &|| true).map(|laid| laid.weight), None);
    }

    /// Joists 450 mm apart, two of them together where the frame is joined: three courses
    /// that come round at once clash, four do not.
    const JOINED: &str = r#"
        unit = "mm"
        deck = { along = 11400, across = 1800 }
        edge = { left = { wall_clearance = 0 }, right = { wall_clearance = 0 } }
        board = { face = 90 }
        fastener = [{ name = "clip", gap = 4 }]
        stock = [{ length = 3950, price = 65 }]
        joints = { stagger = 1200, stagger_joists = 1, same_joist_after = 2, bearing = 2 }
        joists = { thickness = 60, positions = [
            30, 450, 900, 1350, 1800, 2250, 2700, 3150, 3600, 4050, 4500, 4950, 5400, 5898,
            5958, 6378, 6828, 7278, 7728, 8178, 8628, 9078, 9528, 9978, 10428, 10878, 11370,
        ] }
    "#;

    #[test]
    fn a_round_is_longer_where_the_shortest_clashes() {
        let job = read(JOINED, "joined", &[]).expect("a job").job;
        let model = Model::new(&job, 0, Objective::Cost).expect("a model");
        let (run, rules) = (&model.run, &job.joints);
        let round = |courses: usize| {
            let alike = vec![0; courses];
            Block::among(run, rules, &alike, None, true, MOST_STEPS).expect("a small graph")
        };
        assert!(round(3).is_none());
        let costs = PathCosts::of_pieces(vec![1; run.lengths.len()], run);
        let courses = repeating(&model, rules, &costs).expect("a longer round");
        assert_eq!(courses.len(), model.materials.len());
        for (at, joints) in courses.iter().enumerate() {
            for (apart, before) in (1..=2).zip(courses[..at].iter().rev()) {
                let mut pairs = joints
                    .iter()
                    .flat_map(|&a| before.iter().map(move |&b| (a, b)));
                assert!(pairs.all(|(a, b)| run.compatible(rules, a, b, apart)));
            }
        }
    }
}
