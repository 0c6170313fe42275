//! What is read, and what is said of what cannot be.

use super::{Asked, CutList, read};
use crate::job::Source;
use crate::length::{Length, Unit};
use crate::money::Money;

fn options(stock: &[&str], pieces: &[&str]) -> Asked {
    let texts = |texts: &[&str]| texts.iter().map(|text| text.to_string()).collect();
    Asked {
        stock: texts(stock),
        pieces: texts(pieces),
        ..Asked::default()
    }
}

fn sheets(stock: &str, pieces: &str) -> Asked {
    let sheet = |name: &str, text: &str| Source {
        name: name.to_string(),
        text: text.to_string(),
    };
    Asked {
        stock_sheets: vec![sheet("stock.csv", stock)],
        piece_sheets: vec![sheet("pieces.csv", pieces)],
        ..Asked::default()
    }
}

/// Boards as (length in, price in cents, available), pieces as (label, length in, count).
type Short = (
    Vec<(f64, Option<i64>, Option<u64>)>,
    Vec<(Option<String>, f64, u64)>,
);

#[track_caller]
fn list(asked: &Asked) -> CutList {
    read(asked).unwrap_or_else(|findings| panic!("{findings}"))
}

fn short(list: &CutList) -> Short {
    let boards = list.problem.stock.iter().map(|board| {
        (
            board.length.inches(),
            board.price.map(Money::cents),
            board.available,
        )
    });
    let pieces = list.problem.pieces.iter().zip(&list.labels);
    let pieces = pieces.map(|(piece, label)| (label.clone(), piece.length.inches(), piece.count));
    (boards.collect(), pieces.collect())
}

/// The places and messages of all mistakes, as `name:line:column message`.
#[track_caller]
fn mistakes(asked: &Asked) -> Vec<String> {
    let findings = read(asked).expect_err("something is wrong");
    let told = findings.problems.iter().map(|problem| {
        assert!(!problem.help.is_empty(), "no way out of {problem:?}");
        match &problem.place {
            Some(place) => {
                let (line, column) = findings.line_and_column(place).expect("a place");
                let name = &findings.sources[place.source].name;
                format!("{name}:{line}:{column} {}", problem.message)
            }
            None => problem.message.clone(),
        }
    });
    told.collect()
}

#[test]
fn options_name_lengths_prices_counts_and_labels() {
    let list = list(&options(
        &["16ft@41.50", "20ft @ $52.00 x 10", "96 @ 18X0", "8'@9×3"],
        &["12x4ft", "top rail=2 x 5ft 4in", "3×18-1/2", "a=b=1x1in"],
    ));
    let (boards, pieces) = short(&list);
    assert_eq!(
        boards,
        [
            (192.0, Some(4150), None),
            (240.0, Some(5200), Some(10)),
            (96.0, Some(1800), Some(0)),
            (96.0, Some(900), Some(3)),
        ]
    );
    assert_eq!(
        pieces,
        [
            (None, 48.0, 12),
            (Some("top rail".to_string()), 64.0, 2),
            (None, 18.5, 3),
            (Some("a=b".to_string()), 1.0, 1),
        ]
    );
    assert_eq!(list.problem.kerf, Length::from_64ths(8));
    assert_eq!(list.unit, Unit::Inch);
}

#[test]
fn sheets_may_have_their_columns_in_any_order_and_leave_some_out() {
    let list = list(&sheets(
        "\u{feff}Price,length\r\n41.50,16ft\r\n\r\n\"1,041.50\",20 ft\r\n",
        "count;length;label\n12;4ft;\"rail; \"\"top\"\"\"\n1;\"3' 6\"\"\"\n;;\n2;18\";x\n",
    ));
    let (boards, pieces) = short(&list);
    assert_eq!(
        boards,
        [(192.0, Some(4150), None), (240.0, Some(104_150), None)]
    );
    assert_eq!(
        pieces,
        [
            (Some("rail; \"top\"".to_string()), 48.0, 12),
            (None, 42.0, 1),
            (Some("x".to_string()), 18.0, 2),
        ]
    );
}

#[test]
fn results_are_metric_when_every_length_is() {
    let unit = |stock: &str, piece: &str, kerf: Option<&str>| {
        let mut asked = options(&[stock], &[piece]);
        asked.kerf = kerf.map(str::to_string);
        let list = list(&asked);
        (list.unit, list.problem.kerf)
    };
    let three = Length::from_mm(3);
    assert_eq!(unit("4.8m@30", "2x900mm", None), (Unit::Millimetre, three));
    assert_eq!(
        unit("4.8m@30", "2x900mm", Some("0")),
        (Unit::Millimetre, Length::ZERO)
    );
    assert_eq!(unit("4.8m@30", "2x36", Some("3mm")), (Unit::Inch, three));
    assert_eq!(unit("4.8m@30", "2x900mm", Some("1/8in")).0, Unit::Inch);
    let mut asked = options(&["4800@30"], &["2x900"]);
    asked.unit = Some(Unit::Millimetre);
    let list = list(&asked);
    assert_eq!(list.problem.stock[0].length, Length::from_mm(4800));
    assert_eq!(list.unit, Unit::Millimetre);
}

#[test]
fn without_prices_length_is_what_counts() {
    let list = list(&options(&["8ft", "12ft", "16ftx2"], &["1x4ft"]));
    assert_eq!(list.by_length, Some(Length::from_feet(4)));
    let prices: Vec<i64> = short(&list).0.iter().filter_map(|board| board.1).collect();
    assert_eq!(prices, [2, 3, 4]);
}

#[test]
fn every_mistake_is_told_with_its_place() {
    let mut asked = options(
        &["16 foots@4l.50", "0ft@3", "", "20ft@10x-1"],
        &["twelvex4ft", "4ft", "3x-2ft"],
    );
    asked.kerf = Some("-1/8in".to_string());
    let told = mistakes(&asked);
    let places: Vec<&str> = told
        .iter()
        .filter_map(|told| told.split(' ').next())
        .collect();
    assert_eq!(
        places,
        [
            "--stock:1:4",
            "--stock:1:10",
            "--stock:1:1",
            "--stock:1:1",
            "--stock:1:9",
            "--piece:1:1",
            "--piece:1:1",
            "--piece:1:3",
            "--kerf:1:1",
        ],
        "{told:#?}"
    );
}

#[test]
fn mistakes_in_sheets_are_told_by_line_and_column() {
    let told = mistakes(&sheets(
        "length,price,available\n16ft,41.5O,\n,3,\n12ft,30,many\n8ft,1,672.00,5\n",
        "label,length,count\nrail,4 feets,12\npost,4ft,\n",
    ));
    assert_eq!(
        told,
        [
            "stock.csv:2:6 \"41.5O\" is not an amount of money",
            "stock.csv:3:1 this board has no length",
            "stock.csv:4:9 \"many\" is not a number of boards",
            "stock.csv:5:14 this row has 4 values under 3 headings",
            "pieces.csv:2:8 \"feets\" is not a unit of length",
            "pieces.csv:3:1 this piece has no count",
        ],
        "{told:#?}"
    );
}

#[test]
fn wrong_headings_are_told_with_the_nearest_right_one() {
    let findings = read(&sheets("lenght,price\n16ft,4\n", "16ft,3\n")).expect_err("wrong headings");
    let told = findings.to_string();
    assert!(told.contains("there is no heading \"lenght\""), "{told}");
    assert!(told.contains("perhaps length is meant"), "{told}");
    assert!(
        told.contains("the first line has the headings label,length,count"),
        "{told}"
    );
    let missing = mistakes(&sheets("price\n4\n", "label,length\na,4ft\n"));
    assert_eq!(
        missing,
        [
            "stock.csv:1:1 the heading \"length\" is missing",
            "pieces.csv:1:1 the heading \"count\" is missing",
        ]
    );
    let twice = mistakes(&sheets("length,length\n4ft,4ft\n", "length,count\n1ft,1\n"));
    assert_eq!(
        twice,
        ["stock.csv:1:8 the heading \"length\" is there twice"]
    );
}

#[test]
fn empty_and_broken_sheets_say_so() {
    assert_eq!(
        mistakes(&sheets("", "label,length,count\n\"rail,4ft,1\n")),
        [
            "stock.csv:1:1 this sheet is empty",
            "pieces.csv:2:1 a quotation mark opens here and is never closed",
        ]
    );
}

#[test]
fn nothing_to_cut_and_nothing_to_cut_from() {
    assert_eq!(
        mistakes(&Asked::default()),
        [
            "there are no boards to cut from",
            "there are no pieces to cut"
        ]
    );
    assert_eq!(
        mistakes(&options(&["8ft@3"], &["0x4ft"])),
        ["there are no pieces to cut"]
    );
}

#[test]
fn prices_are_for_all_boards_or_for_none() {
    assert_eq!(
        mistakes(&options(&["8ft@3", "12ft", "16ftx2"], &["1x4ft"])),
        [
            "--stock:1:1 this board has no price, but others have one",
            "--stock:1:1 this board has no price, but others have one",
        ]
    );
}

#[test]
fn what_cannot_be_counted_exactly_is_refused() {
    let told = mistakes(&options(&["100000m@999999999"], &["100000000x1in"]));
    assert_eq!(
        told,
        ["there is more to cut here than can be counted exactly"]
    );
    let told = mistakes(&options(&["8ft@1"], &["999999999999x1in"]));
    assert_eq!(
        told,
        ["--piece:1:1 999999999999 pieces are too many to be cut in one go"]
    );
}

#[test]
fn bundles_stand_behind_a_colon_or_in_a_column() {
    let bundles = |asked: &Asked| -> Vec<(Option<u64>, u64)> {
        let list = list(asked);
        let stock = list.problem.stock.iter();
        stock.map(|b| (b.available, b.bundle)).collect()
    };
    let typed = ["16ft@41.50x40:8", "16ft@41.50 : 6", "12ft@2:4", "12ft@3"];
    assert_eq!(
        bundles(&options(&typed, &["1x1ft"])),
        [(Some(40), 8), (None, 6), (None, 4), (None, 1)]
    );
    assert_eq!(
        bundles(&options(&["12ft:4", "16ftx9:3"], &["1x1ft"])),
        [(None, 4), (Some(9), 3)]
    );
    assert_eq!(
        bundles(&sheets(
            "length,bundle,price\n16ft,8,41.50\n12ft,,30\n",
            "length,count\n1ft,1\n"
        )),
        [(None, 8), (None, 1)]
    );
}

#[test]
fn what_is_no_bundle_is_told() {
    assert_eq!(
        mistakes(&options(
            &[
                "16ft@41.50:0",
                "16ft@41.50:some",
                "16ft@41.50:8x40",
                "16ft@41.50:"
            ],
            &["1x1ft"]
        )),
        [
            "--stock:1:12 there are no bundles of 0 boards",
            "--stock:1:12 \"some\" is not a number of boards in a bundle",
            "--stock:1:12 \"8x40\" is not a number of boards in a bundle",
            "--stock:1:12 \"\" is not a number of boards in a bundle",
        ]
    );
    assert_eq!(
        mistakes(&sheets(
            "length,price,bundle\n16ft,41.50,-2\n16ft,41.50,0\n",
            "length,count\n1ft,1\n"
        )),
        [
            "stock.csv:2:12 \"-2\" is not a number of boards in a bundle",
            "stock.csv:3:12 there are no bundles of 0 boards",
        ]
    );
    // More would be paid than can be counted exactly.
    assert_eq!(
        mistakes(&options(&["16ft@99999999:100000000"], &["1x1ft"])),
        ["there is more to cut here than can be counted exactly"]
    );
}
