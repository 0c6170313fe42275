//! `lastcourse cut`.

use super::{cents, file, json, run, run_with};

#[test]
fn a_cut_list_for_people() {
    let ran = run(&[
        "cut",
        "--stock",
        "12ft@19.80",
        "--stock",
        "16ft@27.40",
        "--piece",
        "14x3ft4in",
        "--piece",
        "rail=3x7ft 2-1/2in",
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!(ran.out);
}

#[test]
fn three_lengths_with_prices_come_to_170() {
    // P. C. Gilmore, R. E. Gomory, A linear programming approach to the
    // cutting-stock problem, Operations Research 9 (1961): stock 5 at 6, 6 at
    // 7, 9 at 10; 20 pieces of 2, 10 of 3, 20 of 4; least cost 170.
    let answer = json(&[
        "cut", "--unit", "mm", "--kerf", "0", "--stock", "5@6", "--stock", "6@7", "--stock",
        "9@10", "--piece", "20x2", "--piece", "10x3", "--piece", "20x4",
    ]);
    let totals = &answer["totals"];
    assert_eq!(cents(&totals["price"]), 17_000);
    assert_eq!(cents(&totals["bound"]), 17_000);
    assert_eq!(totals["proven"], true);
    assert_eq!(totals["waste"], 0.0);
    assert_eq!(answer["schema"], "lastcourse/cut/1");
    assert_eq!(answer["unit"], "mm");
}

#[test]
fn a_kerf_can_cost_a_board() {
    // Computed: four pieces of 4 ft and three cuts of 1/8 in are 192.375 in,
    // more than 16 ft.
    let boards = |kerf: &[&str]| {
        let args = ["cut", "--stock", "16ft@10", "--piece", "12x4ft"];
        json(&[&args, kerf].concat())["totals"]["boards"].as_u64()
    };
    assert_eq!(boards(&["--kerf", "0"]), Some(3));
    assert_eq!(boards(&[]), Some(4));
}

#[test]
fn without_prices_the_length_bought_is_least() {
    let answer = json(&[
        "cut", "--stock", "8ft", "--stock", "10ft", "--kerf", "0", "--piece", "9x36in",
    ]);
    // Nine 3 ft pieces: three boards of 10 ft beat five of 8 ft (US Army
    // subcourse EN0069A, Carpentry, paragraphs 4-6 and 4-7).
    let totals = &answer["totals"];
    assert_eq!(totals["boards"], 3);
    assert_eq!(totals["objective"], "waste");
    assert_eq!(totals["value"], 360);
    assert_eq!(totals["bound"], 360);
    assert_eq!(totals["bought"], 360);
    assert!(totals["price"].is_null() && totals["cost"].is_null());
    assert!(answer["boards"][0]["price"].is_null());
}

#[test]
fn every_format_cuts_exactly_what_was_asked() {
    let stock = file(
        "yard.csv",
        "length,price,available\n16ft,41.50,\n12ft,30.00,3\n",
    );
    let pieces = file(
        "pieces.csv",
        "label,length,count\nrail,\"5' 4\"\"\",7\npost,3ft 1-1/8in,12\n,18in,5\n",
    );
    let args = ["cut", "--stock-file", &stock, "--piece-file", &pieces];
    let answer = json(&args);
    let mut rails = 0;
    let mut all = 0;
    let mut price = 0;
    for board in answer["boards"].as_array().expect("boards") {
        let count = board["count"].as_u64().expect("a count");
        let pieces = board["pieces"].as_array().expect("pieces");
        let long: f64 = pieces
            .iter()
            .filter_map(|piece| piece["length"].as_f64())
            .sum();
        let kerfs = 0.125 * pieces.len() as f64;
        let offcut = board["offcut"].as_f64().expect("an offcut");
        let length = board["length"].as_f64().expect("a length");
        assert_eq!(offcut, (length - long - kerfs).max(0.0));
        all += count * pieces.len() as u64;
        rails += count
            * pieces
                .iter()
                .filter(|piece| piece["label"] == "rail")
                .count() as u64;
        price += cents(&board["price"]) * count as i64;
    }
    assert_eq!((rails, all), (7, 24));
    assert_eq!(price, cents(&answer["totals"]["price"]));

    let sheet = run(&[&args[..], &["--format", "csv"]].concat());
    assert_eq!(sheet.code, 0);
    let mut rows = csv::Reader::from_reader(sheet.out.as_bytes());
    let heads = rows.headers().expect("heads").clone();
    let at = |name: &str| heads.iter().position(|head| head == name).expect("a head");
    let mut made = 0;
    for row in rows.records() {
        let row = row.expect("a row");
        let number = |name: &str| row[at(name)].parse::<u64>().expect("a number");
        made += number("count") * number("pieces_each");
    }
    assert_eq!(made, 24);
}

#[test]
fn sheets_may_come_from_standard_input() {
    let ran = run_with(
        &["cut", "--stock", "8ft@9", "--piece-file", "-"],
        "length,count\n4ft,3\n",
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.out
            .starts_with("3 boards for $27.00; no cut list can cost less.")
    );
}

#[test]
fn a_million_pieces_are_one_line() {
    let ran = run(&[
        "cut",
        "--stock",
        "16ft@41.50",
        "--piece",
        "1000000x3ft 11-1/2in",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(
        ran.out
            .starts_with("250,000 boards for $10,375,000.00; no cut list")
    );
    assert!(ran.out.lines().count() < 20, "{}", ran.out);
}

#[test]
fn thousands_of_lengths_are_cut_within_a_stated_distance_of_the_best() {
    let mut pieces = String::from("length,count\n");
    for k in 0..2000 {
        pieces.push_str(&format!("{}/64in,{}\n", 700 + 5 * k, 1 + k % 3));
    }
    let pieces = file("many.csv", pieces);
    let args = [
        "cut",
        "--stock",
        "16ft@41.50",
        "--stock",
        "20ft@54",
        "--piece-file",
        &pieces,
    ];
    let answer = json(&args);
    let totals = &answer["totals"];
    let (price, bound) = (cents(&totals["price"]), cents(&totals["bound"]));
    assert!(
        bound <= price && price <= bound + bound / 5,
        "{price} {bound}"
    );
    let gap = totals["gap"].as_f64().expect("a gap");
    assert!((gap - (price - bound) as f64 / price as f64).abs() < 1e-12);
    assert_eq!(totals["proven"], price == bound);
}

#[test]
fn whole_bundles_are_bought_and_what_is_left_over_is_told() {
    // Five boards of 8 ft hold ten pieces of 4 ft less a saw cut; in bundles of
    // four they are eight: computed by hand.
    let args = ["cut", "--kerf", "0", "--stock", "8ft@9.50x20:4"];
    let args = [&args[..], &["--piece", "10x4ft"]].concat();
    let ran = run(&args);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!(ran.out);
    let answer = json(&args);
    let left = &answer["left_over"][0];
    assert_eq!((&left["count"], &left["bought"]), (&3.into(), &8.into()));
    assert_eq!((&left["stock"], &left["bundle"]), (&1.into(), &4.into()));
    assert_eq!(cents(&left["price"]), 2850);
    assert_eq!(answer["totals"]["boards"], 5);
    assert_eq!(cents(&answer["totals"]["cost"]), 7600);
    assert_eq!(answer["totals"]["proven"], true);
    assert_eq!(answer["totals"]["bought"], 768);
    let sheet = run(&[&args[..], &["--format", "csv"]].concat());
    let mut rows = csv::Reader::from_reader(sheet.out.as_bytes());
    let rows: Vec<_> = rows.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), 2);
    let row: Vec<&str> = rows[1].iter().collect();
    assert_eq!(
        row,
        [
            "",
            "3",
            "1",
            "96",
            "9.50",
            "",
            "left over",
            "",
            "0",
            "",
            "in"
        ]
    );
}

#[test]
fn bundles_that_cannot_be_had_say_why() {
    let ran = run(&["cut", "--stock", "8ft@9x3:4", "--piece", "5x7ft"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    insta::assert_snapshot!(ran.err);
    let ran = run(&["cut", "--stock", "8ft@9x7:4", "--piece", "5x7ft"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    insta::assert_snapshot!(ran.err);
}

#[test]
fn what_cannot_be_cut_says_why() {
    let ran = run(&[
        "cut",
        "--stock",
        "8ft@9",
        "--stock",
        "30ft@99x0",
        "--piece",
        "beam=2x12ft",
        "--piece=3x4ft",
        "--piece=1x9ft",
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    insta::assert_snapshot!(ran.err);
    let ran = run(&["cut", "--stock", "8ft@9x2", "--piece", "5x7ft"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    insta::assert_snapshot!(ran.err);
}

#[test]
fn every_mistake_is_told_at_once() {
    let pieces = file(
        "wrong.csv",
        "label,length,count\nrail,4 feets,12\npost,4ft,\n",
    );
    let ran = run(&[
        "cut",
        "--stock",
        "16 foots@41.50",
        "--kerf",
        "-1/8in",
        "--piece-file",
        &pieces,
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    let folder = env!("CARGO_TARGET_TMPDIR");
    insta::assert_snapshot!(ran.err.replace(folder, "FOLDER"));
}
