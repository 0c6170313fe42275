//! Goods added to the order by hand, listed once in their group and no dearer
//! than can be counted; and other choices for the deck, each by a name of its
//! own. Whether a choice makes a job is found when it is made.

use crate::job::document::{Document, ItemTable};
use crate::job::items::{Item, SoldBy};
use crate::job::model::Alternative;
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

/// Other choices for the same deck; there may be none.
pub fn alternatives(document: &Document, reading: &mut Reading) -> Option<Vec<Alternative>> {
    let tables = match &document.alternative {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    for (number, (table, _)) in tables.iter().enumerate() {
        let Some(name) = table.name.get() else {
            continue;
        };
        let mut before = tables[..number].iter().map(|(other, _)| other);
        let same = before.find(|other| {
            let other = other.name.get();
            other.is_some_and(|other| other.is_same(&name.0))
        });
        if let Some(first) = same {
            let message = format!("two alternatives are called \"{}\"", name.0);
            reading
                .error(table.name.place(), message, "give each a name of its own")
                .also(first.name.place(), "the first one");
        }
    }
    let alternatives = tables.iter().map(|(table, _)| {
        Some(Alternative {
            name: table.name.get()?.0.clone(),
            sets: table.set.get()?.0.clone(),
        })
    });
    alternatives.collect()
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
