//! The boards: lengths, prices, and how many there are.

use crate::job::document::{Document, StockTable};
use crate::job::items::SoldBy;
use crate::job::model::{Stock, board_kind, called};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::job::values::{Count, PerFoot, PerMetre, Positive, Price, Words};
use crate::length::Length;
use crate::money::Money;

/// All boards of the job; there may be none.
pub fn stock(document: &Document, reading: &mut Reading) -> Option<Vec<Stock>> {
    let tables = match &document.stock {
        Entry::Absent => return Some(Vec::new()),
        entry => &entry.get()?.0,
    };
    let end_trim = document.cutting.fields().end_trim.get().map(|trim| trim.0);
    let face = document.board.fields().face.get().map(|face| face.0);
    let kind = face.map(|face| board_kind(face, reading.unit));
    boards(tables, kind, end_trim, "cutting", reading)
}

/// Boards of one cross-section in all their lengths, off whose ends so much is
/// trimmed by a field of the table named; `kind` is what price lists call them.
pub(super) fn boards(
    tables: &[(StockTable, Place)],
    kind: Option<String>,
    end_trim: Option<Length>,
    home: &str,
    reading: &mut Reading,
) -> Option<Vec<Stock>> {
    let mut whole = Some(Vec::with_capacity(tables.len()));
    for (table, heading) in tables {
        let offer = offer!("board", table).of(kind.clone());
        offer.trims(end_trim, home, reading);
        let read = offer.read(heading, reading);
        whole = whole.zip(read).map(|(mut read, one)| {
            read.push(one);
            read
        });
    }
    if let Some(stock) = &whole {
        called_alike(tables, stock, reading);
        never_bought(tables, stock, reading);
        broken_bundles(tables, stock, reading);
    }
    whole
}

/// What is sold by the board or the stick: how long, how dear, how many.
pub(super) struct Offer<'a> {
    /// What one is called: `board`, `stick`.
    pub one: &'static str,
    pub several: &'static str,
    /// What kind of goods they are, as a price list calls them behind their length.
    pub kind: Option<String>,
    pub item: &'a Entry<Words>,
    pub length: &'a Entry<Positive>,
    pub price: &'a Entry<Price>,
    pub price_per_foot: &'a Entry<PerFoot>,
    pub price_per_metre: &'a Entry<PerMetre>,
    pub on_hand: &'a Entry<Count<0>>,
    pub available: &'a Entry<Count<0>>,
    pub bundle: &'a Entry<Count<1>>,
}

/// An offer from a table that names its fields so, and what one is called.
macro_rules! offer {
    ($one:literal, $table:expr) => {
        $crate::job::check::stock::Offer {
            one: $one,
            several: concat!($one, "s"),
            kind: None,
            item: &$table.item,
            length: &$table.length,
            price: &$table.price,
            price_per_foot: &$table.price_per_foot,
            price_per_metre: &$table.price_per_metre,
            on_hand: &$table.on_hand,
            available: &$table.available,
            bundle: &$table.bundle,
        }
    };
}
pub(super) use offer;

impl Offer<'_> {
    /// The same of a kind that price lists have a name for.
    pub(super) fn of(self, kind: Option<String>) -> Self {
        Offer { kind, ..self }
    }

    /// Boards that the end trims use up.
    pub(super) fn trims(&self, end_trim: Option<Length>, home: &str, reading: &mut Reading) {
        let (Some(length), Some(trim)) = (self.length.get(), end_trim) else {
            return;
        };
        if trim * 2 < length.0 {
            return;
        }
        let message = format!(
            "nothing is left of a {} {} long with {} trimmed off each end",
            self.one,
            reading.show(length.0),
            reading.show(trim)
        );
        reading.error(
            self.length.place(),
            message,
            format!("check this length and `{home}.end_trim`"),
        );
    }

    /// The boards or sticks as they are sold.
    pub(super) fn read(&self, heading: &Place, reading: &mut Reading) -> Option<Stock> {
        let available = self
            .available
            .option()
            .map(|count| count.map(|count| count.0));
        let item = (self.item.option()).map(|item| item.map(|item| item.0.clone()));
        let price = match self.listed(item.as_ref(), reading) {
            Some(listed) => Some(Some(listed)),
            None => self.price(heading, available == Some(Some(0)), reading),
        };
        Some(Stock {
            item: item?,
            length: self.length.get()?.0,
            price: price?,
            on_hand: self.on_hand.or(0)?,
            available: available?,
            bundle: self.bundle.or(1u32)?,
        })
    }

    /// The price of one on a list, by the yard's own name or the order's.
    fn listed(&self, item: Option<&Option<String>>, reading: &Reading) -> Option<Money> {
        let unit = SoldBy::new(self.one, self.several);
        let (item, length) = (item?.as_deref(), self.length.get()?.0);
        let called = called(length, item, self.kind.as_deref()?, reading.unit);
        let mut names = item.into_iter().chain([called.as_str()]);
        names.find_map(|name| reading.prices.price(name, unit, None, None))
    }

    /// The price of one, however it was given.
    fn price(
        &self,
        heading: &Place,
        none_to_buy: bool,
        reading: &mut Reading,
    ) -> Option<Option<Money>> {
        let one = self.one;
        let mut given = [
            ("price", self.price.is_absent(), self.price.key()),
            (
                "price_per_foot",
                self.price_per_foot.is_absent(),
                self.price_per_foot.key(),
            ),
            (
                "price_per_metre",
                self.price_per_metre.is_absent(),
                self.price_per_metre.key(),
            ),
        ]
        .into_iter()
        .filter(|(_, absent, _)| !absent);
        let Some((name, _, key)) = given.next() else {
            if none_to_buy {
                return Some(None);
            }
            let help = format!(
                "say what one costs, `price = 41.50`; {one}s that are only there, not for sale, \
                 have `available = 0`, and `--prices` reads a yard's list"
            );
            reading.error(heading.clone(), format!("these {one}s have no price"), help);
            return None;
        };
        if let Some((other, _, other_key)) = given.next() {
            let message = format!("these {one}s have both `{name}` and `{other}`");
            reading
                .error(other_key, message, "keep one of them")
                .also(key, "the other one");
            return None;
        }
        if let Some(price) = self.price.get() {
            return Some(Some(price.0));
        }
        let per_foot = self.price_per_foot.get().map(|rate| rate.0);
        let rate = per_foot.or_else(|| self.price_per_metre.get().map(|rate| rate.0))?;
        let price = rate.price_for(self.length.get()?.0);
        if price.is_none() {
            let message = format!("`{name}` makes one {one} dearer than can be counted");
            reading.error(key, message, "look for a digit too many");
        }
        price.map(Some)
    }
}

/// A mistake where one of the yard's names is used for two lengths: a price list
/// has only one price for it.
fn called_alike(tables: &[(StockTable, Place)], stock: &[Stock], reading: &mut Reading) {
    for (number, board) in stock.iter().enumerate() {
        let Some(name) = tables[number].0.item.get() else {
            continue;
        };
        let other = stock[..number].iter().position(|other| {
            let named = other.item.as_ref().is_some_and(|other| name.is_same(other));
            named && other.length != board.length
        });
        let Some(other) = other else { continue };
        let message = format!("boards of two lengths are called \"{}\"", name.0);
        let help = "give each length the name that the yard has for it, or none";
        reading
            .error(tables[number].0.item.place(), message, help)
            .also(tables[other].0.item.place(), "the other one");
    }
}

/// A caution for boards that are never bought because the same ones are cheaper.
fn never_bought(tables: &[(StockTable, Place)], stock: &[Stock], reading: &mut Reading) {
    for (number, board) in stock.iter().enumerate() {
        let better = stock.iter().enumerate().position(|(place, other)| {
            other.length == board.length
                && other.available.is_none()
                && other.bundle == 1
                && board.available != Some(0)
                && (other.price, place) < (board.price, number)
        });
        let Some(better) = better else { continue };
        let message = format!(
            "these boards are never bought: others of {} cost no more and have no limit",
            reading.show(board.length)
        );
        let help = "take them out, or say how many of the others there are: `available = 20`";
        reading
            .caution(tables[number].1.clone(), message, help)
            .also(Some(tables[better].1.clone()), "the others");
    }
}

/// A caution for boards that are there but fill no bundle.
fn broken_bundles(tables: &[(StockTable, Place)], stock: &[Stock], reading: &mut Reading) {
    for ((table, _), board) in tables.iter().zip(stock) {
        let (Some(available), Some(most)) = (board.available, board.most_bought()) else {
            continue;
        };
        if most == available {
            continue;
        }
        let message = format!(
            "of {available} boards only {most} can be bought in bundles of {}",
            board.bundle
        );
        let help = "`available` counts boards; only whole bundles of them are bought";
        reading.caution(table.available.place(), message, help);
    }
}
