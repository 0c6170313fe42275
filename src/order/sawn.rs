//! What everything that is cut by the engine of bare cut lists has in common,
//! whether sticks of lumber or boards of fascia: the problem, and the lines of
//! what its answer buys.

use super::goods::line;
use super::{Group, Line, Needed, Trade};
use crate::job::Stock;
use crate::length::Length;
use crate::stock::{CutPlan, CutProblem, Demand, StockBoard};

/// Pieces to be cut from what is sold.
pub(super) fn problem(
    stock: &[Stock],
    pieces: Vec<Demand>,
    kerf: Length,
    end_trim: Length,
) -> CutProblem {
    let sold = stock.iter().map(|stock| StockBoard {
        length: stock.length,
        price: stock.price,
        on_hand: u64::from(stock.on_hand),
        available: stock.available.map(u64::from),
        bundle: u64::from(stock.bundle),
    });
    CutProblem {
        stock: sold.collect(),
        pieces,
        kerf,
        end_trim,
    }
}

/// What to buy, a line for each length under its name, longest first.
pub(super) fn lines(
    group: Group,
    unit: Trade,
    stock: &[Stock],
    plan: &CutPlan,
    name: impl Fn(&Stock) -> String,
) -> Vec<Line> {
    let mut lines: Vec<(Length, Line)> = Vec::new();
    for (place, sold) in stock.iter().enumerate() {
        let alike = plan.boards.iter().filter(|board| board.stock == place);
        let (mut used, mut on_hand) = (0, 0);
        for board in alike {
            used += board.count;
            on_hand += if board.on_hand { board.count } else { 0 };
        }
        if used == 0 {
            continue;
        }
        let needed = Needed::Count(used);
        let line = Line {
            on_hand,
            ..line(group, name(sold), unit, needed, plan.bought(place))
        };
        lines.push((sold.length, line.priced(sold.price)));
    }
    lines.sort_by_key(|(length, _)| -*length);
    lines.into_iter().map(|(_, line)| line).collect()
}
