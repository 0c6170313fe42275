//! What may lie beside what, by courses apart: the joints of each way to cut a course and
//! the places that they bar from the courses near it, as sets of bits.

use super::Pattern;
use crate::job::JointRules;
use crate::joints::run::{Place, Run};

/// Places in one number.
const BITS: usize = u64::BITS as usize;

/// Patterns by their joints and by what those bar.
pub(super) struct Beside {
    /// Numbers for each pattern.
    words: usize,
    joints: Vec<u64>,
    /// By courses apart less one.
    barred: Vec<Vec<u64>>,
}

impl Beside {
    pub(super) fn new(run: &Run, rules: &JointRules, patterns: &[Pattern]) -> Beside {
        let places = usize::from(run.end());
        let words = places / BITS + 1;
        let set = |of: &dyn Fn(&Pattern, Place) -> bool| {
            let mut bits = vec![0; words * patterns.len()];
            for (pattern, bits) in patterns.iter().zip(bits.chunks_mut(words)) {
                for place in (1..run.end()).filter(|&place| of(pattern, place)) {
                    bits[usize::from(place) / BITS] |= 1 << (usize::from(place) % BITS);
                }
            }
            bits
        };
        let memory = (rules.same_joist_after as usize).max(1);
        let barred = (1..=memory).map(|apart| {
            set(&|pattern, place| {
                let may = |&joint: &Place| run.compatible(rules, joint, place, apart);
                !pattern.joints.iter().all(may)
            })
        });
        Beside {
            words,
            joints: set(&|pattern, place| pattern.joints.contains(&place)),
            barred: barred.collect(),
        }
    }

    /// Whether two patterns may lie so many courses apart.
    pub(super) fn may(&self, a: usize, b: usize, apart: usize) -> bool {
        let barred = &self.barred[apart - 1][a * self.words..][..self.words];
        let joints = &self.joints[b * self.words..][..self.words];
        barred.iter().zip(joints).all(|(x, y)| x & y == 0)
    }

    /// What may lie beside what, by courses apart less one, then by both patterns.
    pub(super) fn fits(&self) -> Vec<Vec<bool>> {
        let count = self.joints.len() / self.words;
        let fits = (1..=self.barred.len()).map(|apart| {
            let pairs = (0..count).flat_map(|a| (0..count).map(move |b| (a, b)));
            pairs.map(|(a, b)| self.may(a, b, apart)).collect()
        });
        fits.collect()
    }

    /// The same of groups: whether any of one may lie beside any of another.
    pub(super) fn fits_any(&self, groups: &[Vec<u16>]) -> Vec<Vec<bool>> {
        let fits = (1..=self.barred.len()).map(|apart| {
            let pairs = groups
                .iter()
                .flat_map(|a| groups.iter().map(move |b| (a, b)));
            let fit = |(a, b): (&Vec<u16>, &Vec<u16>)| {
                let mut pairs = a.iter().flat_map(|a| b.iter().map(move |b| (a, b)));
                pairs.any(|(&a, &b)| self.may(usize::from(a), usize::from(b), apart))
            };
            pairs.map(fit).collect()
        });
        fits.collect()
    }
}
