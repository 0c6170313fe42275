//! The search for the lightest plan. The relaxation over blocks of neighbouring
//! courses gives a bound; branching on the counts of boards and joints raises it
//! and says which counts to dive for; wider blocks raise it further where the
//! courses of no answer can be put in order.

use super::attempts::{Attempts, Sought};
use super::budget::Budget;
use super::class::Class;
use super::classes::{Division, blocks};
use super::counts::Counts;
use super::direct::direct;
use super::first::{columns, first, takes_long};
use super::master::{Column, Filled, Master};
use super::model::Model;
use super::pieces::by_pieces;
use super::proof::proof;
use super::refill::Graphs;
use super::repeat;
use super::tree::{Node, Tree};
use super::types::Proof;
use crate::job::JointRules;
use crate::joints::{Pieces, Place};

/// Nodes split before whole counts are looked for by other means.
const MOST_SPLITS: u32 = 100;
/// The part of its weight that a plan is far from the bound by.
const FAR: i64 = 100;
/// So few courses are planned as one block.
const MOST_AT_ONCE: usize = 5;

/// Courses with their joints, and the boards their pieces come from.
#[derive(Debug, Clone)]
pub(crate) struct Laid {
    /// What it weighs.
    pub weight: i64,
    /// The joints of each course, in order.
    pub courses: Vec<Vec<Place>>,
    /// Boards: kind, filling, how many; they hold at least what is needed.
    pub boards: Filled,
}

/// What the search found.
pub(crate) struct Searched {
    /// The lightest plan, if any.
    pub best: Option<Laid>,
    /// No plan weighs less; more than conceivable when there is none.
    pub bound: i64,
    /// The prices that prove what the relaxation gives of the bound.
    pub proof: Option<Proof>,
}

/// Told of every better plan and bound.
pub(crate) type Tell<'a> = dyn Fn(Option<&Laid>, i64) + 'a;

/// Searches for the lightest plan of a model.
pub(crate) fn search(
    model: &Model,
    rules: &JointRules,
    budget: Budget,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
) -> Searched {
    let unreachable = model.conceivable.saturating_add(1);
    let count = model.materials.len();
    if count == 0 && !model.extra.is_empty() {
        return direct(model, Vec::new(), budget.closing, stop, tell, &|_| {
            Vec::new()
        });
    }
    if count == 0 {
        // A single ripped course that is left out: nothing is laid.
        let best = Laid {
            weight: 0,
            courses: Vec::new(),
            boards: Vec::new(),
        };
        return Searched {
            best: Some(best),
            bound: 0,
            proof: None,
        };
    }
    if let Some(round) = repeat::round_of(rules, count) {
        return repeat::search(model, rules, round, budget, stop, tell);
    }
    let nothing = Searched {
        best: None,
        bound: unreachable,
        proof: None,
    };
    let room = model.run.joints.len() as i64 * model.most_on_support;
    let crowded = |joints: usize| joints as i64 * count as i64 > room;
    if model.run.fewest_joints().is_none_or(crowded) {
        return nothing;
    }
    let Some((width, classes)) = first_classes(model, rules, None, budget.steps) else {
        return nothing;
    };
    let known = takes_long(model)
        .then(|| first(model, rules, stop))
        .flatten();
    let columns = known.iter().flat_map(|laid| columns(laid, model, &classes));
    let columns: Vec<Column> = columns.collect();
    let mut root = Master::new(model, classes, &model.extra, &columns);
    // Work is not counted before there is a plan: the first comes of the relaxation.
    let enough = known.is_some();
    let spent = || stop() || enough && model.spent() >= budget.total;
    root.solve(model.conceivable, i64::MAX, &spent);
    let Some(prices) = &root.prices else {
        return match stop() {
            true => Searched {
                best: in_place_of_none(model, rules),
                bound: 0,
                proof: None,
            },
            false => nothing,
        };
    };
    let bound = model.lift(prices.bound());
    let proof = root
        .classes
        .first()
        .map(|class| proof(model, prices, class.materials.len()));
    let mut state = State::new(model, rules, budget, stop, tell, bound);
    state.offer(known, 0, Aim::Both);
    if bound <= model.conceivable {
        tell(state.best.as_ref(), bound);
        state.by_counts(root, width, None);
        if state.best.is_none() && stop() {
            state.offer(in_place_of_none(model, rules), 0, Aim::Both);
        }
    }
    Searched {
        bound: state.bound.min(state.weight()),
        best: state.best,
        proof,
    }
}

/// A plan of repeating courses, soon laid, for those who stop the search before it
/// has found one: it may be far from the best, but can be built.
fn in_place_of_none(model: &Model, rules: &JointRules) -> Option<Laid> {
    first(model, rules, &|| false).filter(|laid| model.allows(&laid.courses))
}

/// The blocks of the first relaxation: all courses at once where they are few,
/// else as many as the rules bind together, or fewer where that is too many.
/// Nothing when a block cannot be cut at all.
pub(super) fn first_classes(
    model: &Model,
    rules: &JointRules,
    only: Option<&Pieces>,
    most: usize,
) -> Option<(usize, Vec<Class>)> {
    let count = model.materials.len();
    let bound = (rules.same_joist_after as usize + 1).max(2).min(count);
    let widest = if count <= MOST_AT_ONCE { count } else { bound };
    (1..=widest).rev().find_map(|width| {
        let most = if width == 1 { usize::MAX } else { most };
        let division = Division {
            only,
            ..Division::of(width, most)
        };
        match blocks(model, rules, &division) {
            Ok(classes) => Some(classes.map(|classes| (width, classes))),
            Err(_) => None,
        }
    })?
}

/// The search so far.
pub(super) struct State<'a> {
    pub(super) model: &'a Model,
    pub(super) rules: &'a JointRules,
    pub(super) budget: Budget,
    pub(super) stop: &'a dyn Fn() -> bool,
    pub(super) tell: &'a Tell<'a>,
    pub(super) best: Option<Laid>,
    pub(super) bound: i64,
    /// Work up to which ties are looked for, once only those are left.
    pub(super) ties: Option<u64>,
    /// What the best plan weighed when its parts were laid anew.
    pub(super) refilled: i64,
    /// Blocks of parts laid anew.
    pub(super) graphs: Graphs,
}

/// What is minimised while branching.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// The primary objective alone.
    Primary,
    /// What breaks ties too.
    Both,
}

impl<'a> State<'a> {
    /// Before any plan is found.
    pub(super) fn new(
        model: &'a Model,
        rules: &'a JointRules,
        budget: Budget,
        stop: &'a dyn Fn() -> bool,
        tell: &'a Tell<'a>,
        bound: i64,
    ) -> State<'a> {
        State {
            model,
            rules,
            budget,
            stop,
            tell,
            best: None,
            bound,
            ties: None,
            refilled: 0,
            graphs: Graphs::default(),
        }
    }

    /// What the best plan weighs; more than any plan while there is none.
    pub(super) fn weight(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(self.model.conceivable.saturating_add(1), |b| b.weight)
    }

    /// A plan has to be lighter than this to be better.
    pub(super) fn target(&self, aim: Aim) -> i64 {
        match aim {
            Aim::Primary if self.best.is_some() => self.model.past_cheaper(self.weight()),
            _ => self.weight(),
        }
    }

    pub(super) fn done(&self) -> bool {
        self.bound >= self.weight() || (self.stop)()
    }

    /// Whether the best plan is far from the bound.
    fn far(&self) -> bool {
        self.weight() - self.bound > self.weight() / FAR
    }

    /// Whether the work allowed is spent.
    pub(super) fn spent(&self) -> bool {
        let enough = self.ties.unwrap_or(self.budget.total);
        self.model.spent() >= enough.min(self.budget.total) || (self.stop)()
    }

    /// Once the primary objective is proven, ties are worth as much work again as
    /// that took.
    fn only_ties(&mut self) {
        if self.best.is_some() && self.bound >= self.target(Aim::Primary) {
            let spent = self.model.spent();
            self.ties.get_or_insert(spent + spent.max(self.budget.ties));
        }
    }

    /// Takes a plan if it is better; whether it is as light as can be where
    /// nothing is lighter than `bound`.
    pub(super) fn offer(&mut self, laid: Option<Laid>, bound: i64, aim: Aim) -> bool {
        let Some(laid) = laid else { return false };
        let weight = laid.weight;
        if weight < self.weight() && self.model.allows(&laid.courses) {
            self.best = Some(laid);
            (self.tell)(self.best.as_ref(), self.bound);
            self.only_ties();
        }
        let unit = self.model.weights.unit;
        match aim {
            Aim::Primary => weight / unit <= bound / unit,
            Aim::Both => weight <= bound,
        }
    }

    pub(super) fn raise(&mut self, bound: i64) {
        let bound = self.model.lift(bound.min(self.weight())).min(self.weight());
        if bound > self.bound {
            self.bound = bound;
            (self.tell)(self.best.as_ref(), self.bound);
            self.only_ties();
        }
    }

    /// Branches on counts, over wider and wider blocks until nothing is open.
    pub(super) fn by_counts(&mut self, root: Master<'a>, width: usize, only: Option<Pieces>) {
        let (model, count) = (self.model, self.model.materials.len());
        let mut attempts = Attempts::new(self, width);
        let mut only = only;
        let mut best_raw = 0;
        let mut root = root;
        let mut width = width;
        loop {
            let raw = root.prices.as_ref().map_or(0, |p| p.bound());
            self.raise(model.lift(raw));
            // A width whose bound is lower than another's is of no use.
            if raw >= best_raw && !self.done() && (self.best.is_none() || !self.spent()) {
                best_raw = raw;
                self.at_width(&root, width, &mut only, &mut attempts);
            }
            if self.done() || width >= count || self.spent() {
                break;
            }
            width += 1;
            let division = Division {
                only: only.as_ref(),
                ..Division::of(width, self.budget.wider)
            };
            let classes = match blocks(model, self.rules, &division) {
                Ok(Some(classes)) => classes,
                Ok(None) => {
                    // Nothing lighter can be laid so that even so few courses agree.
                    self.raise(self.target(Aim::Primary));
                    break;
                }
                Err(_) => break,
            };
            let boards = root.boards();
            root = Master::new(model, classes, &model.extra, &boards);
            root.solve(self.weight().min(model.conceivable), i64::MAX, self.stop);
        }
        if !self.done() && !self.spent() {
            self.close(&root);
            self.refill_longer(&root.boards());
        }
    }

    /// Looks for plans at one width of blocks and branches over it.
    fn at_width(
        &mut self,
        root: &Master<'a>,
        width: usize,
        only: &mut Option<Pieces>,
        attempts: &mut Attempts<'a>,
    ) {
        let model = self.model;
        let at_most = self.weight().min(model.conceivable);
        let all = Counts::all(model, at_most);
        let columns = root.whole_columns();
        let mut tree = Tree::over(
            model,
            root.classes.clone(),
            &columns,
            all.clone(),
            self.bound,
        );
        if attempts.before(self, &mut tree, &all) {
            // Sets of supports are soon settled only beside a good plan.
            if model.weights.doubled > 0 && self.far() {
                attempts.of_any(self, &mut tree, &all);
            }
            self.by_supports(&tree, root);
        }
        if self.done() {
            return;
        }
        // From here on only what a lighter plan can hold is looked at.
        let pieces = root.pieces(self.weight());
        match only {
            Some(only) => only.keep(&pieces),
            None => *only = Some(pieces),
        }
        if self.bound < self.target(Aim::Primary) {
            // What breaks ties may hold more than what is better.
            let mut better = root.pieces(self.target(Aim::Primary));
            if let Some(only) = &only {
                better.keep(only);
            }
            let Some(classes) = self.classes_of(root, width, Some(&better)) else {
                return self.raise(self.target(Aim::Primary));
            };
            tree = Tree::over(model, classes, &columns, all.clone(), self.bound);
            let loose = Some((width, Some(&better)));
            self.branch(&mut tree, attempts, Aim::Primary, loose);
        }
        if !self.done() && self.bound >= self.target(Aim::Primary) {
            let columns = tree.master.whole_columns();
            let (tight, below) = (tree.tight.take(), tree.below);
            let Some(classes) = self.classes_of(root, width, only.as_ref()) else {
                return self.raise(self.weight());
            };
            let mut tree = Tree::over(model, classes, &columns, all, self.bound);
            // What bounds plans lighter than those at hand says nothing of their like.
            if self.weight() <= below {
                (tree.tight, tree.below) = (tight, below);
            }
            let loose = Some((width, only.as_ref())).filter(|_| tree.tight.is_none());
            self.branch(&mut tree, attempts, Aim::Both, loose);
        }
    }

    /// Blocks of a width and of some pieces; those of a relaxation where they are too
    /// many, and nothing where none can be cut.
    fn classes_of(
        &self,
        root: &Master<'a>,
        width: usize,
        only: Option<&Pieces>,
    ) -> Option<Vec<Class>> {
        let division = Division {
            only,
            ..Division::of(width, self.budget.wider)
        };
        match blocks(self.model, self.rules, &division) {
            Ok(classes) => classes,
            Err(_) => Some(root.classes.clone()),
        }
    }

    /// Branches on counts until all nodes are closed, or too many are stuck: their
    /// counts are whole, but no plan of them is found.
    ///
    /// A tree that is loose, of blocks of a width and some pieces, is given tighter
    /// bounds once a plan is not found at once.
    fn branch(
        &mut self,
        tree: &mut Tree<'a>,
        attempts: &mut Attempts<'a>,
        aim: Aim,
        mut loose: Option<(usize, Option<&Pieces>)>,
    ) {
        let mut stuck = i64::MAX;
        let mut given_up = 0;
        let only = loose.and_then(|loose| loose.1);
        let mut otherwise = loose.map(|loose| loose.0);
        otherwise = otherwise.filter(|_| aim == Aim::Primary);
        let mut counted = otherwise.is_some();
        let mut splits = 0;
        while !self.spent() && given_up < self.budget.stuck {
            let target = self.target(aim);
            if self.bound >= target {
                break;
            }
            let Some((bound, mut counts)) = tree.next(target) else {
                break;
            };
            self.raise(bound.min(stuck));
            let (found, node) = tree.relax(&mut counts, target, aim, self.stop);
            let bound = bound.max(found);
            let (boards, joints) = match node {
                Node::Closed => continue,
                Node::Split(halves) => {
                    for half in *halves {
                        tree.push(bound, half);
                    }
                    splits += 1;
                    if splits > MOST_SPLITS && std::mem::take(&mut counted) {
                        self.by_courses(tree, attempts);
                    }
                    continue;
                }
                Node::Whole(boards, joints) => (boards, joints),
            };
            if let Some(others) = counts.above(self.model, self.bound, &boards, joints) {
                for other in others {
                    tree.push(bound, other);
                }
                continue;
            }
            let by_joints = aim == Aim::Both || self.model.weights.joint > 1;
            let sought = Sought {
                counts: counts.up_to(&boards, by_joints.then_some(joints)),
                bound,
                aim,
            };
            if attempts.at_once(self, tree, &sought) {
                continue;
            }
            if std::mem::take(&mut counted) {
                self.by_courses(tree, attempts);
                self.refill(&tree.master.boards());
                tree.push(bound, counts);
                continue;
            }
            if let Some((width, only)) = loose.take() {
                let at_most = self.weight().min(self.model.conceivable);
                let all = Counts::all(self.model, at_most);
                self.tighten(tree, width, only, &all, aim);
                if tree.tight.is_some() {
                    tree.push(bound, counts);
                    continue;
                }
            }
            match self.settle(tree, attempts, &counts, &boards, &sought) {
                Settled::Found => continue,
                Settled::Refuted => {}
                Settled::Open => {
                    let least = match only.filter(|_| aim == Aim::Primary) {
                        Some(only) => self.by_circuits_of(tree, only, &counts, &boards, bound),
                        None => bound,
                    };
                    stuck = stuck.min(least.max(bound));
                    given_up += usize::from(least < self.target(aim));
                    self.refill(&tree.master.boards());
                    if let Some(width) = otherwise.take() {
                        self.otherwise(tree, width);
                    }
                }
            }
            for other in counts.without(self.model, &boards) {
                tree.push(bound, other);
            }
        }
        let bound = tree.bound().unwrap_or(i64::MAX).min(stuck);
        self.raise(bound.min(self.target(aim)));
    }

    /// Finds a plan of whole boards, or shows that there is none, if that can be
    /// done.
    fn settle(
        &mut self,
        tree: &mut Tree<'a>,
        attempts: &mut Attempts<'a>,
        counts: &Counts,
        boards: &[i64],
        sought: &Sought,
    ) -> Settled {
        if tree.walk().is_some() {
            let just = counts.just(boards).with_pieces(self.model);
            match by_pieces(self, tree, just, sought.bound, sought.aim) {
                None => return Settled::Found,
                Some(least) if least >= self.target(sought.aim) => return Settled::Refuted,
                Some(_) => {}
            }
        }
        match attempts.at(self, tree, sought) {
            true => Settled::Found,
            false => Settled::Open,
        }
    }
}

/// What became of a count of boards.
enum Settled {
    /// A plan that weighs no more than its bound.
    Found,
    /// No plan of it is better than the one at hand.
    Refuted,
    /// Neither.
    Open,
}
