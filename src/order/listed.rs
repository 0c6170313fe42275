//! Prices of a yard's list put to the order's lines by the items' names. What
//! is bought was chosen before; a list has only the last word on the price.

use itertools::Itertools;

use super::Line;
use crate::caution::Caution;
use crate::job::{Job, SoldBy};

/// Prices the lines that the job's price list has, and says which of the others
/// it has by another unit or pack.
pub(super) fn prices(job: &Job, lines: &mut [Line]) -> Vec<Caution> {
    let mut cautions = Vec::new();
    for line in lines {
        let unit = SoldBy::new(line.unit.name(), line.unit.plural());
        let price = job
            .prices
            .price(&line.item, unit, line.unit.pack(), line.unit.weight());
        if price.is_some() {
            *line = line.clone().priced(price);
            continue;
        }
        let otherwise = job.prices.sold(&line.item);
        if !otherwise.is_empty() {
            let sold = match (line.unit.weight(), line.unit.pack()) {
                (Some(weight), _) => format!("in boxes of {}", weight.sold()),
                (None, Some(pieces)) => format!("in packs of {pieces}"),
                (None, None) => format!("by the {}", line.unit.name()),
            };
            cautions.push(Caution::new(
                format!(
                    "the price list has {} {}, and it is ordered {sold}",
                    line.item,
                    otherwise.iter().join(" and ")
                ),
                "ask for a price of what is ordered, or change the job's pack to what is sold",
            ));
        }
    }
    cautions
}
