//! A cut list for a spreadsheet: a row for each run of equal pieces on boards
//! that are cut alike, and one for boards that bundles leave over.

use crate::cutlist::CutList;
use crate::report::csv::{Sheet, length, unit};
use crate::stock::CutPlan;

const HEADS: [&str; 11] = [
    "board",
    "count",
    "stock",
    "board_length",
    "price_each",
    "cut",
    "label",
    "length",
    "pieces_each",
    "offcut",
    "unit",
];

/// The cut list as CSV.
pub fn csv(list: &CutList, plan: &CutPlan) -> String {
    let mut sheet = Sheet::new(&HEADS);
    for (k, board) in plan.boards.iter().enumerate() {
        let stock = &list.problem.stock[board.stock];
        let price = match (list.by_length, stock.price) {
            (None, Some(price)) => price.decimal(),
            _ => String::new(),
        };
        for (cut, alike) in board.pieces.chunk_by(|a, b| a == b).enumerate() {
            let piece = alike[0];
            sheet.row([
                (k + 1).to_string(),
                board.count.to_string(),
                (board.stock + 1).to_string(),
                length(stock.length, list.unit),
                price.clone(),
                (cut + 1).to_string(),
                list.labels[piece].clone().unwrap_or_default(),
                length(list.problem.pieces[piece].length, list.unit),
                alike.len().to_string(),
                length(board.offcut, list.unit),
                unit(list.unit).to_string(),
            ]);
        }
    }
    for left in &plan.left_over {
        let stock = &list.problem.stock[left.stock];
        let price = match (list.by_length, stock.price) {
            (None, Some(price)) => price.decimal(),
            _ => String::new(),
        };
        let mut row: [String; HEADS.len()] = Default::default();
        row[1] = left.count.to_string();
        row[2] = (left.stock + 1).to_string();
        row[3] = length(stock.length, list.unit);
        row[4] = price;
        row[6] = "left over".to_string();
        row[8] = "0".to_string();
        row[10] = unit(list.unit).to_string();
        sheet.row(row);
    }
    sheet.finish()
}
