//! Places along a line and what each carries of it. It knows lengths only; what
//! stands there is left to [`super`].

use crate::length::Length;

/// Equally spaced places along a length, no two further apart than `spacing`.
/// Ends that are `carried` count as places that stand already; at the others the
/// first place is set in. A length with no room for that has one in its middle.
pub(super) fn spread(
    length: Length,
    inset: Length,
    spacing: Length,
    carried: [bool; 2],
) -> Vec<Length> {
    let set_in = |carried: bool| if carried { Length::ZERO } else { inset };
    let (from, to) = (set_in(carried[0]), length - set_in(carried[1]));
    let (stretch, spacing) = ((to - from).units(), spacing.units());
    if stretch <= 0 {
        return vec![length.half_down()];
    }
    let spaces = (stretch + spacing - 1) / spacing;
    let places = i64::from(carried[0])..=spaces - i64::from(carried[1]);
    let at = |k: i64| {
        // Whole units, and no distance more than one larger than another.
        let part = i128::from(stretch) * i128::from(k) / i128::from(spaces);
        from + Length::from_units(i64::try_from(part).unwrap_or(stretch))
    };
    places.map(at).collect()
}

/// The fewest of these places, the first and the last among them, of which no two
/// neighbours are further apart than a spacing where there is a place between;
/// all of them without one.
pub(super) fn rows(places: &[Length], spacing: Option<Length>) -> Vec<Length> {
    let Some(spacing) = spacing else {
        return places.to_vec();
    };
    let mut rows: Vec<Length> = places.first().copied().into_iter().collect();
    for pair in places.windows(2) {
        let last = rows.last().copied().unwrap_or(Length::ZERO);
        // The next place is out of reach from the last row.
        if pair[1] - last > spacing && pair[0] > last {
            rows.push(pair[0]);
        }
    }
    rows.extend(places.last().filter(|_| places.len() > 1));
    rows
}

/// What each of these places carries of a length, in halves of units: up to
/// halfway to its neighbours, and to the end of the length, or halfway to it
/// where the end itself is carried.
pub(super) fn shares(places: &[Length], length: Length, carried: [bool; 2]) -> Vec<i64> {
    let [first, last] = carried;
    // Twice the place where the share of one ends and that of the next begins.
    let between = |one: Length, next: Length| (one + next).units();
    let mut bounds = Vec::with_capacity(places.len() + 1);
    if let (Some(&one), Some(&other)) = (places.first(), places.last()) {
        let start = if first { between(Length::ZERO, one) } else { 0 };
        bounds.push(start);
        bounds.extend(places.windows(2).map(|pair| between(pair[0], pair[1])));
        bounds.push(match last {
            true => between(other, length),
            false => (length * 2).units(),
        });
    }
    bounds.windows(2).map(|pair| pair[1] - pair[0]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(all: &[i64]) -> Vec<Length> {
        all.iter().map(|&at| Length::from_inches(at)).collect()
    }

    fn feet(count: i64) -> Length {
        Length::from_feet(count)
    }

    #[test]
    fn places_are_even_and_no_further_apart_than_they_may_be() {
        let six = Length::from_inches(6);
        // 120 in less 6 at each end are 108: two spaces of 54 in at 5 ft.
        let open = spread(feet(10), six, feet(5), [false; 2]);
        assert_eq!(open, inches(&[6, 60, 114]));
        // Exactly 108 in is one space.
        let open = spread(feet(10), six, Length::from_inches(108), [false; 2]);
        assert_eq!(open, inches(&[6, 114]));
        // A ledger carries the start: 114 in are two spaces of 57.
        let wall = spread(feet(10), six, feet(5), [true, false]);
        assert_eq!(wall, inches(&[57, 114]));
        // Between two ledgers: two spaces, one place; or none.
        assert_eq!(spread(feet(10), six, feet(5), [true; 2]), inches(&[60]));
        assert_eq!(spread(feet(10), six, feet(10), [true; 2]), []);
        assert_eq!(spread(feet(1), six, feet(5), [false; 2]), inches(&[6]));
    }

    #[test]
    fn rows_are_the_fewest_within_reach() {
        let joists = inches(&[1, 16, 32, 48, 64, 80, 95]);
        let at = |spacing: i64| rows(&joists, Some(Length::from_inches(spacing)));
        // From 1 in, 48 in reach to 48; from there to 95.
        assert_eq!(at(48), inches(&[1, 48, 95]));
        assert_eq!(at(32), inches(&[1, 32, 64, 95]));
        // Nothing lies within a foot: every joist.
        assert_eq!(at(12), joists);
        assert_eq!(rows(&joists, None), joists);
        assert_eq!(rows(&joists[..1], Some(feet(4))), inches(&[1]));
        assert_eq!(rows(&[], Some(feet(4))), []);
    }

    #[test]
    fn shares_reach_halfway_and_to_the_edges() {
        let two = |all: &[i64]| -> Vec<i64> {
            let halves = all.iter().map(|&at| Length::from_inches(at).units());
            halves.collect()
        };
        // 6, 60, 114 of 120 in: 33, 54 and 33 in, doubled.
        let open = shares(&inches(&[6, 60, 114]), feet(10), [false; 2]);
        assert_eq!(open, two(&[66, 108, 66]));
        // A ledger at the start keeps half of the first 57 in.
        let wall = shares(&inches(&[57, 114]), feet(10), [true, false]);
        assert_eq!(wall, two(&[114, 69]));
    }
}
