//! Goods added to the order by hand: an item is listed once in its group, and
//! comes to no more than can be counted.

use crate::job::document::{Document, ItemTable};
use crate::job::items::{Item, SoldBy};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::money::Money;

/// All such items of the job; there may be none.
pub fn items(document: &Document, reading: &mut Reading) -> Option<Vec<Item>> {
    let tables = match &document.item {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    for (number, (table, _)) in tables.iter().enumerate() {
        duplicate(&tables[..number], table, reading);
    }
    let items: Vec<Option<Item>> = tables
        .iter()
        .map(|(table, _)| item(table, reading))
        .collect();
    items.into_iter().collect()
}

fn item(table: &ItemTable, reading: &mut Reading) -> Option<Item> {
    if let (Some(count), Some(price)) = (table.count.get(), table.price.get())
        && price.0 * i64::from(count.0) > Money::LIMIT
    {
        reading
            .error(
                table.price.place(),
                "these goods come to more than a thousand million",
                "look for a digit too many in the price or the count",
            )
            .also(table.count.place(), "so many of them");
        return None;
    }
    Some(Item {
        group: table.group.get()?.0,
        item: table.item.get()?.0.clone(),
        count: table.count.get()?.0,
        unit: table.unit.or(SoldBy::PIECE)?,
        price: table.price.option()?.map(|price| price.0),
    })
}

/// A caution for goods that the same group has already, in the same unit.
fn duplicate(before: &[(ItemTable, Place)], table: &ItemTable, reading: &mut Reading) {
    let (Some(group), Some(item)) = (table.group.get(), table.item.get()) else {
        return;
    };
    let same = before.iter().find(|(other, _)| {
        let named = other.item.get().is_some_and(|other| other.is_same(&item.0));
        named && other.group.get() == Some(group) && other.unit.get() == table.unit.get()
    });
    let Some((first, _)) = same else { return };
    let message = format!("\"{}\" is there twice", item.0);
    let help = "both are ordered; if that is not meant, take one out";
    reading
        .caution(table.item.place(), message, help)
        .also(first.item.place(), "the first one");
}
