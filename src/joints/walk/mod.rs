//! A whole deck as a walk from course to course: where few ways to cut a course
//! are left, the courses laid last are a state, the next course a step, and the
//! cheapest way to lay all courses in order is a shortest walk of so many steps.

mod beside;
mod cheapest;
mod courses;
mod gathered;
mod near;
mod pieces;

use rustc_hash::FxHashMap;

use beside::Beside;
pub use courses::Slot;
pub use gathered::Gathered;
pub use near::{Near, Spot};

use super::block::{Pieces, TooLarge};
use super::run::{Place, Run};
use crate::job::JointRules;

/// A way to cut a course.
#[derive(Debug, Clone)]
struct Pattern {
    joints: Vec<Place>,
    /// Its pieces, by their lengths' places.
    lengths: Vec<u16>,
}

impl Pattern {
    /// The way to cut a course with some joints, if its pieces may lie there.
    fn of(run: &Run, joints: &[Place]) -> Option<Pattern> {
        let mut at = 0;
        let end = run.end();
        let lengths = joints.iter().chain([&end]).map(|&to| {
            let length = run.piece(at, to);
            at = to;
            length
        });
        Some(Pattern {
            lengths: lengths.collect::<Option<_>>()?,
            joints: joints.to_vec(),
        })
    }

    /// Its pieces in an order of their own.
    fn set(&self) -> Vec<u16> {
        let mut set = self.lengths.clone();
        set.sort_unstable();
        set
    }
}

/// The walks over some course patterns.
#[derive(Debug, Clone)]
pub struct Walk {
    patterns: Vec<Pattern>,
    lengths: usize,
    /// Courses that a state remembers.
    memory: usize,
    /// The patterns of each state, the one laid last at the end.
    states: Vec<Vec<u16>>,
    /// Steps by the state they start from: the state they lead to.
    first: Vec<u32>,
    steps: Vec<u32>,
}

/// Course patterns beyond which walks are of no use.
const MOST_PATTERNS: usize = 3_000;

impl Walk {
    /// The walks over the ways to cut a course of some pieces that blocks within
    /// some cost can hold; nothing if there is no way to go on from any.
    ///
    /// # Errors
    /// When there are more than `most` steps.
    pub fn within(
        run: &Run,
        rules: &JointRules,
        only: &Pieces,
        slots: &[Slot],
        most: usize,
    ) -> Result<Option<Walk>, TooLarge> {
        let patterns = courses::courses(run, rules, only, slots, MOST_PATTERNS)?;
        Walk::over(run, rules, patterns, most)
    }

    /// The walks over some ways to cut a course, given by their joints; nothing if
    /// there is no way to go on from any.
    ///
    /// # Errors
    /// When there are more than `most` steps.
    pub fn of(
        run: &Run,
        rules: &JointRules,
        courses: &[Vec<Place>],
        most: usize,
    ) -> Result<Option<Walk>, TooLarge> {
        let patterns = courses.iter().filter_map(|joints| Pattern::of(run, joints));
        Walk::over(run, rules, patterns.collect(), most)
    }

    fn over(
        run: &Run,
        rules: &JointRules,
        patterns: Vec<Pattern>,
        most: usize,
    ) -> Result<Option<Walk>, TooLarge> {
        let fits = Beside::new(run, rules, &patterns).fits();
        Walk::fitting(run, patterns, &fits, most)
    }

    /// The walks over patterns of which is known what may lie beside what, by courses
    /// apart less one.
    fn fitting(
        run: &Run,
        patterns: Vec<Pattern>,
        fits: &[Vec<bool>],
        most: usize,
    ) -> Result<Option<Walk>, TooLarge> {
        let count = patterns.len();
        let memory = fits.len();
        let may = |before: &[u16], next: u16| {
            before
                .iter()
                .rev()
                .zip(fits)
                .all(|(&b, fits)| fits[usize::from(b) * count + usize::from(next)])
        };
        let mut states: Vec<Vec<u16>> = (0..count as u16).map(|p| vec![p]).collect();
        for _ in 1..memory {
            let mut longer = Vec::new();
            for state in &states {
                for next in 0..count as u16 {
                    if may(state, next) {
                        let mut state = state.clone();
                        state.push(next);
                        longer.push(state);
                    }
                }
                if longer.len() > most {
                    return Err(TooLarge);
                }
            }
            states = longer;
        }
        let number: FxHashMap<&[u16], u32> = states
            .iter()
            .enumerate()
            .map(|(i, s)| (s.as_slice(), i as u32))
            .collect();
        let mut first = vec![0];
        let mut steps = Vec::new();
        let mut to = Vec::new();
        for state in &states {
            for next in 0..count as u16 {
                if may(state, next) {
                    to.clear();
                    to.extend_from_slice(&state[1..]);
                    to.push(next);
                    if let Some(&to) = number.get(to.as_slice()) {
                        steps.push(to);
                    }
                }
            }
            if steps.len() > most {
                return Err(TooLarge);
            }
            first.push(steps.len() as u32);
        }
        if steps.is_empty() {
            return Ok(None);
        }
        Ok(Some(Walk {
            patterns,
            lengths: run.lengths.len(),
            memory,
            states,
            first,
            steps,
        }))
    }

    /// The state of the courses laid last; nothing if no walk goes there.
    pub fn state(&self, laid: &[Vec<Place>]) -> Option<u32> {
        let last = laid.get(laid.len().checked_sub(self.memory)?..)?;
        let state: Option<Vec<u16>> = last
            .iter()
            .map(|joints| {
                let at = self.patterns.iter().position(|p| p.joints == *joints)?;
                Some(at as u16)
            })
            .collect();
        let state = state?;
        let at = self.states.iter().position(|s| *s == state)?;
        Some(at as u32)
    }

    /// Courses that a state remembers.
    pub fn memory(&self) -> usize {
        self.memory
    }

    /// The steps from a state: the states they lead to.
    fn steps(&self, from: usize) -> &[u32] {
        &self.steps[self.first[from] as usize..self.first[from + 1] as usize]
    }

    /// The pattern laid last.
    fn last(&self, state: usize) -> usize {
        usize::from(
            *self.states[state]
                .last()
                .expect("a state remembers courses"),
        )
    }

    /// How many steps there are in all.
    pub fn size(&self) -> usize {
        self.steps.len()
    }
}
