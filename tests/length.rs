//! Lengths and money: what is read, what is refused and why, and that what is
//! printed reads back.

use lastcourse::length::{Form, Length, Printer, Unit};
use lastcourse::money::{Money, Rate};
use proptest::prelude::*;

#[track_caller]
fn reads(text: &str, units: i64) {
    match Length::parse(text, None) {
        Ok(length) => assert_eq!(length.units(), units, "{text}"),
        Err(error) => panic!("{text}: {error}"),
    }
}

#[track_caller]
fn refuses(text: &str, at: &str, message: &str) {
    let error = Length::parse(text, Some(Unit::Inch)).expect_err(text);
    assert_eq!(
        (&text[error.span()], error.message()),
        (at, message),
        "{text}"
    );
    assert!(!error.help().is_empty());
}

/// 13 ft 2-1/2 in.
const MOST: i64 = (158 * 2 + 1) * 101_600;

#[test]
fn feet_and_inches_are_read_however_they_are_written() {
    for text in [
        "13' 2-1/2\"",
        "13'2-1/2\"",
        "13'-2-1/2\"",
        "13' - 2 1/2\"",
        "13ft 2-1/2in",
        "13 ft 2 1/2 in",
        "13 ft. 2-1/2 in.",
        "13 feet, 2.5 inches",
        "13 FEET 2.50 Inches",
        "13′ 2-1/2″",
        "13’ 2½”",
        "13‘ 2 ½“",
        "13’2–1⁄2„",
        "13' 2¹⁄₂''",
        "13\u{a0}ft\u{a0}2\u{202f}1/2\u{2009}in",
        "  +13' 2.5\"  ",
        "13' 2-1/2",
        "158-1/2\"",
        "158½in",
        "158 1/2 inch",
        "158.5\"",
        "13.208333333333333ft",
        "317/2 in",
    ] {
        reads(text, MOST);
    }
}

#[test]
fn bare_numbers_are_in_the_unit_that_is_assumed() {
    let inch = |text| Length::parse(text, Some(Unit::Inch));
    let mm = |text| Length::parse(text, Some(Unit::Millimetre));
    assert_eq!(inch("158 1/2").unwrap().units(), MOST);
    assert_eq!(inch("158-1/2").unwrap().units(), MOST);
    assert_eq!(mm("4013").unwrap(), Length::from_mm(4013));
    assert_eq!(mm("4013.5").unwrap(), Length::from_tenths_of_mm(40_135));
    assert_eq!(Length::parse("0", None).unwrap(), Length::ZERO);
    assert_eq!(
        "158".parse::<Length>().unwrap_err().to_string(),
        "\"158\" has no unit: write 158 in, 158 ft, 158 mm or 158 m"
    );
}

#[test]
fn metric_lengths_are_read() {
    reads("4013 mm", 4013 * 8000);
    reads("401.3cm", 4013 * 8000);
    reads("4.013 m", 4013 * 8000);
    reads("4 metres 13 mm", 4013 * 8000);
    reads("4 m 1.3 cm", 4013 * 8000);
    reads(".5mm", 4000);
    reads("4.mm", 32_000);
}

#[test]
fn signs_go_before_the_whole_length() {
    reads("-1/2in", -101_600);
    reads("−½\"", -101_600);
    reads("- 1' 6\"", -18 * 203_200);
    reads("+3/16in", 38_100);
    reads("-0in", 0);
}

#[test]
fn what_is_not_whole_goes_to_the_nearest_and_halves_away_from_zero() {
    reads("1/3 in", 67_733); // 67,733.3
    reads("⅔\"", 135_467); // 135,466.7
}

#[test]
fn halves_of_a_unit_go_away_from_zero() {
    // 1/8 µm is 0.000125 mm; half of it is 0.0000625 mm.
    reads("0.0000625mm", 1);
    reads("-0.0000625mm", -1);
    reads("0.00006249mm", 0);
    reads("0.0001875mm", 2);
    reads("1/406400in", 1);
    reads("-1/406400in", -1);
    reads("1/406401in", 0);
}

#[test]
fn what_could_mean_two_things_is_refused() {
    refuses("4,013", ",", "a comma may mean thousands or decimals");
    refuses("2,5 mm", ",", "a comma may mean thousands or decimals");
    refuses(
        "13-2-1/2",
        "13-2-1/2",
        "\"13-2-1/2\" could be feet and inches, or inches and a fraction",
    );
    refuses(
        "5 - 1/2",
        "5 - 1/2",
        "\"5 - 1/2\" could be a sum or a difference",
    );
    refuses(
        "4 013 mm",
        "4 013 mm",
        "\"4\" and \"013 mm\" stand side by side without units",
    );
    refuses("4 m 13", "13", "\"13\" after metres has no unit");
}

#[test]
fn what_is_wrong_is_refused_for_what_it_is() {
    refuses("", "", "there is no length here");
    refuses("  ", "  ", "there is no length here");
    refuses(
        "13' 14\"",
        "14",
        "after feet there are fewer than 12 inches",
    );
    refuses(
        "13' 12\"",
        "12",
        "after feet there are fewer than 12 inches",
    );
    refuses("5/0", "5/0", "a fraction cannot have 0 under its line");
    refuses("1/2/3", "1/2/3", "\"1/2/3\" has two fraction lines");
    refuses("2 5/4", "2 5/4", "the fraction of \"2 5/4\" is not below 1");
    refuses(
        "2.5-1/2",
        "2.5-1/2",
        "\"2.5-1/2\" has decimals and a fraction",
    );
    refuses("1/2.5", "1/2.5", "a fraction is made of whole numbers");
    refuses("3/ in", "3/", "the fraction has nothing under its line");
    refuses("13ft 20mm", "13ft 20", "feet and millimetres in one length");
    refuses("2in 3in", "2in 3", "inches are given twice");
    refuses("2in 13ft", "2in 13", "feet come after inches");
    refuses(
        "13 1/2 ft 2 in",
        "13 1/2 ft 2 in",
        "only the last number of a length may have a fraction, and 2 in follows 13 1/2",
    );
    refuses(
        "13 furlongs",
        "furlongs",
        "\"furlongs\" is not a unit of length",
    );
    refuses("1e3", "e", "\"e\" is not a unit of length");
    refuses("nan", "nan", "\"nan\" is not a unit of length");
    refuses("in", "in", "the unit \"in\" has no number before it");
    refuses("1.2.3", "1.2.3", "\"1.2.3\" is not a number");
    refuses(".", ".", "\".\" is not a number");
    refuses("-", "-", "a number is missing after this");
    refuses("--1", "-", "a \"-\" stands where none belongs");
    refuses("5+1/2", "+", "a \"+\" stands where none belongs");
    refuses("13 ft,", ",", "a number is missing after this");
    refuses("½½", "½½", "\"½½\" has more after its fraction");
    refuses("≈ 3 in", "≈", "\"≈\" does not belong in a length");
    refuses("4_013", "_", "a number is written without separators");
    refuses(
        "3\u{7}in",
        "\u{7}",
        "\"\\u{7}\" does not belong in a length",
    );
    refuses("100001 m", "100001 m", "longer than 100 km");
    refuses(
        "1234567890123456789",
        "1234567890123456789",
        "a number of more than 18 digits",
    );
    refuses(
        "999999999999999999 999999999999999998/999999999999999999 ft",
        "999999999999999999 999999999999999998/999999999999999999 ft",
        "longer than 100 km",
    );
}

#[test]
fn the_limit_itself_is_read() {
    reads("100000 m", Length::LIMIT.units());
    reads("-100000 m", -Length::LIMIT.units());
}

#[track_caller]
fn shows(printer: Printer, units: i64, text: &str) {
    assert_eq!(printer.show(Length::from_units(units)), text);
}

#[test]
fn inches_print_as_on_a_tape() {
    let prose = Printer::new(Unit::Inch);
    shows(prose, MOST, "13 ft 2-1/2 in");
    shows(prose, MOST + 1, "≈ 13 ft 2-1/2 in");
    shows(prose.unmarked(), MOST + 1, "13 ft 2-1/2 in");
    shows(prose, 144 * 203_200, "12 ft");
    shows(prose, 144 * 203_200 + 12_700, "12 ft 0-1/16 in");
    shows(prose, 144 * 203_200 - 1, "≈ 12 ft");
    shows(prose, 16 * 203_200, "16 in");
    shows(prose, 37 * 203_200, "3 ft 1 in");
    shows(prose, 38_100, "3/16 in");
    shows(prose, -101_600, "-1/2 in");
    shows(prose, -50, "≈ 0 in");
    shows(prose, 0, "0 in");
    shows(prose, 6_350, "≈ 1/16 in"); // 1/32 in: halves go away from zero
    shows(prose.to_32nds(), 6_350, "1/32 in");
    shows(prose.to_64ths(), 3_175, "1/64 in");
    let short = prose.form(Form::Short);
    shows(short, MOST, "13' 2-1/2\"");
    shows(short, 144 * 203_200, "12' 0\"");
    shows(short, 38_101, "≈3/16\"");
    shows(prose.form(Form::Inches), MOST, "158-1/2 in");
}

#[test]
fn millimetres_print_without_decimals_unless_they_matter() {
    let printer = Printer::new(Unit::Millimetre);
    shows(printer, 4013 * 8000, "4013 mm");
    shows(printer, 38_400, "4.8 mm");
    shows(printer, 38_100, "≈ 4.8 mm");
    shows(printer, 40_000, "5 mm");
    shows(printer, 112 * 8000 + 4000, "112.5 mm");
    shows(printer, 4013 * 8000 + 800, "≈ 4013 mm");
    shows(printer.to_32nds(), 4013 * 8000 + 800, "4013.1 mm");
    shows(printer, -4000, "-0.5 mm");
    assert_eq!(format!("{:#}", Length::from_mm(12)), "12 mm");
    assert_eq!(format!("{:>8}", Length::from_inches(12)), "   12 in");
}

#[test]
fn exact_text_is_as_a_person_would_type_it() {
    let exact = |units, unit| Length::from_units(units).exact(unit);
    assert_eq!(exact(38_100, Unit::Inch), "3/16in");
    assert_eq!(exact(MOST, Unit::Inch), "13ft 2-1/2in");
    assert_eq!(exact(-101_600, Unit::Inch), "-1/2in");
    assert_eq!(exact(144 * 203_200, Unit::Inch), "12ft");
    assert_eq!(exact(0, Unit::Inch), "0in");
    assert_eq!(exact(55_033, Unit::Inch), "0.270832in");
    assert_eq!(exact(38_100, Unit::Millimetre), "4.7625mm");
    assert_eq!(exact(-1, Unit::Millimetre), "-0.000125mm");
    assert_eq!(exact(4013 * 8000, Unit::Millimetre), "4013mm");
}

#[test]
fn prices_are_read_to_the_cent() {
    let reads = |text: &str| Money::parse(text).map(Money::cents);
    for text in [
        "41.50",
        "$41.50",
        "41.5",
        " € 41.50",
        "41.50 €",
        "EUR 41.50",
        "41.500",
    ] {
        assert_eq!(reads(text), Ok(4150), "{text}");
    }
    assert_eq!(reads("1,672.00"), Ok(167_200));
    assert_eq!(reads("1672"), Ok(167_200));
    assert_eq!(reads("0"), Ok(0));
    assert_eq!(reads(".5"), Ok(50));
    for text in [
        "",
        "$",
        ".",
        "4.",
        "abc",
        "1e3",
        "41.505",
        "41,50",
        "1,67.00",
        ",5",
        "-1",
        "−1",
        "1 672",
        "$4$",
        "NaN",
        "9999999999",
        "99999999999999999999",
        "4.5.0",
        "½",
        "éé4",
    ] {
        assert!(reads(text).is_err(), "{text}");
    }
}

#[test]
fn money_prints_with_its_sign() {
    let money = Money::from_cents;
    assert_eq!(money(167_200).to_string(), "1,672.00");
    assert_eq!(money(123_456_789).to_string(), "1,234,567.89");
    assert_eq!(money(99_900).to_string(), "999.00");
    assert_eq!(money(-310).to_string(), "-3.10");
    assert_eq!(money(-310).show("$"), "-$3.10");
    assert_eq!(money(310).show_difference("$"), "+$3.10");
    assert_eq!(money(0).show_difference("$"), "$0.00");
    assert_eq!(money(310).show("EUR"), "3.10 EUR");
    assert_eq!(money(167_200).decimal(), "1672.00");
    assert_eq!(money(5).decimal(), "0.05");
}

#[test]
fn prices_by_length_are_rounded_half_up_to_the_cent() {
    let price = |rate: Rate, length| rate.price_for(length).unwrap().cents();
    let foot = Rate::per_foot("2.5938").unwrap();
    assert_eq!(price(foot, Length::from_feet(16)), 4150); // 41.5008
    // 0.125 a foot over 1 ft is 12.5 cents.
    assert_eq!(
        price(Rate::per_foot("0.125").unwrap(), Length::from_feet(1)),
        13
    );
    assert_eq!(
        price(Rate::per_foot("0.1249").unwrap(), Length::from_feet(1)),
        12
    );
    assert_eq!(
        price(Rate::per_metre("6.20").unwrap(), Length::from_mm(4200)),
        2604
    );
    assert!(Rate::per_foot("2.59385").is_err());
    assert_eq!(foot.price_for(Length::from_mm(-1_000)), None);
}

proptest! {
    #[test]
    fn exact_text_reads_back(units in -Length::LIMIT.units()..=Length::LIMIT.units()) {
        let length = Length::from_units(units);
        for unit in [Unit::Inch, Unit::Millimetre] {
            prop_assert_eq!(Length::parse(&length.exact(unit), None), Ok(length));
        }
    }

    #[test]
    fn small_exact_text_reads_back(units in -2_000_000i64..2_000_000) {
        let length = Length::from_units(units);
        for unit in [Unit::Inch, Unit::Millimetre] {
            prop_assert_eq!(Length::parse(&length.exact(unit), None), Ok(length));
        }
    }

    #[test]
    fn a_number_in_a_unit_gives_the_length_back(units in -Length::LIMIT.units()..=Length::LIMIT.units()) {
        let length = Length::from_units(units);
        let inches = length.in_unit(Unit::Inch) * Length::UNITS_PER_INCH as f64;
        let mm = length.in_unit(Unit::Millimetre) * Length::UNITS_PER_MM as f64;
        prop_assert_eq!(inches.round() as i64, units);
        prop_assert_eq!(mm.round() as i64, units);
    }

    #[test]
    fn printed_sixty_fourths_read_back(count in -200_000i64..200_000, form in 0..3usize) {
        let length = Length::from_64ths(count);
        let form = [Form::Prose, Form::Short, Form::Inches][form];
        let text = Printer::new(Unit::Inch).to_64ths().form(form).show(length);
        prop_assert_eq!(Length::parse(&text, None), Ok(length), "{}", text);
    }

    #[test]
    fn a_print_is_marked_exactly_when_it_is_rounded(units in -100_000_000i64..100_000_000) {
        let length = Length::from_units(units);
        for unit in [Unit::Inch, Unit::Millimetre] {
            let shown = length.show(unit);
            let plain = shown.trim_start_matches("≈ ");
            let read = Length::parse(plain, None).unwrap();
            prop_assert_eq!(shown.starts_with('≈'), read != length);
            let step = if unit == Unit::Inch { 12_700 } else { 8_000 };
            prop_assert!((read - length).units().abs() * 2 <= step);
        }
    }

    #[test]
    fn parts_add_up(feet in 0i64..10_000, inches in 0i64..12, over in 0i64..64, typographic: bool) {
        let length = Length::from_feet(feet) + Length::from_inches(inches) + Length::from_64ths(over);
        let (foot, inch) = if typographic { ("′", "″") } else { ("ft", "in") };
        let text = format!("{feet}{foot} {inches}-{over}/64{inch}");
        prop_assert_eq!(Length::parse(&text, None), Ok(length), "{}", text);
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC{0,12}", bare: bool) {
        let unit = bare.then_some(Unit::Inch);
        if let Err(error) = Length::parse(&text, unit) {
            prop_assert!(text.get(error.span()).is_some());
        }
        let _ = Money::parse(&text);
    }

    #[test]
    fn no_jumble_of_marks_makes_it_panic(text in "[0-9./ 'ftinm\"½,+-]{0,16}") {
        if let Err(error) = Length::parse(&text, Some(Unit::Inch)) {
            prop_assert!(text.get(error.span()).is_some());
        }
        let _ = Money::parse(&text);
    }

    #[test]
    fn printed_money_reads_back(cents in 0i64..=Money::LIMIT.cents()) {
        let money = Money::from_cents(cents);
        prop_assert_eq!(Money::parse(&money.to_string()), Ok(money));
        prop_assert_eq!(Money::parse(&money.decimal()), Ok(money));
        prop_assert_eq!(Money::parse(&money.show("$")), Ok(money));
        prop_assert_eq!(Money::parse(&money.show("EUR")), Ok(money));
    }
}
