//! What is bought by the piece or the pack: its name, its pack by count or by
//! weight, its spares.

use crate::job::framing::tables::{FixingTable, GoodsTable, SpacedTable};
use crate::job::framing::{Fixing, Goods, Spaced};
use crate::job::model::{Pack, PerWeight, Percent};
use crate::job::problem::Place;
use crate::job::reading::{Entry, Reading};
use crate::job::values::{Count, PackSize, Price, Share, Words};
use crate::load::Force;
use crate::money::Money;
use crate::text::grouped;

/// More pieces in one pack are a slip of the pen.
const MOST: u32 = 10_000_000;

/// A price that may be left out.
pub(super) fn money(entry: &Entry<Price>) -> Option<Option<Money>> {
    entry.option().map(|price| price.map(|price| price.0))
}

/// What is bought by count, under the name the trade gives it where the job
/// gives none.
pub(super) fn bought(
    name: &Entry<Words>,
    pack: &Entry<Count<1>>,
    price: &Entry<Price>,
    spare: &Entry<Share>,
    usual: &str,
) -> Option<Goods> {
    Some(Goods {
        name: name.or(usual.to_owned())?,
        pack: Pack::of(pack.or(1u32)?, money(price)?),
        spare: spare.or(Percent::default())?,
    })
}

/// How something is sold, by count or by weight.
pub(super) struct Sale<'a> {
    pub name: &'a Entry<Words>,
    pub pack: &'a Entry<PackSize>,
    pub per_pound: &'a Entry<Count<1>>,
    pub per_kg: &'a Entry<Count<1>>,
    pub price: &'a Entry<Price>,
    pub spare: &'a Entry<Share>,
}

/// A sale from a table that names its fields so.
macro_rules! sale {
    ($table:expr) => {
        $crate::job::check::goods::Sale {
            name: &$table.name,
            pack: &$table.pack,
            per_pound: &$table.per_pound,
            per_kg: &$table.per_kg,
            price: &$table.pack_price,
            spare: &$table.spare,
        }
    };
}
pub(super) use sale;

impl Sale<'_> {
    /// The goods, under the name the trade gives them where the job gives none.
    pub(super) fn goods(&self, usual: &str, reading: &mut Reading) -> Option<Goods> {
        let name = self.name.or(usual.to_owned())?;
        let each = self.per_weight(&name, reading);
        let by_weight = matches!(self.pack.get(), Some(PackSize::Weight(_)));
        if !by_weight && !matches!(self.pack, Entry::Wrong) {
            self.of_no_use(&name, reading);
        }
        let pack = self.pack(&name, each?, reading);
        Some(Goods {
            pack: pack?,
            spare: self.spare.or(Percent::default())?,
            name,
        })
    }

    /// The pack, of one piece where nothing is said.
    pub(super) fn pack(
        &self,
        name: &str,
        each: Option<PerWeight>,
        reading: &mut Reading,
    ) -> Option<Pack> {
        let price = money(self.price)?;
        match self.pack.option()? {
            None => Some(Pack::of(1, price)),
            Some(PackSize::Pieces(pieces)) => Some(Pack::of(*pieces, price)),
            Some(PackSize::Weight(weight)) => {
                weighed(name, *weight, each, price, self.pack.place(), reading)
            }
        }
    }

    /// How many weigh how much, where the job says so.
    pub(super) fn per_weight(
        &self,
        name: &str,
        reading: &mut Reading,
    ) -> Option<Option<PerWeight>> {
        let per = |entry: &Entry<Count<1>>, weight| {
            let pieces = entry.option()?;
            Some(pieces.map(|pieces| PerWeight {
                pieces: pieces.0,
                weight,
            }))
        };
        let pounds = per(self.per_pound, Force::POUND)?;
        let kilograms = per(self.per_kg, Force::KILOGRAM)?;
        if let (Some(_), Some(_)) = (pounds, kilograms) {
            let message = format!("\"{name}\" has both `per_pound` and `per_kg`");
            reading
                .error(self.per_kg.key(), message, "keep the one that the box says")
                .also(self.per_pound.key(), "the other one");
            return None;
        }
        Some(pounds.or(kilograms))
    }

    /// Says so where pieces by weight are given of what is sold by count.
    pub(super) fn of_no_use(&self, name: &str, reading: &mut Reading) {
        for (key, entry, pack) in [
            ("per_pound", self.per_pound, "5 lb"),
            ("per_kg", self.per_kg, "2.5 kg"),
        ] {
            let Some(place) = entry.key() else { continue };
            let message = format!("`{key}`: \"{name}\" is not sold by weight");
            let help = format!("give its pack by weight, `pack = \"{pack}\"`, or take `{key}` out");
            reading
                .error(place, message, help)
                .also(self.pack.place(), "its pack");
        }
    }
}

/// A pack by weight: the job has to say how many make a pound or a kilogram.
pub(super) fn weighed(
    name: &str,
    weight: Force,
    each: Option<PerWeight>,
    price: Option<Money>,
    place: Option<Place>,
    reading: &mut Reading,
) -> Option<Pack> {
    let Some(each) = each else {
        let message = format!(
            "\"{name}\" is sold by weight, and the job does not say how many make a pound or a \
             kilogram"
        );
        let help = "add `per_pound = 85` or `per_kg = 190`, as the box says";
        reading.error(place, message, help);
        return None;
    };
    let pack = Pack::weighing(weight, each, price);
    let holds = match pack.pieces {
        0 => "no whole piece".to_owned(),
        pieces if pieces > MOST => format!("{} pieces", grouped(pieces.into())),
        _ => return Some(pack),
    };
    let message = format!("a pack of {} of \"{name}\" holds {holds}", weight.sold());
    let help = "check the weight of the pack, and how many make a pound or a kilogram";
    reading.error(place, message, help);
    None
}

pub(super) fn goods(table: &GoodsTable, usual: &str, reading: &mut Reading) -> Option<Goods> {
    sale!(table).goods(usual, reading)
}

pub(super) fn fixing(table: &FixingTable, usual: &str, reading: &mut Reading) -> Option<Fixing> {
    Some(Fixing {
        goods: sale!(table).goods(usual, reading)?,
        nails: table.nails.or(0u32)?,
    })
}

pub(super) fn spaced(table: &SpacedTable, usual: &str, reading: &mut Reading) -> Option<Spaced> {
    Some(Spaced {
        goods: sale!(table).goods(usual, reading)?,
        spacing: table.spacing.get()?.0,
        at_each: table.at_each.or(1u32)?,
    })
}
