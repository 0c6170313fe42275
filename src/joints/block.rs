//! Neighbouring courses cut together: all ways to cut a block of one to a few
//! courses so that their joints keep the stagger, as paths through one small
//! graph. A path's cost is the sum of what its pieces and joints cost, so the
//! cheapest block is a shortest path and nothing is enumerated.
//!
//! A state is the last joint of each course of the block; the course farthest
//! behind always moves next. A new joint then need only be compared with the
//! other courses' last ones: their earlier ones lie farther away than those.

use rustc_hash::FxHashMap;

use super::run::{Place, Run};
use crate::job::JointRules;

/// One step of a path: a course takes its next piece.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub(super) to: u32,
    /// What it takes, by its place among the block's takings.
    pub(super) taking: u32,
}

/// What a step takes, which many others take too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Taking {
    /// The row of the piece: the course's material and the piece's length.
    pub(super) row: u16,
    /// The joint at the piece's far end; 0 at the run's end.
    pub(super) joint: Place,
    /// The course of the block that moves, the first of those that lie alike.
    pub(super) course: u16,
    /// How many courses lie alike.
    pub(super) times: u16,
}

/// The ways to cut a block of neighbouring courses.
#[derive(Debug, Clone)]
pub struct Block {
    /// How many courses.
    pub courses: usize,
    /// For courses that lie alike, the materials of each lot of them: what is a
    /// row of the graph is then one of all materials of its lot.
    pub(super) alike: Option<Alike>,
    /// Steps by the node they start from; nodes are numbered so that steps run
    /// from lower to higher ones and the goal is the last.
    pub(super) steps: Vec<Step>,
    /// What steps take, each once.
    pub(super) takings: Vec<Taking>,
    pub(super) first: Vec<u32>,
}

/// Courses that lie alike, in lots.
#[derive(Debug, Clone)]
pub(super) struct Alike {
    /// The materials of each lot's courses.
    pub(super) lots: Vec<Vec<u16>>,
    /// Lengths of pieces there are.
    pub(super) lengths: usize,
}

/// What a block's graph is made for.
pub(super) struct Plan<'a> {
    /// The material of each course that moves by itself.
    pub(super) materials: &'a [u16],
    /// The first of the courses that lie like each, and how many do.
    pub(super) lots: &'a [(u16, u16)],
    /// How near two of them come at the nearest.
    pub(super) apart: &'a dyn Fn(usize, usize) -> usize,
    /// Courses that are not to have any joint.
    pub(super) bare: &'a dyn Fn(usize) -> bool,
    /// The pieces that may be used; all when absent.
    pub(super) only: Option<&'a Pieces>,
}

/// What pieces and joints cost on a path.
#[derive(Debug, Clone)]
pub struct PathCosts {
    /// Of a piece, by row.
    pub row: Vec<i64>,
    /// Of a joint, by place.
    pub joint: Vec<i64>,
    /// What a joint costs besides, by course of the block (the first of those
    /// that lie alike), then by place; empty where courses are not told apart.
    pub course: Vec<Vec<i64>>,
}

impl PathCosts {
    /// What pieces cost by row where joints cost nothing.
    pub fn of_pieces(row: Vec<i64>, run: &Run) -> PathCosts {
        PathCosts {
            row,
            joint: vec![0; run.joints.len() + 1],
            course: Vec::new(),
        }
    }
}

/// One way to cut a block: the joints of each course, ascending.
pub type Path = Vec<Vec<Place>>;

/// What a block takes, whatever the order of its pieces.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Takes {
    /// Rows of its pieces, ascending, one entry a piece.
    pub rows: Vec<u16>,
    /// Joint places, ascending, if they matter.
    pub joints: Vec<Place>,
}

/// Courses of one block; the more there are, the larger every state.
const MOST_COURSES: usize = 16;

/// Some of the pieces of a run, each by its length and the place where it ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pieces {
    places: usize,
    has: Vec<bool>,
}

impl Pieces {
    /// None of the pieces of a run.
    pub fn none(run: &Run) -> Pieces {
        let places = run.end() as usize + 1;
        Pieces {
            places,
            has: vec![false; places * run.lengths.len()],
        }
    }

    /// All pieces of a run.
    pub fn all(run: &Run) -> Pieces {
        let mut pieces = Pieces::none(run);
        for from in 0..run.end() {
            for to in run.reach(from) {
                if let Some(length) = run.piece(from, to) {
                    pieces.add(length, to);
                }
            }
        }
        pieces
    }

    /// Adds a piece.
    pub fn add(&mut self, length: u16, to: Place) {
        self.has[length as usize * self.places + to as usize] = true;
    }

    /// Whether a piece is among them.
    pub fn has(&self, length: u16, to: Place) -> bool {
        self.has[length as usize * self.places + to as usize]
    }

    /// Leaves only those that are among others too.
    pub fn keep(&mut self, others: &Pieces) {
        for (has, other) in self.has.iter_mut().zip(&others.has) {
            *has &= other;
        }
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.has.iter().filter(|h| **h).count()
    }
}

/// Which joints each course of a block may have: by course, then by place.
pub type Allowed = Vec<Vec<bool>>;

/// There would be too many pieces, or ways to cut a block into them, to be of use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooLarge;

impl Block {
    /// All ways to cut a block of courses of the given materials; each material
    /// has its own rows, `material * lengths + length`. Nothing when there is
    /// no way.
    ///
    /// # Errors
    /// When the graph would pass `most` steps, or the courses are too many.
    pub fn new(
        run: &Run,
        rules: &JointRules,
        materials: &[u16],
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        Block::among(run, rules, materials, None, false, most)
    }

    /// The same of only some pieces of the run, if given; a `cyclic` block may
    /// lie again and again, its first course beside its last.
    ///
    /// # Errors
    /// When the graph would pass `most` steps, or the courses are too many.
    pub fn among(
        run: &Run,
        rules: &JointRules,
        materials: &[u16],
        only: Option<&Pieces>,
        cyclic: bool,
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        let lots: Vec<(u16, u16)> = (0..materials.len() as u16).map(|at| (at, 1)).collect();
        let courses = materials.len();
        let plan = Plan {
            materials,
            lots: &lots,
            apart: &|a: usize, b: usize| match a.abs_diff(b) {
                apart if cyclic => apart.min(courses - apart),
                apart => apart,
            },
            bare: &|_| false,
            only,
        };
        Block::of(run, rules, &plan, most)
    }

    /// The graph of courses that may each stand for several.
    pub(super) fn of(
        run: &Run,
        rules: &JointRules,
        plan: &Plan,
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        let materials = plan.materials;
        let courses = materials.len();
        if courses > MOST_COURSES {
            return Err(TooLarge);
        }
        let end = run.end();
        let lengths = run.lengths.len() as u16;
        let bar = |a: Place, b: Place, apart: usize| {
            run.is_joint(a) && run.is_joint(b) && !run.compatible(rules, a, b, apart)
        };
        // A state is the place that each course has come to, packed into a number.
        let bits = (Place::BITS - end.leading_zeros()) as usize;
        if courses * bits > u128::BITS as usize {
            return Err(TooLarge);
        }
        let mask = Place::MAX >> (Place::BITS as usize - bits);
        let shift = |course: usize| course * bits;
        let goal = (0..courses).fold(0, |goal, c| goal | u128::from(end) << shift(c));
        let mut index: FxHashMap<u128, u32> = FxHashMap::default();
        index.insert(0, 0);
        // States by the sum of their places, to which every step adds.
        let mut layers: Vec<Vec<(u128, u32)>> = vec![Vec::new(); courses * usize::from(end) + 1];
        layers[0].push((0, 0));
        let mut steps: Vec<(u32, Step)> = Vec::new();
        let mut takings: Vec<Taking> = Vec::new();
        let mut known_takings: FxHashMap<Taking, u32> = FxHashMap::default();
        let mut state = vec![0 as Place; courses];
        for sum in 0..layers.len() {
            for (packed, from) in std::mem::take(&mut layers[sum]) {
                if packed == goal {
                    continue;
                }
                for (course, place) in state.iter_mut().enumerate() {
                    *place = (packed >> shift(course)) as Place & mask;
                }
                let course = (0..courses)
                    .min_by_key(|&c| state[c])
                    .expect("a block has courses");
                let at = state[course];
                for to in run.reach(at) {
                    let Some(length) = run.piece(at, to) else {
                        continue;
                    };
                    if plan.only.is_some_and(|only| !only.has(length, to)) {
                        continue;
                    }
                    let barred = to != end && (plan.bare)(course)
                        || (0..courses).any(|other| {
                            other != course && bar(to, state[other], (plan.apart)(other, course))
                        });
                    if barred {
                        continue;
                    }
                    let next = packed + (u128::from(to - at) << shift(course));
                    let fresh = index.len() as u32;
                    let known = *index.entry(next).or_insert(fresh);
                    if known == fresh {
                        layers[sum + usize::from(to - at)].push((next, fresh));
                    }
                    let taking = Taking {
                        row: materials[course] * lengths + length,
                        joint: if to == end { 0 } else { to },
                        course: plan.lots[course].0,
                        times: plan.lots[course].1,
                    };
                    let taking = *known_takings.entry(taking).or_insert_with(|| {
                        takings.push(taking);
                        takings.len() as u32 - 1
                    });
                    steps.push((from, Step { to: known, taking }));
                    if steps.len() > most {
                        return Err(TooLarge);
                    }
                }
            }
        }
        let Some(&goal) = index.get(&goal) else {
            return Ok(None);
        };
        let all = plan.lots.iter().map(|lot| usize::from(lot.1)).sum();
        let useful = Block::keep_useful(all, index.len(), goal, steps, takings);
        Ok(Some(useful))
    }

    /// Keeps what lies on a way from start to goal. Steps come in order of
    /// their start's sum, so walking them backwards finds what leads on.
    fn keep_useful(
        courses: usize,
        nodes: usize,
        goal: u32,
        steps: Vec<(u32, Step)>,
        takings: Vec<Taking>,
    ) -> Block {
        let mut useful = vec![false; nodes];
        useful[goal as usize] = true;
        for (from, step) in steps.iter().rev() {
            useful[*from as usize] |= useful[step.to as usize];
        }
        let mut number = vec![u32::MAX; nodes];
        let mut count = 0;
        for (from, _) in &steps {
            if useful[*from as usize] && number[*from as usize] == u32::MAX {
                number[*from as usize] = count;
                count += 1;
            }
        }
        number[goal as usize] = count;
        let mut first = vec![0u32; count as usize + 2];
        let mut kept = Vec::new();
        for (from, step) in steps {
            if useful[from as usize] && useful[step.to as usize] {
                first[number[from as usize] as usize + 1] += 1;
                kept.push(Step {
                    to: number[step.to as usize],
                    ..step
                });
            }
        }
        for i in 1..first.len() {
            first[i] += first[i - 1];
        }
        Block {
            courses,
            alike: None,
            steps: kept,
            takings,
            first,
        }
    }

    /// What a step takes.
    pub(super) fn taking(&self, step: Step) -> &Taking {
        &self.takings[step.taking as usize]
    }

    /// How many steps there are in all.
    pub fn size(&self) -> usize {
        self.steps.len()
    }

    pub(super) fn goal(&self) -> usize {
        self.first.len() - 2
    }

    pub(super) fn range(&self, node: usize) -> std::ops::Range<usize> {
        self.first[node] as usize..self.first[node + 1] as usize
    }
}

impl Takes {
    /// What a path takes when its courses are of the given materials.
    pub fn of(path: &Path, run: &Run, materials: &[u16], by_joint: bool) -> Takes {
        let lengths = run.lengths.len() as u16;
        let mut takes = Takes::default();
        for (joints, &material) in path.iter().zip(materials) {
            let mut at = 0;
            for &to in joints.iter().chain([&run.end()]) {
                let length = run.piece(at, to).expect("a path is made of pieces");
                takes.rows.push(material * lengths + length);
                at = to;
            }
            if by_joint {
                takes.joints.extend(joints);
            }
        }
        takes.rows.sort_unstable();
        takes.joints.sort_unstable();
        takes
    }
}
