//! What several kinds of goods have in common: spares and packs, rolls with
//! laps, lengths that overlap, places at a spacing, what is sold by volume. Counts
//! and money only.

use super::{Group, Line, Needed, OrderError, Trade};
use crate::job::items::SoldBy;
use crate::job::{Goods, Percent, Roll};
use crate::length::Length;
use crate::money::Money;
use crate::volume::Volume;

/// A count with its spares, rounded up.
pub(super) fn spared(needed: u64, spare: Percent) -> u64 {
    needed + (needed * u64::from(spare.0)).div_ceil(10_000)
}

/// A line of an item that has no price yet.
pub(super) fn line(group: Group, item: String, unit: Trade, needed: Needed, count: u64) -> Line {
    Line {
        group,
        item,
        unit,
        needed,
        on_hand: 0,
        count,
        price_each: None,
        price: None,
    }
}

/// So many of some goods, with spares, in whole packs; nothing when none is needed.
pub(super) fn bought(group: Group, goods: &Goods, needed: u64) -> Option<Line> {
    if needed == 0 {
        return None;
    }
    let pieces = goods.pack.pieces.max(1);
    let count = spared(needed, goods.spare).div_ceil(u64::from(pieces));
    let line = line(
        group,
        goods.name.clone(),
        Trade::of(&goods.pack),
        Needed::Count(needed),
        count,
    );
    Some(line.priced(goods.pack.price))
}

/// Rolls for strips of these lengths: strips are cut from one roll after the
/// other, and where a roll ends in the middle of a strip the next one laps it.
pub(super) fn rolls(
    group: Group,
    item: &str,
    roll: &Roll,
    strips: impl IntoIterator<Item = Length>,
) -> Option<Line> {
    let (mut rolls, mut left, mut used) = (0, Length::ZERO, Length::ZERO);
    for strip in strips {
        let mut need = strip;
        while left < need {
            // A rest that would lie under the lap altogether is no use.
            if left > roll.overlap {
                need += roll.overlap - left;
                used += left;
            }
            left = roll.roll;
            rolls += 1;
        }
        left -= need;
        used += need;
    }
    let line = line(
        group,
        item.to_owned(),
        Trade::Roll,
        Needed::Length(used),
        rolls,
    );
    (rolls > 0).then(|| line.priced(roll.price))
}

/// Pieces of one length that cover another, each lapping the next.
pub(super) fn lapped(covered: Length, piece: Length, overlap: Length) -> u64 {
    let (covered, step) = ((covered - overlap).units(), (piece - overlap).units());
    let pieces = (covered + step - 1).div_euclid(step.max(1));
    u64::try_from(pieces).unwrap_or(0).max(1)
}

/// Places along a length, no two neighbours further apart than a spacing, with
/// one at each end.
pub(super) fn places(length: Length, spacing: Length) -> u64 {
    let (length, step) = (length.units().max(0), spacing.units().max(1));
    (length as u64).div_ceil(step as u64) + 1
}

/// What is sold by volume.
pub(super) fn in_bulk(
    group: Group,
    item: String,
    unit: SoldBy,
    one: Volume,
    price: Option<Money>,
    needed: Volume,
) -> Result<Option<Line>, OrderError> {
    if needed == Volume::NONE {
        return Ok(None);
    }
    let line = line(
        group,
        item,
        Trade::By(unit),
        Needed::Volume(needed),
        needed.fill(one),
    );
    afford(line, price).map(Some)
}

/// The line with its price, which can be added up with others.
pub(super) fn afford(line: Line, each: Option<Money>) -> Result<Line, OrderError> {
    let together = |each: Money| i128::from(each.cents()) * i128::from(line.count);
    if each.is_some_and(|each| together(each) > i128::from(Money::LIMIT.cents())) {
        return Err(OrderError::Impossible {
            message: format!("{} comes to more than a thousand million", line.item),
            help: "look for a digit too many in its price, or in what a bag or piece is".to_owned(),
        });
    }
    Ok(line.priced(each))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(count: i64) -> Length {
        Length::from_feet(count)
    }

    #[test]
    fn spares_come_on_top_of_what_is_counted() {
        // US Army correspondence course EN0069A, para 4-8 and table 4-1: ten per
        // cent for dimension lumber, twenty for nails.
        assert_eq!(spared(500, Percent(1_000)), 550);
        assert_eq!(spared(300, Percent(1_000)), 330);
        assert_eq!(spared(6_000, Percent(2_000)), 7_200);
        // Computed: a part of a piece is a whole one.
        assert_eq!(spared(101, Percent(1_000)), 112);
        assert_eq!(spared(0, Percent(1_000)), 0);
    }

    #[test]
    fn a_strip_over_the_end_of_a_roll_laps() {
        let roll = Roll {
            width: Length::from_inches(2),
            roll: feet(50),
            overlap: Length::from_inches(6),
            price: Some(Money::from_cents(1_000)),
        };
        // Computed: two strips of 18 ft leave 14 ft of the roll for the third,
        // which takes 4 ft 6 in of the next one: 54 ft 6 in in all.
        let line = rolls(Group::Frame, "tape", &roll, [feet(18); 3]).expect("a line");
        let half = Length::from_inches(6);
        assert_eq!(
            (line.count, line.needed),
            (2, Needed::Length(feet(54) + half))
        );
        assert_eq!(line.price, Some(Money::from_cents(2_000)));
        // One strip of 120 ft: 50, 49-1/2 and 21-1/2 ft beyond the laps.
        let line = rolls(Group::Frame, "tape", &roll, [feet(120)]).expect("a line");
        assert_eq!((line.count, line.needed), (3, Needed::Length(feet(121))));
        // Exactly a roll; and a rest of 6 in that is all lap is left.
        let strips = [feet(50)];
        assert_eq!(
            rolls(Group::Frame, "tape", &roll, strips).map(|l| l.count),
            Some(1)
        );
        let strips = [feet(50) - half, feet(50)];
        assert_eq!(
            rolls(Group::Frame, "tape", &roll, strips).map(|l| l.count),
            Some(2)
        );
        assert_eq!(rolls(Group::Frame, "tape", &roll, []), None);
    }

    #[test]
    fn laps_and_places() {
        // Computed: 32 ft with pieces of 10 ft lapping 4 in: each further one
        // covers 9 ft 8 in, three of them 29 ft 4 in, so four.
        assert_eq!(lapped(feet(32), feet(10), Length::from_inches(4)), 4);
        assert_eq!(lapped(feet(20), feet(10), Length::ZERO), 2);
        assert_eq!(lapped(feet(2), feet(10), feet(3)), 1);
        // 32 ft at 16 in: 24 spaces, 25 places; one more unit, one more place.
        assert_eq!(places(feet(32), Length::from_inches(16)), 25);
        assert_eq!(
            places(feet(32) + Length::from_units(1), Length::from_inches(16)),
            26
        );
    }
}
