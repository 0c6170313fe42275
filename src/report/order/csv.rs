//! An order as rows that a yard can read into its own lists.

use crate::job::Job;
use crate::order::{Needed, Order};
use crate::report::csv::{Sheet, length};

/// The order's lines as CSV; a price that is not known is left empty.
pub fn csv(job: &Job, order: &Order) -> String {
    let mut sheet = Sheet::new(&[
        "group",
        "item",
        "unit",
        "pack",
        "needed",
        "count",
        "price_each",
        "price",
        "on_hand",
        "delivery",
        "pack_weight",
    ]);
    for line in &order.lines {
        let needed = match line.needed {
            Needed::Count(count) => count.to_string(),
            Needed::Length(needed) => length(needed, job.unit),
            Needed::Volume(needed) => needed.decimal(job.unit),
        };
        let money = |amount: Option<crate::money::Money>| {
            amount.map_or(String::new(), |amount| amount.decimal())
        };
        let mut deliveries = order.deliveries.iter();
        let delivery = deliveries
            .find(|delivery| delivery.groups.contains(&line.group))
            .map(|delivery| &delivery.name);
        sheet.row([
            line.group.name().to_string(),
            line.item.clone(),
            line.unit.name().to_string(),
            line.unit
                .pack()
                .map_or(String::new(), |pieces| pieces.to_string()),
            needed,
            line.count.to_string(),
            money(line.price_each),
            money(line.price),
            line.on_hand.to_string(),
            delivery.cloned().unwrap_or_default(),
            line.unit.weight().map_or(String::new(), |w| w.sold()),
        ]);
    }
    sheet.finish()
}
