//! What the columns of a relaxation are, what its solution uses of them, and what blocks
//! can hold by its prices.

use super::master::{Column, Master};
use crate::joints::{Path, Pieces};

impl Master<'_> {
    /// The boards among the columns.
    pub(crate) fn boards(&self) -> Vec<Column> {
        let boards = |c: &&Column| matches!(c, Column::Board(..));
        self.columns.iter().filter(boards).cloned().collect()
    }

    /// The boards and blocks among the columns.
    pub(crate) fn whole_columns(&self) -> Vec<Column> {
        let whole = |c: &&Column| matches!(c, Column::Board(..) | Column::Block(..));
        self.columns.iter().filter(whole).cloned().collect()
    }

    /// The columns in use and how much of each.
    pub(crate) fn used(&self) -> Vec<(&Column, f64)> {
        self.simplex
            .values()
            .into_iter()
            .map(|(j, x)| (&self.columns[j], x))
            .collect()
    }

    /// The blocks in use: their class, one way to cut them, and how much of each.
    pub(crate) fn used_blocks(&self) -> Vec<(usize, Path, f64)> {
        let used = self.used().into_iter();
        used.filter_map(|(column, x)| match column {
            Column::Block(q, path) => Some((*q, path.clone(), x)),
            _ => None,
        })
        .collect()
    }

    /// How far each support is paid for, those of the bounds left out.
    pub(crate) fn paid(&self) -> Vec<f64> {
        let supports = self.columns.iter().enumerate();
        let supports = supports.filter(|(_, column)| matches!(column, Column::Doubled));
        supports.map(|(j, _)| self.simplex.value(j)).collect()
    }

    /// Whether some block is left out for want of boards or ways.
    pub(crate) fn misses(&self) -> bool {
        self.used()
            .iter()
            .any(|(c, x)| matches!(c, Column::Missing) && *x > 1e-6)
    }

    /// The pieces that blocks of a plan lighter than `target` can hold.
    pub(crate) fn pieces(&self, target: i64) -> Pieces {
        let mut pieces = Pieces::none(&self.model.run);
        if let Some(prices) = &self.prices {
            let gap = prices.gap(target - 1);
            for (class, least) in self.classes.iter().zip(&prices.least) {
                let Some(block) = class.block() else { continue };
                let costs = class.costs(&prices.path, &prices.balances);
                block.mark(
                    &self.model.run,
                    &costs,
                    class.allowed.as_ref(),
                    least.saturating_add(gap),
                    &mut pieces,
                );
            }
        }
        pieces
    }
}
