//! The integer program over the columns that a relaxation has at hand.

use std::sync::Arc;

use super::finite::{self, Answer};
use super::listing::{Listed, way};
use super::master::{Column, Master};
use crate::program::Columns;
use crate::program::branch::{self, Limits, Move, NO_GROUP, Program};

impl Master<'_> {
    /// Whole counts of the columns at hand that weigh `cutoff` at most.
    pub(crate) fn whole(
        &self,
        cutoff: i64,
        limits: Limits,
        stop: &dyn Fn() -> bool,
    ) -> Option<Answer> {
        let model = self.model;
        // What bundles leave over is not among these columns.
        if model.kinds.iter().any(|kind| kind.bundle > 1) {
            return None;
        }
        let mut columns = Columns::new();
        let mut listed = Vec::new();
        let mut group = Vec::new();
        let mut sums: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.kinds.len() + 1];
        let mut singles = Vec::new();
        let mut moves = Vec::new();
        for (j, column) in self.columns.iter().enumerate() {
            let all = self.simplex.columns();
            let kind = match column {
                Column::Missing => continue,
                Column::Listed(_) => NO_GROUP,
                Column::Doubled => 0,
                Column::Board(k, _) => 1 + *k as u32,
                Column::Block(q, _) => 1 + (model.kinds.len() + q) as u32,
            };
            let at = columns.push(all.cost(j), all.entries(j).map(|(r, v)| (r as u32, v))) as u32;
            match column {
                Column::Board(k, _) => sums[*k].push((at, 1)),
                Column::Block(_, path) => {
                    let joints: usize = path.iter().map(Vec::len).sum();
                    if joints > 0 {
                        sums[model.kinds.len()].push((at, joints as i32));
                    }
                }
                Column::Doubled => singles.push(vec![(at, 1)]),
                Column::Listed(Listed::CutDown(from, to)) => moves.push(Move {
                    column: at,
                    from: u32::from(*from),
                    to: u32::from(*to),
                }),
                Column::Missing | Column::Listed(_) => {}
            }
            listed.push(column.clone());
            group.push(kind);
        }
        sums.extend(singles);
        let pieces = model.materials.len() * (model.run.joints.len() + 1);
        // A piece is cut down once for each length at most.
        let moved = pieces as i64 * moves.len() as i64;
        let program = Program {
            columns: Arc::new(columns),
            at_least: self.rows.at_least.clone(),
            group,
            sums,
            most_columns: (2 * pieces + model.run.joints.len()) as i64 + moved,
            moves,
            way: way(model),
        };
        let found = branch::solve(&program, cutoff, &|b| model.lift(b), limits, stop);
        model.branched(found.work);
        found.best.map(|best| finite::answer(best, &listed))
    }
}
