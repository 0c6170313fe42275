//! Walks that take just so many pieces of each length.

use rustc_hash::FxHashSet;

use super::Walk;
use crate::joints::block::{Path, TooLarge};

impl Walk {
    /// A walk over courses of these materials that takes just so many pieces of
    /// each row; nothing when there is none.
    ///
    /// # Errors
    /// When more than `most` places are passed before that is known.
    pub fn of_pieces(
        &self,
        materials: &[u16],
        pieces: &[i64],
        most: usize,
    ) -> Result<Option<Path>, TooLarge> {
        let mut search = OfPieces {
            walk: self,
            materials,
            left: pieces.iter().map(|&n| n as i32).collect(),
            laid: Vec::new(),
            passed: FxHashSet::default(),
            most,
        };
        Ok(search.descend(None)?.then(|| {
            let laid = search.laid.iter();
            laid.map(|&p| self.patterns[usize::from(p)].joints.clone())
                .collect()
        }))
    }
}

/// A search for a walk of just so many pieces, depth first.
struct OfPieces<'a> {
    walk: &'a Walk,
    materials: &'a [u16],
    left: Vec<i32>,
    laid: Vec<u16>,
    /// States and what was left there, from where there is no way on.
    passed: FxHashSet<(u32, Box<[u16]>)>,
    most: usize,
}

impl OfPieces<'_> {
    fn descend(&mut self, state: Option<u32>) -> Result<bool, TooLarge> {
        if self.laid.len() == self.materials.len() {
            return Ok(self.left.iter().all(|&n| n == 0));
        }
        if let Some(state) = state {
            let left = self.left.iter().map(|&n| n as u16).collect();
            if !self.passed.insert((state, left)) {
                return Ok(false);
            }
        }
        if self.passed.len() > self.most {
            return Err(TooLarge);
        }
        let walk = self.walk;
        let next = match state {
            None => 0..walk.states.len(),
            Some(s) => walk.first[s as usize] as usize..walk.first[s as usize + 1] as usize,
        };
        for i in next {
            let to = state.map_or(i as u32, |_| walk.steps[i]);
            let patterns = &walk.states[to as usize];
            let news = match state {
                None => &patterns[..],
                Some(_) => &patterns[patterns.len() - 1..],
            };
            let before = self.laid.len();
            let fits = news.iter().all(|&p| self.take(p));
            if fits && self.descend(Some(to))? {
                return Ok(true);
            }
            while self.laid.len() > before {
                self.take_back();
            }
        }
        Ok(false)
    }

    /// Lays a course; whether there were pieces for it.
    fn take(&mut self, pattern: u16) -> bool {
        let rows = usize::from(self.materials[self.laid.len()]) * self.walk.lengths;
        self.laid.push(pattern);
        let lengths = &self.walk.patterns[usize::from(pattern)].lengths;
        let left = &mut self.left;
        lengths.iter().fold(true, |fits, &length| {
            let left = &mut left[rows + usize::from(length)];
            *left -= 1;
            fits && *left >= 0
        })
    }

    fn take_back(&mut self) {
        let pattern = self.laid.pop().expect("a course was laid");
        let rows = usize::from(self.materials[self.laid.len()]) * self.walk.lengths;
        for &length in &self.walk.patterns[usize::from(pattern)].lengths {
            self.left[rows + usize::from(length)] += 1;
        }
    }
}
