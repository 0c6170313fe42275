//! Few supports for many joints: where a support that carries joints costs
//! something, sets of supports are searched for that are cheap together with the
//! boards they ask for. Each set leaves a plain problem whose joints lie on the
//! set alone. What it finds are plans; bounds are left to `supports`.

use itertools::Itertools;

use super::classes::{Division, blocks};
use super::counts::Counts;
use super::master::Master;
use super::model::Model;
use super::refill::Graphs;
use super::search::{Aim, Laid, State, Tell, first_classes};
use super::tree::Tree;
use crate::joints::{Pieces, Place};

/// How many times the least work is spent at most on a set of supports.
pub(super) const MOST_TIMES: u64 = 25;
/// How many times the work that did not settle a set is spent on it next.
pub(super) const MORE: u64 = 5;
/// Sets whose relaxation is looked at.
const MOST_LOOKS: usize = 80;
/// Sets whose plans are searched for.
const MOST_SEARCHED: usize = 3;

impl<'a> State<'a> {
    /// Plans whose joints lie on few supports.
    pub(super) fn downhill(&mut self, root: &Master<'a>) {
        let model = self.model;
        if self.done() {
            return;
        }
        let mut plain = model.plain();
        let mut seen: Vec<(i64, Vec<bool>)> = Vec::new();
        let start = self.concentrate(root);
        let mut looks = 0;
        let mut here = (look(self, &plain, &start), start);
        seen.push(here.clone());
        // Downhill: leave one out, put one in, or one in another's stead.
        'hill: loop {
            let places = here.1.len();
            let (ins, outs): (Vec<usize>, Vec<usize>) = (1..places).partition(|&s| here.1[s]);
            let drops = ins.iter().map(|&s| (Some(s), None));
            let swaps = ins
                .iter()
                .cartesian_product(&outs)
                .filter_map(|(&s, &t)| (s.abs_diff(t) <= 2).then_some((Some(s), Some(t))));
            let adds = outs.iter().map(|&t| (None, Some(t)));
            for (out, into) in drops.chain(swaps).chain(adds) {
                if looks >= MOST_LOOKS || self.spent() {
                    break 'hill;
                }
                let mut set = here.1.clone();
                out.into_iter().for_each(|s: usize| set[s] = false);
                into.into_iter().for_each(|t: usize| set[t] = true);
                if seen.iter().any(|(_, known)| *known == set) {
                    continue;
                }
                looks += 1;
                let weight = look(self, &plain, &set);
                seen.push((weight, set.clone()));
                if weight < here.0 {
                    here = (weight, set);
                    continue 'hill;
                }
            }
            break;
        }
        seen.sort();
        for (weight, set) in seen.into_iter().take(MOST_SEARCHED) {
            if weight >= self.weight() || self.spent() {
                break;
            }
            let (laid, _) = self.on_supports(&mut plain, &set, 1);
            self.offer(laid, 0, Aim::Both);
        }
    }

    /// A plan on the supports that the relaxation uses when it has to pay for each wholly.
    pub(super) fn concentrated(&mut self, root: &Master<'a>) {
        if self.done() {
            return;
        }
        let mut plain = self.model.plain();
        let set = self.concentrate(root);
        let (laid, _) = self.on_supports(&mut plain, &set, 1);
        self.offer(laid, 0, Aim::Both);
    }

    /// The supports that the relaxation uses when the one it uses most is paid for
    /// again and again.
    fn concentrate(&self, root: &Master<'a>) -> Vec<bool> {
        let model = self.model;
        let all = Counts::all(model, model.conceivable);
        let blocks: Vec<i64> = root.classes.iter().map(|c| c.count).collect();
        let columns = root.whole_columns();
        let classes = root.classes.clone();
        let mut master = Master::counting(model, classes, &model.extra, &columns, all.clone());
        let mut paid = vec![false; model.run.joints.len() + 1];
        for _ in 0..model.run.joints.len() {
            let carried: Vec<i64> = paid[1..]
                .iter()
                .map(|&p| if p { -model.most_on_support } else { 0 })
                .collect();
            master.set(&model.extra, &blocks, &all, Some(&carried));
            master.solve(model.conceivable, i64::MAX, self.stop);
            let mut used = vec![0.0; paid.len()];
            for (_, path, x) in master.used_blocks() {
                for joint in path.into_iter().flatten() {
                    used[joint as usize] += x;
                }
            }
            let next = (1..paid.len())
                .filter(|&s| !paid[s] && used[s] > 1e-6)
                .max_by(|&a, &b| used[a].total_cmp(&used[b]).then(b.cmp(&a)));
            match next {
                Some(s) if !(self.stop)() => paid[s] = true,
                _ => break,
            }
        }
        paid
    }

    /// A plan lighter than the best whose joints lie on some supports, and what all
    /// such plans weigh at least with every support of the set paid for; as much as
    /// the best where none of them is lighter. So many times the least work is spent.
    pub(super) fn on_supports(
        &self,
        plain: &mut Model,
        set: &[bool],
        times: u64,
    ) -> (Option<Laid>, i64) {
        let doubled = self.model.weights.doubled;
        let price = doubled * set.iter().filter(|s| **s).count() as i64;
        plain.conceivable = self.weight() - 1 - price;
        if plain.conceivable < 0 {
            return (None, self.weight());
        }
        // No way to find a plan is to look beyond the set.
        plain.run = self
            .model
            .run
            .with_joints_at(|place| set[usize::from(place)]);
        let before = plain.spent();
        let silent: &Tell = &|_, _| {};
        let budget = self.budget.for_set(before, times);
        let only = pieces_on(plain, set);
        let found = {
            let mut state = State {
                model: plain,
                rules: self.rules,
                budget,
                stop: self.stop,
                tell: silent,
                best: None,
                bound: 0,
                ties: None,
                refilled: 0,
                graphs: Graphs::default(),
            };
            state.of_pieces(only);
            let least = state.bound.min(state.weight());
            (state.best, least.saturating_add(price))
        };
        self.model.spend(plain.spent() - before);
        let (best, least) = found;
        let laid = best.map(|mut laid| {
            let carrying = laid.courses.iter().flatten().unique().count() as i64;
            laid.weight += carrying * doubled;
            laid
        });
        (laid, least)
    }

    /// Searches for plans of some pieces alone, and for what they weigh at least.
    fn of_pieces(&mut self, only: Pieces) {
        let model = self.model;
        let Some((width, _)) = first_classes(model, self.rules, Some(&only), self.budget.steps)
        else {
            // No course can be cut so.
            self.raise(model.conceivable.saturating_add(1));
            return;
        };
        let division = Division {
            only: Some(&only),
            ..Division::of(width, usize::MAX)
        };
        let Ok(Some(classes)) = blocks(model, self.rules, &division) else {
            return;
        };
        let mut root = Master::new(model, classes, &model.extra, &[]);
        root.solve(model.conceivable, i64::MAX, self.stop);
        if root
            .prices
            .as_ref()
            .is_some_and(|p| p.bound() <= model.conceivable)
        {
            // On a few supports there are few walks, which leave nothing open.
            if width < model.materials.len() {
                let all = Counts::all(model, model.conceivable);
                let columns = root.whole_columns();
                let classes = root.classes.clone();
                let mut tree = Tree::over(model, classes, &columns, all.clone(), self.bound);
                let target = self.target(Aim::Primary);
                tree.relax(&mut all.clone(), target, Aim::Primary, self.stop);
                self.by_circuits(&tree, &only);
            }
            if !self.done() {
                self.by_counts(root, width, Some(only));
            }
        } else if root.prices.is_some() {
            self.raise(model.conceivable.saturating_add(1));
        }
    }
}

/// What plans on a set of supports weigh at least, the set paid for; more than
/// any plan where there is none.
fn look(state: &State, plain: &Model, set: &[bool]) -> i64 {
    let only = pieces_on(plain, set);
    let price = state.model.weights.doubled * set.iter().filter(|s| **s).count() as i64;
    let Some((_, classes)) = first_classes(plain, state.rules, Some(&only), state.budget.steps)
    else {
        return i64::MAX;
    };
    let before = plain.spent();
    let mut master = Master::new(plain, classes, &plain.extra, &[]);
    let room = state.weight() - price;
    master.solve(plain.conceivable, room, state.stop);
    state.model.spend(plain.spent() - before);
    let bound = master.prices.as_ref().map_or(i64::MAX / 2, |p| p.bound());
    bound.saturating_add(price)
}

/// The pieces that end on a set of supports or where the run does.
pub(super) fn pieces_on(model: &Model, set: &[bool]) -> Pieces {
    let mut pieces = Pieces::none(&model.run);
    let end = model.run.end();
    for length in 0..model.run.lengths.len() as u16 {
        for place in (1..end).filter(|&p| set[p as usize]).chain([end]) {
            pieces.add(length, place as Place);
        }
    }
    pieces
}
