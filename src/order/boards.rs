//! Boards to buy: those of the plan by stock, spares apart, the area they
//! cover, and the rule of thumb to compare with.

use std::collections::BTreeMap;

use super::{Area, Group, Line, Needed, RuleOfThumb, Trade};
use crate::caution::Caution;
use crate::deck::Surface;
use crate::job::{Job, Spare, Stock};
use crate::length::Length;
use crate::plan::Plan;

/// How many boards of one stock a plan uses.
#[derive(Debug, Clone, Copy, Default)]
struct Used {
    bought: u64,
    on_hand: u64,
    /// Bought and not used, for the sake of whole bundles.
    left_over: u64,
}

fn used(job: &Job, plan: &Plan) -> Vec<Used> {
    let mut used = vec![Used::default(); job.stock.len()];
    for board in &plan.boards {
        match board.on_hand {
            true => used[board.stock].on_hand += 1,
            false => used[board.stock].bought += 1,
        }
    }
    for left in &plan.left_over {
        used[left.stock].left_over += u64::from(left.count);
    }
    used
}

fn line(job: &Job, stock: &Stock, spare: bool) -> Line {
    let called = stock.called(&job.board.kind(job.unit), job.unit);
    let item = format!("{called}{}", if spare { ", spare" } else { "" });
    Line {
        group: Group::Boards,
        item,
        unit: Trade::Board,
        needed: Needed::Count(0),
        on_hand: 0,
        count: 0,
        price_each: None,
        price: None,
    }
}

/// The plan's boards, a line for each stock used, longest first.
pub(super) fn bought(job: &Job, plan: &Plan) -> Vec<Line> {
    let mut lines: Vec<(Length, Line)> = job
        .stock
        .iter()
        .zip(used(job, plan))
        .filter(|(_, used)| used.bought + used.on_hand > 0)
        .map(|(stock, used)| {
            let line = Line {
                needed: Needed::Count(used.bought + used.on_hand),
                on_hand: used.on_hand,
                count: used.bought + used.left_over,
                ..line(job, stock, false)
            };
            (stock.length, line.priced(stock.price))
        })
        .collect();
    lines.sort_by_key(|(length, _)| -*length);
    lines.into_iter().map(|(_, line)| line).collect()
}

/// Spare boards of each length that is bought, as far as the yard has them.
pub(super) fn spares(job: &Job, plan: &Plan) -> (Vec<Line>, Vec<Caution>) {
    let used = used(job, plan);
    // Two stocks may have one length (a cheaper lot that is limited): spares
    // are for the length, and taken where they are cheapest.
    let mut lengths: BTreeMap<Length, Vec<usize>> = BTreeMap::new();
    for (k, stock) in job.stock.iter().enumerate() {
        lengths.entry(stock.length).or_default().push(k);
    }
    let mut lines = Vec::new();
    let mut cautions = Vec::new();
    for (length, mut kinds) in lengths.into_iter().rev() {
        let bought: u64 = kinds.iter().map(|&k| used[k].bought).sum();
        // What bundles leave over serves as spares.
        let left_over: u64 = kinds.iter().map(|&k| used[k].left_over).sum();
        let mut wanted = spare_of(job.order.spare, bought).saturating_sub(left_over);
        kinds.sort_by_key(|&k| job.stock[k].price);
        for k in kinds {
            let stock = &job.stock[k];
            let taken = used[k].bought + used[k].left_over;
            let left = match (stock.price, stock.most_bought()) {
                (None, _) => 0,
                (_, Some(most)) => u64::from(most).saturating_sub(taken),
                (_, None) => u64::MAX,
            };
            let bundle = u64::from(stock.bundle.max(1));
            let count = wanted.next_multiple_of(bundle).min(left);
            if count > 0 {
                let line = Line {
                    count,
                    ..line(job, stock, true)
                };
                lines.push(line.priced(stock.price));
                wanted = wanted.saturating_sub(count);
            }
        }
        if wanted > 0 {
            let length = length.show(job.unit);
            cautions.push(Caution::new(
                format!(
                    "the yard has {wanted} too few {length} boards for the spares this job asks for"
                ),
                "ask when more come in, or keep the longest offcuts as spares",
            ));
        }
    }
    (lines, cautions)
}

/// How many spares go with so many boards of one length.
fn spare_of(spare: Spare, bought: u64) -> u64 {
    match spare {
        _ if bought == 0 => 0,
        Spare::Boards(count) => u64::from(count),
        Spare::Culled(share) => {
            // Enough that the share may be thrown out and the need still be met.
            let kept = u64::from(10_000_u32.saturating_sub(share.0).max(1));
            (bought * 10_000).div_ceil(kept) - bought
        }
    }
}

/// Area laid and area of the boards used.
pub(super) fn area(job: &Job, plan: &Plan) -> Area {
    let square = |a: Length, b: Length| i128::from(a.units()) * i128::from(b.units());
    let laid = plan.courses.iter().map(|course| {
        let pieces = course.runs.iter().flat_map(|run| &run.pieces);
        square(
            pieces.map(|piece| piece.to - piece.from).sum(),
            course.width,
        )
    });
    let boards = plan.totals.bought;
    Area {
        laid: laid.sum(),
        other: others(job),
        bought: square(boards, job.board.face),
    }
}

/// The faces of all other pieces.
fn others(job: &Job) -> i128 {
    let each = job.extras.iter();
    let each = each.map(|extra| i128::from(extra.length.units()) * i128::from(extra.count));
    each.sum::<i128>() * i128::from(job.board.face.units())
}

/// The usual rule: the surface and all other pieces plus ten per cent, all in
/// the longest boards.
pub(super) fn rule_of_thumb(job: &Job, surface: &Surface) -> Option<RuleOfThumb> {
    let (stock, price_each) = job
        .stock
        .iter()
        .filter(|stock| stock.most_bought() != Some(0))
        .filter_map(|stock| Some((stock, stock.price?)))
        .max_by_key(|&(stock, price)| (stock.length, -price.cents()))?;
    let length = stock.length;
    let area = i128::from(surface.width.units()) * i128::from(surface.run().units());
    let area = area + others(job);
    let board = i128::from(job.board.face.units()) * i128::from(length.units());
    let boards = u64::try_from((11 * area + 10 * board - 1) / (10 * board)).ok()?;
    let boards = boards + stock.left_over(boards);
    Some(RuleOfThumb {
        length,
        boards,
        price_each,
        price: price_each * i64::try_from(boards).ok()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Percent;

    #[test]
    fn culling_is_a_divisor_not_a_surcharge() {
        // 20 boards needed, 15 in a hundred culled: 20 / 0.85 = 23.5, so 24.
        assert_eq!(spare_of(Spare::Culled(Percent(1500)), 20), 4);
        // 17 / 0.85 = 20 exactly.
        assert_eq!(spare_of(Spare::Culled(Percent(1500)), 17), 3);
        assert_eq!(spare_of(Spare::Culled(Percent(0)), 20), 0);
    }

    #[test]
    fn no_spares_of_a_length_that_is_not_bought() {
        assert_eq!(spare_of(Spare::Boards(2), 0), 0);
        assert_eq!(spare_of(Spare::Boards(2), 9), 2);
    }
}
