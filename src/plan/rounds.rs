//! Branching where one block is the whole plan: on where each lot of courses that lie alike
//! has its joints, on boards of each kind and on joints. Where all of that is whole a single
//! block is left, which is cut for good. What blocks there are, and how their courses are
//! laid, is left to others.

use rustc_hash::FxHashMap;

use super::class::Class;
use super::counts::Counts;
use super::direct::settle;
use super::master::Master;
use super::search::{Aim, Laid, State};
use super::single::{Lay, beside_boards, cutting};
use super::tree::{Node, Tree};
use crate::joints::{Path, Place, Takes};

/// What blocks that were cut for good weigh at least.
type Cut = FxHashMap<Path, i64>;

impl<'a> State<'a> {
    /// Branches over a solved relaxation of one class of one block until nothing is open.
    pub(super) fn by_rounds(&mut self, root: &Master<'a>, lay: &Lay) {
        let mut cut = Cut::default();
        for aim in [Aim::Primary, Aim::Both] {
            if !self.done() && !self.spent() && self.bound < self.target(aim) {
                self.rounds(root, aim, lay, &mut cut);
            }
        }
    }

    fn rounds(&mut self, root: &Master<'a>, aim: Aim, lay: &Lay, cut: &mut Cut) {
        let model = self.model;
        let (class, firsts) = by_lots(&root.classes[0]);
        let all = Counts::all(model, self.weight().min(model.conceivable));
        let all = all.with_places(model, firsts.len());
        let columns = root.whole_columns();
        let mut tree = Tree::over(model, vec![class], &columns, all, self.bound);
        // What blocks that were cut weigh at least.
        let mut least = i64::MAX;
        let mut split = false;
        while !self.spent() {
            let target = self.target(aim);
            if self.bound >= target {
                break;
            }
            self.raise(tree.bound().unwrap_or(i64::MAX).min(least));
            // Down to whole blocks: the next is soon relaxed, and plans are found.
            let below = std::mem::take(&mut split).then(|| tree.newest(target));
            let Some((bound, mut counts)) = below.flatten().or_else(|| tree.next(target)) else {
                break;
            };
            let (found, node) = tree.relax(&mut counts, target, aim, self.stop);
            let bound = bound.max(found);
            let joints = match node {
                Node::Closed => continue,
                Node::Split(halves) => {
                    tree.push_halves(bound, *halves);
                    split = true;
                    continue;
                }
                Node::Whole(_, joints) => joints,
            };
            let used = tree.master.used_blocks().into_iter();
            let most = used.max_by(|a, b| a.2.total_cmp(&b.2));
            // Where there is none of these counts, parts of another one are those at hand.
            let within = |path: &Path| has(&counts, path, &firsts, model.run.joints.len());
            let Some((_, path, _)) = most.filter(|block| within(&block.1)) else {
                least = least.min(bound);
                continue;
            };
            let of_block = match cut.get(&path) {
                Some(&known) => known,
                None => {
                    let weight = self.cut_for_good(&tree.master, &path, lay);
                    cut.insert(path.clone(), weight);
                    weight
                }
            };
            least = least.min(of_block.max(bound));
            for other in others(counts, &path, &firsts, model.run.joints.len(), joints) {
                tree.push(bound, other);
            }
        }
        let bound = tree.bound().unwrap_or(i64::MAX).min(least);
        self.raise(bound.min(self.target(aim)));
    }

    /// Cuts a block of a relaxation for good; what it weighs at least.
    fn cut_for_good(&mut self, master: &Master, path: &Path, lay: &Lay) -> i64 {
        let (model, stop) = (self.model, self.stop);
        let takes = Takes::of(path, &model.run, &master.classes[0].materials, false);
        let own = beside_boards(model, path);
        let cutting = cutting(model, &takes, &master.boards(), stop);
        let cutoff = self.weight() - own;
        let (answer, least) = settle(&cutting, cutoff, self.budget.other, stop, &|_, _| {});
        let laid = answer.map(|answer| Laid {
            weight: answer.weight + own,
            courses: lay(path),
            boards: answer.boards,
        });
        self.offer(laid, 0, Aim::Both);
        model.lift(least.saturating_add(own))
    }
}

/// A class whose places of joints are counted by lot, and the first course of each.
fn by_lots(class: &Class) -> (Class, Vec<usize>) {
    let courses = class.materials.len();
    let first = |&at: &usize| !class.colours[..at].contains(&class.colours[at]);
    let firsts: Vec<usize> = (0..courses).filter(first).collect();
    let of_lot = |&first: &usize| (0..courses).map(|at| i32::from(at == first)).collect();
    let class = Class {
        balance: firsts.iter().map(of_lot).collect(),
        ..class.clone()
    };
    (class, firsts)
}

/// Whether a block has its joints where some counts allow.
fn has(counts: &Counts, path: &Path, firsts: &[usize], places: usize) -> bool {
    let carries = |at: usize| path[firsts[at / places]].contains(&((at % places + 1) as Place));
    let mut bounds = counts.places.iter().enumerate();
    bounds.all(|(at, &(low, high))| (low..=high).contains(&i64::from(carries(at))))
}

/// The counts of all blocks but one, in parts that have none in common: without the first of
/// its joints, with that but without the next, and so on, and with all of them and more.
fn others(
    mut counts: Counts,
    path: &Path,
    firsts: &[usize],
    places: usize,
    joints: i64,
) -> Vec<Counts> {
    let mut parts = Vec::new();
    for (lot, &first) in firsts.iter().enumerate() {
        for &joint in &path[first] {
            let place = lot * places + usize::from(joint) - 1;
            let mut without = counts.clone();
            without.places[place].1 = 0;
            parts.push(without);
            counts.places[place].0 = 1;
        }
    }
    counts.joints.0 = counts.joints.0.max(joints + 1);
    parts.push(counts);
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::plan::budget::Budget;
    use crate::plan::decks::deck;
    use crate::plan::model::Model;
    use crate::plan::repeat::tests::relaxed;
    use crate::plan::single::{Spend, single};
    use crate::plan::types::Objective;

    /// Branching beside all blocks cut one by one.
    #[test]
    fn the_best_round_is_that_of_all_cut_for_good() {
        let (mut proven, mut better) = (0, 0);
        for n in 0..12 {
            let boards = [(8, 1_911 + 37 * n), (10, 2_503 - 11 * n), (12, 3_190)];
            let mut job = deck(n, 150 + 13 * (n % 7), 60 + 11 * (n % 5), boards);
            job.joints.stagger = Length::from_inches([16, 32, 24][(n % 3) as usize]);
            job.joints.repeat = Some(2 + n as u32 % 2);
            job.joints.same_joist_after = (n % 2) as u32;
            let model = Model::new(&job, 0, Objective::Cost).expect("a model");
            let Some((root, task)) = relaxed(&model, &job.joints) else {
                continue;
            };
            let budget = Budget::FULL;
            let spend = Spend {
                cuts: 100_000,
                each: budget.other,
            };
            let lay = |lots: &[Vec<Place>]| task.in_order(lots);
            let all = single(&root, None, spend, &|| false, &|_, _| {}, &lay);
            let bound = root.prices.as_ref().expect("a bound").bound();
            let (stop, tell) = (|| false, |_: Option<&_>, _| {});
            let mut state = State::new(&model, &job.joints, budget, &stop, &tell, bound);
            state.by_rounds(&root, &lay);
            let Some(best) = all.best.filter(|best| best.weight == all.bound) else {
                continue;
            };
            let primary = |weight: i64| weight / model.weights.unit;
            assert!(state.bound <= best.weight, "deck {n}");
            assert_eq!(primary(state.weight()), primary(best.weight), "deck {n}");
            proven += i32::from(state.bound >= state.target(Aim::Primary));
            better += i32::from(bound < best.weight);
        }
        assert!(proven > 7 && better > 3, "{proven} {better}");
    }

    /// Every round of two lots over three places but one lies in just one part.
    #[test]
    fn the_others_are_all_but_one() {
        let counts = Counts {
            boards: Vec::new(),
            split: Vec::new(),
            joints: (0, 9),
            pieces: Vec::new(),
            supports: None,
            places: vec![(0, 1); 6],
        };
        // The first lot is of two courses, the second of one.
        let joints = |lots: u32| -> i64 {
            let of_lot = |lot: u32| i64::from((lots >> (3 * lot) & 7).count_ones());
            2 * of_lot(0) + of_lot(1)
        };
        for one in 0..64_u32 {
            let of_lot = |lot: u32| (1..=3).filter(move |j| one >> (3 * lot + j - 1) & 1 == 1);
            let course = |lot: u32| of_lot(lot).map(|j| j as Place).collect::<Vec<_>>();
            let path = vec![course(0), course(0), course(1)];
            let parts = others(counts.clone(), &path, &[0, 2], 3, joints(one));
            assert!(has(&counts, &path, &[0, 2], 3));
            for round in 0..64_u32 {
                let holds = |part: &&Counts| {
                    let (low, high) = part.joints;
                    let mut places = part.places.iter().enumerate();
                    (low..=high).contains(&joints(round))
                        && places.all(|(at, &(low, high))| {
                            (low..=high).contains(&i64::from(round >> at & 1))
                        })
                };
                let often = parts.iter().filter(holds).count();
                assert_eq!(often, usize::from(round != one), "{round:b} of {one:b}");
            }
        }
    }
}
