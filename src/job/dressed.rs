//! Softwood lumber as it is dressed: what a nominal size measures, dry or green.
//! It knows the standard's minimum sizes only; lumber and boards at hand are
//! measured, since old stock and other countries' differ.
//!
//! American Softwood Lumber Standard PS 20-20, table 3, from memory; where they
//! overlap it agrees with the National Design Specification for Wood
//! Construction, Supplement 2018, table 1A: dry is half an inch less, of widths
//! above 6 three quarters less; green is 7/16, of widths above 4 to 6 3/8 and
//! above 6 half an inch less.

use crate::length::Length;

/// How moist lumber was when it was dressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dressed {
    /// At 19 % or less.
    Dry,
    /// Above that; it shrinks to about the dry size.
    Green,
}

/// Nominal thickness as it is written, and what it measures dry and green, in
/// 64ths of an inch.
const THICKNESSES: [(&str, i64, i64); 8] = [
    ("1", 48, 50),
    ("5/4", 64, 66),
    ("1-1/4", 64, 66),
    ("1-1/2", 80, 82),
    ("2", 96, 100),
    ("2-1/2", 128, 132),
    ("3", 160, 164),
    ("4", 224, 228),
];

/// Nominal widths and what they measure, likewise.
const WIDTHS: [(&str, i64, i64); 11] = [
    ("2", 96, 100),
    ("3", 160, 164),
    ("4", 224, 228),
    ("5", 288, 296),
    ("6", 352, 360),
    ("7", 416, 424),
    ("8", 464, 480),
    ("9", 528, 544),
    ("10", 592, 608),
    ("11", 656, 672),
    ("12", 720, 736),
];

fn found(table: &[(&str, i64, i64)], nominal: &str, dressed: Dressed) -> Option<Length> {
    let &(_, dry, green) = table.iter().find(|row| row.0 == nominal)?;
    Some(Length::from_64ths(match dressed {
        Dressed::Dry => dry,
        Dressed::Green => green,
    }))
}

/// Thickness and width of a nominal size in inches, such as `2x8` or `5/4x6`;
/// nothing where it is none of the standard's.
pub fn section(size: &str, dressed: Dressed) -> Option<[Length; 2]> {
    let (thick, wide) = size.trim().split_once(['x', 'X', '\u{d7}'])?;
    let (thickness, width) = (
        found(&THICKNESSES, thick.trim(), dressed)?,
        found(&WIDTHS, wide.trim(), dressed)?,
    );
    // The lesser side is the thickness.
    (thickness <= width).then_some([thickness, width])
}

/// Tenths of a board foot in a length of a nominal size, to the nearest: its
/// nominal thickness in inches times its nominal width times its feet over
/// twelve. Nothing where the size is not written so.
pub fn board_feet(size: &str, length: Length) -> Option<u64> {
    let (thick, wide) = size.trim().split_once(['x', 'X', '\u{d7}'])?;
    let quarters: u32 = match thick.trim() {
        "5/4" | "1-1/4" => 5,
        "1-1/2" => 6,
        "2-1/2" => 10,
        whole => 4 * whole.parse::<u32>().ok().filter(|n| (1..=24).contains(n))?,
    };
    let wide: u32 = wide.trim().parse().ok().filter(|n| (1..=24).contains(n))?;
    let section = i128::from(quarters) * i128::from(wide);
    let (many, one) = (
        10 * section * i128::from(length.units()),
        48 * i128::from(Length::UNITS_PER_FOOT),
    );
    u64::try_from((2 * many + one).div_euclid(2 * one)).ok()
}

/// What a board measures dry whose nominal width in inches a length is, where the
/// two differ and such boards are sold for decks.
pub fn taken_for_nominal(face: Length) -> Option<Length> {
    let nominal = ["3", "4", "5", "6", "8"];
    let nominal = nominal.iter().filter(|wide| {
        let inches = wide.parse().map(Length::from_inches);
        inches == Ok(face)
    });
    nominal
        .filter_map(|wide| found(&WIDTHS, wide, Dressed::Dry))
        .next()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nominal, dry in 64ths and mm, green in 64ths and mm.
    type Row = (&'static str, i64, i64, i64, i64);

    /// PS 20-20, table 3, from memory.
    const THICK: [Row; 7] = [
        ("1", 48, 19, 50, 20),
        ("5/4", 64, 25, 66, 26),
        ("1-1/2", 80, 32, 82, 33),
        ("2", 96, 38, 100, 40),
        ("2-1/2", 128, 51, 132, 52),
        ("3", 160, 64, 164, 65),
        ("4", 224, 89, 228, 90),
    ];

    /// The same table, widths.
    const WIDE: [Row; 11] = [
        ("2", 96, 38, 100, 40),
        ("3", 160, 64, 164, 65),
        ("4", 224, 89, 228, 90),
        ("5", 288, 114, 296, 117),
        ("6", 352, 140, 360, 143),
        ("7", 416, 165, 424, 168),
        ("8", 464, 184, 480, 190),
        ("9", 528, 210, 544, 216),
        ("10", 592, 235, 608, 241),
        ("11", 656, 260, 672, 267),
        ("12", 720, 286, 736, 292),
    ];

    /// Whole millimetres, halves to even, which is how the table's own come about.
    fn millimetres(length: Length) -> i64 {
        let (units, mm) = (length.units(), Length::UNITS_PER_MM);
        let (down, rest) = (units.div_euclid(mm), units.rem_euclid(mm));
        match (rest * 2).cmp(&mm) {
            std::cmp::Ordering::Less => down,
            std::cmp::Ordering::Greater => down + 1,
            std::cmp::Ordering::Equal => down + down % 2,
        }
    }

    #[test]
    fn every_size_of_the_standard() {
        let holds = |size: String, side: usize, row: Row| {
            let (_, dry, dry_mm, green, green_mm) = row;
            for (dressed, sixty_fourths, mm) in [
                (Dressed::Dry, dry, dry_mm),
                (Dressed::Green, green, green_mm),
            ] {
                let measures = section(&size, dressed).expect("a size")[side];
                assert_eq!(
                    (measures, millimetres(measures)),
                    (Length::from_64ths(sixty_fourths), mm),
                    "{size} {dressed:?}"
                );
            }
        };
        for row in THICK {
            holds(format!("{}x12", row.0), 0, row);
        }
        for row in WIDE {
            holds(format!("1x{}", row.0), 1, row);
        }
        // 7-1/2 in are 190.5 mm and 2-1/2 in 63.5 mm exactly: the table's 190 and 64
        // are halves to even (computed).
        assert_eq!(Length::from_64ths(480), Length::from_units(1_524_000));
        assert_eq!(Length::from_64ths(160), Length::from_units(508_000));
    }

    #[test]
    fn the_rule_behind_the_table() {
        // National Design Specification for Wood Construction, Supplement 2018, table
        // 1A, as a structural library has it: 2 to 4 thick and 2 to 12 wide.
        for thick in 2..=4i64 {
            // Of 7 in the standard takes half an inch, and 3/8 green, as of 6.
            for wide in (thick.max(2)..=12).filter(|&wide| wide != 7) {
                let size = format!("{thick}x{wide}");
                let less = |dry: bool, nominal: i64| match (dry, nominal) {
                    (true, ..=6) => 32,
                    (true, _) => 48,
                    (false, ..=4) => 28,
                    (false, 5..=6) => 24,
                    (false, _) => 32,
                };
                for (dressed, dry) in [(Dressed::Dry, true), (Dressed::Green, false)] {
                    let thick_less = if dry { 32 } else { 28 };
                    let expected = [
                        Length::from_64ths(thick * 64 - thick_less),
                        Length::from_64ths(wide * 64 - less(dry, wide)),
                    ];
                    assert_eq!(
                        section(&size, dressed),
                        Some(expected),
                        "{size} {dressed:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn sizes_as_people_write_them() {
        // Radius-edge decking: 5/4x4 is 1 by 3-1/2 in, 5/4x6 1 by 5-1/2; 2x4 and 2x6
        // 1-1/2 thick (SPIB grading rules, from memory).
        let dry = |size: &str| section(size, Dressed::Dry);
        let sixteenths = |thick: i64, wide: i64| {
            Some([Length::from_64ths(thick * 4), Length::from_64ths(wide * 4)])
        };
        assert_eq!(dry("5/4x4"), sixteenths(16, 56));
        assert_eq!(dry("5/4 x 6"), sixteenths(16, 88));
        assert_eq!(dry("2X4"), sixteenths(24, 56));
        assert_eq!(dry(" 2\u{d7}6"), sixteenths(24, 88));
        for unknown in ["6x6", "45x145", "2x14", "4x3", "joist", "2x", "x4", "8x2"] {
            assert_eq!(dry(unknown), None, "{unknown}");
        }
    }

    #[test]
    fn feet_of_lumber_an_inch_thick() {
        let feet = Length::from_feet;
        // US Army EN5155, page 1-28: 14 of 1x4x8 ft are 37-1/3 board feet.
        assert_eq!(board_feet("1x4", feet(14 * 8)), Some(373));
        // Estimating in Building Construction, example 13-3: 148 ft of 2x6 are 148.
        assert_eq!(board_feet("2x6", feet(148)), Some(1_480));
        // Computed: 5/4x6 is 5/4 x 6 / 12 to the foot.
        assert_eq!(board_feet("5/4 x 6", feet(16)), Some(100));
        assert_eq!(board_feet("6x6", feet(8)), Some(240));
        for unknown in ["45x145", "joist", "2x", "0x6"] {
            assert_eq!(board_feet(unknown, feet(8)), None, "{unknown}");
        }
    }

    #[test]
    fn a_nominal_width_is_no_measure() {
        let inches = Length::from_inches;
        assert_eq!(taken_for_nominal(inches(6)), Some(Length::from_64ths(352)));
        assert_eq!(taken_for_nominal(inches(8)), Some(Length::from_64ths(464)));
        assert_eq!(taken_for_nominal(Length::from_64ths(352)), None);
        assert_eq!(taken_for_nominal(inches(7)), None);
        // Old lumber is neither: a municipal code after rules of 1957 lists 4 in as
        // 3-5/8, 6 as 5-5/8, 8 as 7-1/2, 10 as 9-1/2, 12 as 11-1/2 and 2 as 1-5/8.
        for (size, old) in [
            ("2x4", 232),
            ("2x6", 360),
            ("2x8", 480),
            ("2x10", 608),
            ("2x12", 736),
        ] {
            let [thick, wide] = section(size, Dressed::Dry).expect("a size");
            assert!(wide < Length::from_64ths(old) && thick < Length::from_64ths(104));
        }
    }
}
