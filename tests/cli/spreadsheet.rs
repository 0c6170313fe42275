//! The order as a spreadsheet, read back by a library that knows nothing of how
//! it was made.

use calamine::{Data, Reader, Xlsx, open_workbook};

use super::{cents, file, json, run};

const DECK: &str = "fixtures/heron-yard-deck.toml";

#[test]
fn it_holds_every_line_and_comes_to_the_same_sum() {
    let path = file("order.xlsx", "");
    let ran = run(&["order", DECK, "--spreadsheet", &path]);
    assert_eq!(ran.code, 1, "a file that is there stays");
    assert!(ran.err.contains("--force"), "{}", ran.err);
    let ran = run(&["order", DECK, "--spreadsheet", &path, "--force"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let first = std::fs::read(&path).expect("a file");
    run(&["order", DECK, "--spreadsheet", &path, "--force"]);
    assert_eq!(
        first,
        std::fs::read(&path).expect("a file"),
        "same order, same bytes"
    );

    let order = json(&["order", DECK]);
    let lines = order["lines"].as_array().expect("lines");
    let mut workbook: Xlsx<_> = open_workbook(&path).expect("a workbook");
    let sheet = workbook.worksheet_range("Order").expect("a sheet");
    let rows: Vec<&[Data]> = sheet.rows().collect();
    for (row, line) in rows[1..].iter().zip(lines) {
        assert_eq!(row[0].to_string(), line["group"].as_str().expect("a group"));
        assert_eq!(row[1].to_string(), line["item"].as_str().expect("an item"));
        assert_eq!(row[6].to_string(), line["count"].to_string());
        let together = match line["price"].is_null() {
            true => "0".to_owned(),
            false => (cents(&line["price"]) as f64 / 100.0).to_string(),
        };
        assert_eq!(row[8].to_string(), together, "{line}");
    }
    let named = |name: &str| {
        let row = rows.iter().find(|row| row[1].to_string().starts_with(name));
        row.expect("a row")[8].to_string()
    };
    for (name, key) in [
        ("goods", "goods"),
        ("contingency", "contingency"),
        ("delivery", "delivery"),
        ("tax", "tax"),
        ("all in", "all_in"),
    ] {
        let money = cents(&order["sums"][key]) as f64 / 100.0;
        assert_eq!(named(name), money.to_string(), "{name}");
    }
    // The sums are formulas over the lines above them: every line is in them.
    let formulas = workbook.worksheet_formula("Order").expect("formulas");
    let goods = formulas
        .get_value((lines.len() as u32 + 2, 8))
        .expect("the sum");
    assert_eq!(
        goods.trim_start_matches('='),
        format!("SUM(I2:I{})", lines.len() + 1)
    );
    let deliveries = workbook.worksheet_range("Deliveries").expect("a sheet");
    let brought = order["deliveries"].as_array().expect("deliveries").len();
    assert_eq!(deliveries.rows().count(), 1 + brought);
}
