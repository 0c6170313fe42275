//! Members longer than any stick: where they are spliced.

use crate::length::Length;

/// The fewest pieces that make up a length, none longer than the longest,
/// spliced only at given places (ascending); the last piece is the short one.
/// Places in `avoid`, the splices of the ply beside it, are used only where
/// there is no other way.
///
/// Nothing when two neighbouring places are further apart than the longest.
pub fn splice(
    length: Length,
    longest: Length,
    places: &[Length],
    avoid: &[Length],
) -> Option<Vec<Length>> {
    let inside = |place: &&Length| **place > Length::ZERO && **place < length;
    let all: Vec<Length> = places.iter().filter(inside).copied().collect();
    let free: Vec<Length> = (all.iter().copied())
        .filter(|place| !avoid.contains(place))
        .collect();
    along(length, longest, &free).or_else(|| along(length, longest, &all))
}

/// From the left, each piece as long as it may be.
fn along(length: Length, longest: Length, places: &[Length]) -> Option<Vec<Length>> {
    let mut pieces = Vec::new();
    let mut from = Length::ZERO;
    while length - from > longest {
        let reached = places.iter().rev().find(|&&place| place - from <= longest);
        let to = *reached.filter(|&&place| place > from)?;
        pieces.push(to - from);
        from = to;
    }
    pieces.push(length - from);
    Some(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(count: i64) -> Length {
        Length::from_feet(count)
    }

    #[test]
    fn each_piece_is_as_long_as_it_may_be() {
        let places: Vec<Length> = (0..25).map(|k| Length::from_inches(16 * k)).collect();
        // Computed: 32 ft of 20 ft sticks on places 16 in apart: 15 spaces of
        // 16 in are 20 ft, and 12 ft are left.
        let pieces = splice(feet(32), feet(20), &places, &[]);
        assert_eq!(pieces, Some(vec![feet(20), feet(12)]));
        // The next ply keeps clear of that splice: 14 spaces are 18 ft 8 in.
        let pieces = splice(feet(32), feet(20), &places, &[feet(20)]);
        let inches = Length::from_inches;
        assert_eq!(pieces, Some(vec![inches(224), inches(160)]));
        assert_eq!(splice(feet(20), feet(20), &[], &[]), Some(vec![feet(20)]));
    }

    #[test]
    fn without_a_place_there_is_no_splice() {
        assert_eq!(splice(feet(32), feet(20), &[], &[]), None);
        assert_eq!(splice(feet(32), feet(20), &[feet(8)], &[]), None);
        // Where both plies have one place only, they share it.
        let pieces = splice(feet(32), feet(20), &[feet(16)], &[feet(16)]);
        assert_eq!(pieces, Some(vec![feet(16), feet(16)]));
    }
}
