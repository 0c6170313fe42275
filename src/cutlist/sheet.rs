//! Boards and pieces as spreadsheets: their headings, and what the values under
//! them mean. How a sheet is written is left to [`crate::sheet`].

use super::reader::{Reader, Text};
use crate::sheet::{self, Known};

const BOARDS: [Known; 4] = [
    ("length", true),
    ("price", false),
    ("available", false),
    ("bundle", false),
];
const PIECES: [Known; 3] = [("label", false), ("length", true), ("count", true)];

/// Boards: `length,price,available,bundle`.
pub(super) fn stock(reader: &mut Reader, source: usize) {
    for row in rows(reader, source, &BOARDS) {
        let [length, price, available, bundle] = &row.cells[..] else {
            continue;
        };
        let read = length
            .as_ref()
            .and_then(|cell| reader.positive(cell, "a board"));
        if length.is_none() {
            reader.wrong(
                &row.whole,
                "this board has no length",
                "write one such as 16ft",
            );
        }
        let price = match price {
            Some(cell) => reader.price(cell).map(Some),
            None => Some(None),
        };
        let available = match available {
            Some(cell) => reader.count(cell, "boards").map(Some),
            None => Some(None),
        };
        let bundle = match bundle {
            Some(cell) => reader.bundle(cell),
            None => Some(1),
        };
        if let (Some(length), Some(price), Some(available), Some(bundle)) =
            (read, price, available, bundle)
        {
            reader.board(row.whole, length, price, available, bundle);
        }
    }
}

/// Pieces: `label,length,count`.
pub(super) fn pieces(reader: &mut Reader, source: usize) {
    for row in rows(reader, source, &PIECES) {
        let [label, length, count] = &row.cells[..] else {
            continue;
        };
        let label = label.as_ref().map(|cell| reader.trimmed(cell).0);
        for (cell, what, help) in [
            (length, "length", "write one such as 4ft"),
            (count, "count", "write how many, such as 12"),
        ] {
            if cell.is_none() {
                reader.wrong(&row.whole, format!("this piece has no {what}"), help);
            }
        }
        let length = length
            .as_ref()
            .and_then(|cell| reader.positive(cell, "a piece"));
        let count = count.as_ref().and_then(|cell| reader.count(cell, "pieces"));
        if let (Some(length), Some(count)) = (length, count) {
            reader.piece(label, length, count);
        }
    }
}

/// A row's cells under the known headings; an empty cell is none.
struct Row {
    whole: Text,
    cells: Vec<Option<Text>>,
}

/// The rows of a sheet; mistakes in its shape are noted.
fn rows(reader: &mut Reader, source: usize, known: &[Known]) -> Vec<Row> {
    let (rows, faults) = sheet::rows(reader.text(source), known);
    for fault in faults {
        reader.wrong(&Text::new(source, fault.span), fault.message, fault.help);
    }
    rows.into_iter()
        .map(|row| Row {
            whole: Text::new(source, row.whole),
            cells: (row.cells.into_iter())
                .map(|cell| cell.map(|cell| Text { source, cell }))
                .collect(),
        })
        .collect()
}
