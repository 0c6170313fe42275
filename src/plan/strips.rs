//! Boards split into two strips, and the best of them at some prices.

use super::master::Master;
use crate::stock::Pattern;

impl Master<'_> {
    /// The best split board of each kind and split: kind, strips, worth.
    pub(super) fn best_splits(&self, piece: &[i64]) -> Vec<(usize, Pattern, Pattern, i64)> {
        let mut found = Vec::new();
        let per_material: Vec<Option<Vec<(Pattern, i64)>>> = self
            .strips
            .iter()
            .enumerate()
            .map(|(m, strip)| {
                let strip = strip.as_ref()?;
                let rows = self.model.rows_of(m as u16);
                let first = rows.start as u16;
                Some(
                    strip
                        .best(&piece[rows])
                        .into_iter()
                        .map(|b| {
                            let moved = b.pattern.iter().map(|&(r, n)| (r + first, n)).collect();
                            (moved, b.at_most)
                        })
                        .collect(),
                )
            })
            .collect();
        for &(a, b) in &self.model.splits {
            let (Some(one), Some(two)) = (&per_material[a as usize], &per_material[b as usize])
            else {
                continue;
            };
            for k in 0..self.model.kinds.len() {
                found.push((k, one[k].0.clone(), two[k].0.clone(), one[k].1 + two[k].1));
            }
        }
        found
    }
}
