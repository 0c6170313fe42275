//! The integer program over the steps of the blocks' graphs, where blocks are too
//! many to be listed: blocks are a flow through their graph, boards the patterns
//! within the gap. It knows counts and nothing of the order that blocks lie in.

use rustc_hash::FxHashMap;

use super::class::Class;
use super::cutdown::CutDown;
use super::finite::{self, Answer, Closed, Work};
use super::listing::Listing;
use super::master::{Column, Master};
use super::model::Model;
use super::prices::Prices;
use super::round;
use crate::joints::{Link, Path};
use crate::program::branch::{Answer as Found, Program};
use crate::program::widen::widen;

/// Nodes of the graphs beyond which the program is too large.
const MOST_NODES: usize = 700;

/// What part of the way to the best plan is looked at first.
const NEAR: i64 = 16;

/// Looks for whole counts that weigh less than `best`, or the proof that there
/// are none, over the blocks of a solved relaxation.
pub(super) fn close(master: &Master, best: i64, work: Work, stop: &dyn Fn() -> bool) -> Closed {
    let model = master.model;
    let nothing = Closed {
        better: None,
        bound: 0,
    };
    let Some(prices) = &master.prices else {
        return nothing;
    };
    if master.rows.support.is_some() {
        return nothing;
    }
    let mut kept = None;
    let lift = |bound| model.lift(bound);
    let bound = lift(prices.bound()).min(best);
    // Near the bound first, where few columns are.
    let near = bound + (best - bound) / NEAR;
    let mut within = |bound, best| {
        let mut list = |cutoff| list(master, prices, &mut kept, cutoff, work.columns);
        widen(bound, best, &lift, work.limits, stop, &mut list)
    };
    let mut widened = within(bound, near);
    if widened.better.is_none() && widened.bound >= near {
        let spent = widened.work;
        widened = within(widened.bound, best);
        widened.work += spent;
    }
    model.branched(widened.work);
    let answer = |(found, steps): (Found, Steps)| answer(model, &master.classes, found, &steps);
    Closed {
        better: widened.better.map(answer),
        bound: widened.bound,
    }
}

/// The answer of a program over the steps of some classes and boards. As many blocks
/// as there are of each class are made of its steps; those that lead to no block are
/// left out.
pub(super) fn answer(
    model: &Model,
    classes: &[Class],
    (weight, counts): Found,
    steps: &Steps,
) -> Answer {
    let first = steps.links.len();
    let mut links: Vec<Vec<(Link, i64)>> = vec![Vec::new(); classes.len()];
    let mut others = Vec::new();
    for (j, n) in counts {
        match steps.links.get(j) {
            Some(&(q, link)) => links[q].push((link, n)),
            None => others.push((j - first, n)),
        }
    }
    let blocks = classes.iter().zip(&links).enumerate();
    let blocks = blocks.flat_map(|(q, (class, links))| {
        let paths = paths(class, links).into_iter();
        paths.map(move |(path, n)| (q, path, n))
    });
    let blocks: Vec<(usize, Path, i64)> = blocks.collect();
    let boards = finite::answer((weight, others), &steps.boards).boards;
    let mut answer = Answer {
        weight: finite::joints(&blocks) * model.weights.joint + round::weight(model, &boards),
        blocks,
        boards,
    };
    answer.weight += answer.doubled(model);
    answer
}

/// As many blocks of a class as there are, of its steps.
fn paths(class: &Class, links: &[(Link, i64)]) -> Vec<(Path, i64)> {
    let Some(block) = class.block() else {
        return Vec::new();
    };
    let mut left = class.count;
    let paths = block.of_links(links).into_iter();
    paths
        .map(|(path, n)| {
            let n = n.min(left);
            left -= n;
            (path, n)
        })
        .filter(|block| block.1 > 0)
        .collect()
}

/// What the columns of a program stand for: steps of classes first, then boards.
pub(super) struct Steps {
    pub links: Vec<(usize, Link)>,
    pub boards: Vec<Column>,
}

fn list(
    master: &Master,
    prices: &Prices,
    kept: &mut Option<CutDown>,
    cutoff: i64,
    most: usize,
) -> Option<(Program, Steps)> {
    let (model, rows) = (master.model, &master.rows);
    let gap = prices.gap(cutoff);
    let mut listing = Listing::new(master);
    let mut links = Vec::new();
    let mut joints: Vec<(u32, i32)> = Vec::new();
    let mut pieces: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.rows];
    let mut nodes = 0;
    for (q, class) in master.classes.iter().enumerate() {
        let block = class.block()?;
        let costs = class.costs(&prices.path, &prices.balances);
        let mut row_of: FxHashMap<u32, u32> = FxHashMap::default();
        let most_cost = prices.least[q].saturating_add(gap);
        for link in block.links(&costs, class.allowed.as_ref(), most_cost)? {
            let mut entries = rows.link(q, &link, link.to == block.last());
            // A node is entered at least as often as it is left.
            let inner = [(link.from, -1), (link.to, 1)].into_iter();
            for (node, sign) in inner.filter(|&(node, _)| node != 0 && node != block.last()) {
                let row = *row_of.entry(node).or_insert_with(|| {
                    listing.at_least.push(0);
                    listing.at_least.len() as u32 - 1
                });
                entries.push((row, sign));
            }
            let joint = i64::from(link.joint != 0);
            let j = listing.push(joint * model.weights.joint, entries, 1 + q as u32);
            if joint > 0 {
                joints.push((j, 1));
            }
            pieces[usize::from(link.row)].push((j, 1));
            links.push((q, link));
        }
        nodes += row_of.len();
        if nodes > MOST_NODES || links.len() > most {
            return None;
        }
    }
    listing.boards(master, prices, kept, cutoff, most)?;
    let sums = [joints].into_iter().chain(pieces);
    let sums = sums.filter(|sum| !sum.is_empty());
    let (program, boards) = listing.program(master, cutoff, model.most_pieces, sums);
    Some((program, Steps { links, boards }))
}
