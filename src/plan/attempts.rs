//! Ways to find a plan of given counts, cheap ones first: dives whose blocks are
//! then put in order, over blocks as they come and over rings, which may lie
//! again and again; families of joints, whose courses go in any order; and
//! chains, laid one after another.

use super::classes::{Division, blocks};
use super::coloured::Guide;
use super::counts::Counts;
use super::first::first;
use super::search::{Aim, Laid, State};
use super::tree::Tree;
use super::walking;

/// Steps of a block's graph beyond which it is too large to be of use here.
pub(crate) const MOST_STEPS: usize = 300_000;

/// Products spent on families at least before any counts are looked at.
const FIRST_WORK: u64 = 100_000_000;

/// The relaxations that attempts start from.
pub(super) struct Attempts<'a> {
    /// Courses with colours that come round again.
    guides: Vec<Guide<'a>>,
    /// Blocks that may lie again and again.
    rings: Vec<Tree<'a>>,
    begun: bool,
}

impl<'a> Attempts<'a> {
    pub(super) fn new(state: &State<'a>, width: usize) -> Attempts<'a> {
        let (model, rules) = (state.model, state.rules);
        let count = model.materials.len();
        let apart = rules.same_joist_after as usize + 1;
        // Four colours let opposite ones lie close, which three do not.
        let mut periods = vec![apart.max(2).next_multiple_of(2)];
        if apart > 2 && !apart.is_multiple_of(2) {
            periods.push(apart);
        }
        periods.iter_mut().for_each(|p| *p = (*p).min(count));
        periods.dedup();
        let counts = Counts::all(model, model.conceivable);
        let ring = |width: usize| {
            let division = Division {
                cyclic: true,
                ..Division::of(width, MOST_STEPS)
            };
            let classes = blocks(model, rules, &division).ok()??;
            Some(Tree::over(model, classes, &[], counts.clone(), 0))
        };
        // All courses at once need no putting in order, and pairs are rings.
        let whole = width >= count;
        let widths = if apart > 2 { apart..apart + 2 } else { 0..0 };
        Attempts {
            guides: periods
                .into_iter()
                .filter(|_| !whole)
                .filter_map(|period| Guide::new(model, rules, period, &counts))
                .collect(),
            rings: widths
                .filter(|&w| !whole && w < count)
                .filter_map(ring)
                .collect(),
            begun: false,
        }
    }

    /// Plans of any counts, so that there is one to improve on;
    /// whether this was the first time.
    pub(super) fn before(
        &mut self,
        state: &mut State<'a>,
        tree: &mut Tree<'a>,
        all: &Counts,
    ) -> bool {
        let aim = Aim::Both;
        if !state.budget.before {
            return false;
        }
        for turn in 0..2 {
            if state.done() {
                return false;
            }
            let laid = by_dive(state, tree, all, state.weight(), turn);
            state.offer(laid, 0, aim);
            if state.done() {
                return false;
            }
            let laid = tree.chain(state.rules, all, state.weight(), turn, state.stop);
            state.offer(laid, 0, aim);
        }
        if state.best.is_none() {
            let laid = first(state.model, state.rules, state.stop);
            state.offer(laid, 0, aim);
        }
        if self.begun {
            return false;
        }
        self.begun = true;
        for turn in 0..3 {
            for ring in &mut self.rings {
                if state.done() {
                    return false;
                }
                let laid = by_dive(state, ring, all, state.weight(), turn);
                state.offer(laid, 0, aim);
            }
        }
        // Where supports cost something, sets of them say more than families do.
        let families = match state.model.weights.doubled {
            0 => state.budget.families,
            _ => state.budget.families.min(1),
        };
        // Counts may be settled sooner than families are.
        let enough = 3 * state.model.spent() + FIRST_WORK;
        for turn in 0..families {
            for guide in &mut self.guides {
                let spent = state.model.spent();
                if spent >= enough {
                    return true;
                }
                let work = state.budget.family.min(enough - spent);
                if state.done() || state.spent() {
                    return false;
                }
                // Ties are not worth an integer program of each family.
                let target = state.target(Aim::Primary);
                let laid = guide.suggested(state, all, target, turn, work);
                state.offer(laid, 0, aim);
            }
        }
        true
    }

    /// Plans of any counts in all other ways.
    pub(super) fn of_any(&mut self, state: &mut State<'a>, tree: &mut Tree<'a>, all: &Counts) {
        let sought = Sought {
            counts: all.clone(),
            bound: 0,
            aim: Aim::Both,
        };
        for way in [Attempts::at_once, Attempts::at] {
            if !state.done() && !state.spent() {
                way(self, state, tree, &sought);
            }
        }
    }

    /// The cheapest ways to a plan of what is sought; whether one is found that
    /// weighs no more than its bound.
    pub(super) fn at_once(
        &mut self,
        state: &mut State<'a>,
        tree: &mut Tree<'a>,
        sought: &Sought,
    ) -> bool {
        sought.take(state, |state, target| {
            by_dive(state, tree, &sought.counts, target, 0)
        }) || self.by_families(state, sought, 0)
    }

    /// The other ways, to be tried after those; whether one finds such a plan.
    pub(super) fn at(
        &mut self,
        state: &mut State<'a>,
        tree: &mut Tree<'a>,
        sought: &Sought,
    ) -> bool {
        let (counts, stop) = (&sought.counts, state.stop);
        for turn in 0..3 {
            if state.spent() {
                return false;
            }
            let walks = tree.tight.as_ref();
            let walked = |target| walking::dive(walks?, counts, target, turn, stop);
            if sought.take(state, |_, target| walked(target))
                || turn > 0
                    && sought.take(state, |state, target| {
                        by_dive(state, tree, counts, target, turn)
                    })
            {
                return true;
            }
            for ring in &mut self.rings {
                if sought.take(state, |state, target| {
                    by_dive(state, ring, counts, target, turn)
                }) {
                    return true;
                }
            }
        }
        self.by_families(state, sought, 1)
            || (0..3).any(|turn| {
                sought.take(state, |state, target| {
                    tree.chain(state.rules, counts, target, turn, stop)
                })
            })
    }

    fn by_families(&mut self, state: &mut State<'a>, sought: &Sought, turn: usize) -> bool {
        self.guides.iter_mut().any(|guide| {
            sought.take(state, |state, target| match state.spent() {
                true => None,
                false => {
                    let work = state.budget.family;
                    guide.suggested(state, &sought.counts, target, turn, work)
                }
            })
        })
    }
}

/// A plan that is looked for.
pub(super) struct Sought {
    /// What it may have.
    pub counts: Counts,
    /// No plan of these counts weighs less.
    pub bound: i64,
    /// What is minimised.
    pub aim: Aim,
}

impl Sought {
    /// Takes the plan that a way finds below the present target; whether it weighs
    /// no more than the bound.
    fn take<'a>(
        &self,
        state: &mut State<'a>,
        way: impl FnOnce(&State<'a>, i64) -> Option<Laid>,
    ) -> bool {
        let laid = way(state, state.target(self.aim));
        state.offer(laid, self.bound, self.aim)
    }
}

/// A plan lighter than `target` from a tree's blocks put in order; the third turn
/// takes the integer program over the columns at hand.
fn by_dive(
    state: &State,
    tree: &mut Tree,
    counts: &Counts,
    target: i64,
    turn: u64,
) -> Option<Laid> {
    let answer = match turn {
        0 | 1 => tree.dive(counts, target, turn, state.stop),
        _ => tree.whole(counts, target, state.budget.whole, state.stop),
    }?;
    let boards = tree.master.boards();
    state.ordered(&tree.master.classes, &answer, &boards)
}
