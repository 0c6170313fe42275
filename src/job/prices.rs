//! A price list as a yard hands it out: rows of an item, what it is sold by, the
//! pieces in a pack, and the price. It knows which row is meant by a name; what
//! is needed of anything is left to [`crate::order`].
//!
//! A listed price takes the place of the job's own, so that one job can be
//! priced at several yards.

use std::ops::Range;

use super::items::SoldBy;
use super::model::{Pack, PerWeight};
use super::problem::{Findings, Place, Problem, Source};
use super::values::{GoodsWeight, PackSize};
use crate::load::Force;
use crate::money::Money;
use crate::sheet::{self, Cell, Known};

const COLUMNS: [Known; 4] = [
    ("item", true),
    ("unit", false),
    ("pack", false),
    ("price", true),
];

/// What single things are sold by, whatever they are.
const EACH: [&str; 6] = ["", "each", "ea", "piece", "pieces", "pc"];

/// The prices of a yard, or of several.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PriceList {
    rows: Vec<Listed>,
}

/// A row of a price list.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Listed {
    /// The item's name, as [`key`] makes it.
    item: String,
    /// What it is sold by, in small letters; empty where nothing was said.
    unit: String,
    /// What is in a pack; one piece for what is sold singly.
    pack: PackSize,
    price: Money,
}

/// A name that capitals, spaces and the shape of a times sign make no other.
fn key(name: &str) -> String {
    let name = name.to_lowercase().replace('×', "x");
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl PriceList {
    /// Reads price lists: CSV with the headings `item,unit,pack,price`, in any
    /// order; `unit` and `pack` may be left out. A row without a price is read
    /// over: a list is often sent out to be filled in.
    ///
    /// ```
    /// use lastcourse::job::{PriceList, Source, items::SoldBy};
    /// use lastcourse::money::Money;
    ///
    /// let text = "item,unit,pack,price\n\"16 ft x 5-1/2 in board\",board,,38.90\nedge clip,,250,61.40\n";
    /// let sheet = Source { name: "yard.csv".into(), text: text.into() };
    /// let list = PriceList::read(&[sheet])?;
    /// let unit = SoldBy::new("board", "boards");
    /// let board = list.price("16 ft × 5-1/2 in board", unit, None, None);
    /// assert_eq!(board, Some(Money::from_cents(3_890)));
    /// # Ok::<(), lastcourse::job::Findings>(())
    /// ```
    ///
    /// # Errors
    /// Everything that is wrong, each mistake with its place; one item in one
    /// pack with two prices is one.
    pub fn read(sheets: &[Source]) -> Result<PriceList, Findings> {
        let mut list = PriceList::default();
        let mut findings = Findings {
            sources: sheets.to_vec(),
            problems: Vec::new(),
        };
        let mut places: Vec<Place> = Vec::new();
        for (source, sheet) in sheets.iter().enumerate() {
            let (rows, faults) = sheet::rows(&sheet.text, &COLUMNS);
            let place = |span| Place { source, span };
            for fault in faults {
                findings.problems.push(wrong(place, fault));
            }
            for row in rows {
                let listed = match listed(&sheet.text, &row) {
                    Ok(Some(listed)) => listed,
                    Ok(None) => continue,
                    Err(faults) => {
                        let faults = faults.into_iter();
                        findings
                            .problems
                            .extend(faults.map(|fault| wrong(place, fault)));
                        continue;
                    }
                };
                let same = list.rows.iter().position(|other| other.is_for(&listed));
                match same {
                    Some(first) if list.rows[first].price != listed.price => {
                        let mut twice = Problem::error(
                            Some(place(row.whole)),
                            "this item is listed twice, at two prices",
                            "keep one of them",
                        );
                        twice.also(Some(places[first].clone()), "the first one");
                        findings.problems.push(twice);
                    }
                    Some(_) => {}
                    None => {
                        places.push(place(row.whole));
                        list.rows.push(listed);
                    }
                }
            }
        }
        match findings.problems.is_empty() {
            true => Ok(list),
            false => Err(findings),
        }
    }

    /// Whether nothing is listed.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The price of an item that is sold so: by single units, in packs of so
    /// many, or in packs that weigh so much.
    pub fn price(
        &self,
        item: &str,
        unit: SoldBy,
        pack: Option<u32>,
        weight: Option<Force>,
    ) -> Option<Money> {
        let pack = pack.unwrap_or(1);
        let fits = |row: &&Listed| {
            let unit = pack > 1
                || EACH.contains(&row.unit.as_str())
                || row.unit == unit.one
                || row.unit == unit.many;
            match row.pack {
                PackSize::Pieces(pieces) => pieces == pack && unit,
                PackSize::Weight(listed) => weight == Some(listed),
            }
        };
        self.called(item).find(fits).map(|row| row.price)
    }

    /// The packs an item is listed in; those by weight only where it is known
    /// how many weigh how much.
    pub fn packs(&self, item: &str, each: Option<PerWeight>) -> Vec<Pack> {
        let packs = self.called(item).filter_map(|row| match row.pack {
            PackSize::Pieces(pieces) => Some(Pack::of(pieces, Some(row.price))),
            PackSize::Weight(weight) => {
                let pack = Pack::weighing(weight, each?, Some(row.price));
                (pack.pieces > 0).then_some(pack)
            }
        });
        packs.collect()
    }

    /// How an item is listed, in words: `by the foot`, `in packs of 50`.
    pub fn sold(&self, item: &str) -> Vec<String> {
        self.called(item)
            .map(|row| match (row.pack, row.unit.as_str()) {
                (PackSize::Pieces(1), unit) if EACH.contains(&unit) => "by the piece".to_owned(),
                (PackSize::Pieces(1), unit) => format!("by the {unit}"),
                (PackSize::Pieces(pack), _) => format!("in packs of {pack}"),
                (PackSize::Weight(weight), _) => format!("in boxes of {}", weight.sold()),
            })
            .collect()
    }

    fn called(&self, item: &str) -> impl Iterator<Item = &Listed> {
        let name = key(item);
        self.rows.iter().filter(move |row| row.item == name)
    }
}

impl Listed {
    fn is_for(&self, other: &Listed) -> bool {
        let alike = |unit: &str| match EACH.contains(&unit) {
            true => String::new(),
            false => unit.to_owned(),
        };
        (&self.item, self.pack, alike(&self.unit)) == (&other.item, other.pack, alike(&other.unit))
    }
}

/// A fault of the sheet as a problem of the list.
fn wrong(place: impl Fn(Range<usize>) -> Place, fault: sheet::Fault) -> Problem {
    Problem::error(Some(place(fault.span)), fault.message, fault.help)
}

/// What a row says; nothing where it has no price.
fn listed(text: &str, row: &sheet::Row) -> Result<Option<Listed>, Vec<sheet::Fault>> {
    let [item, unit, pack, price] = &row.cells[..] else {
        return Ok(None);
    };
    let value = |cell: &Option<Cell>| cell.as_ref().map(|cell| cell.trimmed(text));
    let mut faults = Vec::new();
    let price = value(price).map(|(price, at)| {
        Money::parse(&price).map_err(|error| {
            faults.push(sheet::Fault::new(at, error.message(), error.help()));
        })
    });
    let pack = value(pack).map(|(pack, at)| {
        let pieces = pack.parse::<u32>().ok().filter(|pieces| *pieces > 0);
        let read = pieces.map(PackSize::Pieces);
        let read = read.or_else(|| GoodsWeight::parse(&pack).map(PackSize::Weight));
        read.ok_or_else(|| {
            faults.push(sheet::Fault::new(
                at,
                format!("\"{pack}\" is no number of pieces in a pack"),
                "write a whole number such as 250, a weight such as 5 lb, or nothing for what is \
                 sold singly",
            ));
        })
    });
    let item = value(item).map(|(item, _)| key(&item));
    if item.is_none() {
        faults.push(sheet::Fault::new(
            row.whole.clone(),
            "this row has no item",
            "write what it is the price of",
        ));
    }
    let unit = value(unit).map(|(unit, _)| unit.trim_end_matches('.').to_lowercase());
    match (item, pack.unwrap_or(Ok(PackSize::Pieces(1))), price) {
        _ if !faults.is_empty() => Err(faults),
        (Some(item), Ok(pack), Some(Ok(price))) => Ok(Some(Listed {
            item,
            unit: unit.unwrap_or_default(),
            pack,
            price,
        })),
        _ => Ok(None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<PriceList, Findings> {
        PriceList::read(&[Source {
            name: "yard.csv".to_owned(),
            text: text.to_owned(),
        }])
    }

    const BOARD: SoldBy = SoldBy::new("board", "boards");

    #[test]
    fn names_are_found_whatever_their_capitals_and_units() {
        let list = read(
            "price;item;pack;unit\n41.50;\"16 FT x 5-1/2 in  Board\";;ea.\n\
             9.20;Joist tape;;roll\n61.40;edge clip;250;box\n2.10;edge clip;;\n;plugs;;\n",
        )
        .expect("a list");
        let cents = |money: Option<Money>| money.map(Money::cents);
        assert_eq!(
            cents(list.price("16 ft × 5-1/2 in board", BOARD, None, None)),
            Some(4_150)
        );
        let roll = SoldBy::new("roll", "rolls");
        assert_eq!(cents(list.price("joist tape", roll, None, None)), Some(920));
        assert_eq!(list.price("joist tape", SoldBy::PIECE, None, None), None);
        assert_eq!(list.sold("joist tape"), ["by the roll"]);
        assert_eq!(
            cents(list.price("Edge clip", SoldBy::PIECE, Some(250), None)),
            Some(6_140)
        );
        assert_eq!(
            list.price("edge clip", SoldBy::PIECE, Some(100), None),
            None
        );
        let pieces = list
            .packs("edge clip", None)
            .into_iter()
            .map(|pack| pack.pieces);
        assert_eq!(pieces.collect::<Vec<_>>(), [250, 1]);
        assert_eq!(list.price("plugs", SoldBy::PIECE, None, None), None);
    }

    #[test]
    fn packs_by_weight_are_known_by_their_weight() {
        let list = read(
            "item,unit,pack,price\ndeck screw,box,5 lb,38.90\ndeck screw,box,2.5kg,44.10\n\
             deck screw,box,350,41.00\n",
        )
        .expect("a list");
        let (five, boxed) = (Force::pounds_100(500), SoldBy::new("box", "boxes"));
        let cents = |pack, weight| {
            let price = list.price("Deck screw", boxed, Some(pack), weight);
            price.map(Money::cents)
        };
        assert_eq!(cents(425, Some(five)), Some(3_890));
        assert_eq!(cents(425, Some(Force::pounds_100(100))), None);
        assert_eq!(cents(350, None), Some(4_100));
        assert_eq!(
            list.sold("deck screw"),
            ["in boxes of 5 lb", "in boxes of 2.5 kg", "in packs of 350"]
        );
        // 85 to the pound: 425 in 5 lb, and 468 in 2.5 kg of 5.51 lb. What weighs
        // how much has to be known.
        let each = PerWeight {
            pieces: 85,
            weight: Force::POUND,
        };
        let pieces = |each| {
            let packs = list.packs("deck screw", each).into_iter();
            packs.map(|pack| pack.pieces).collect::<Vec<_>>()
        };
        assert_eq!(pieces(Some(each)), [425, 468, 350]);
        assert_eq!(pieces(None), [350]);
    }

    #[test]
    fn mistakes_are_told_with_their_places() {
        let wrong = |text: &str| {
            let findings = read(text).expect_err("a mistake");
            let first = &findings.problems[0];
            let place = first.place.as_ref().expect("a place");
            let at = findings.line_and_column(place).expect("in the text");
            (at, first.message.clone())
        };
        let (at, message) = wrong("item,price\nclip,4.5x\n");
        assert_eq!((at, message.contains("4.5x")), ((2, 6), true), "{message}");
        assert_eq!(
            wrong("item,pack,price\nclip,none,4.50\n").1,
            "\"none\" is no number of pieces in a pack"
        );
        assert_eq!(
            wrong("item,price\nclip,4.50\nClip,4.60\n"),
            (
                (3, 1),
                "this item is listed twice, at two prices".to_owned()
            )
        );
        assert_eq!(wrong("item,price\n,4.50\n").1, "this row has no item");
        assert_eq!(wrong("thing,price\n").1, "there is no heading \"thing\"");
        assert!(read("item,price\nclip,4.50\nclip,4.50\n").is_ok());
    }
}
