//! Boards and pieces as spreadsheets: CSV with headings, in any order, parted
//! by commas, semicolons or tabs. Every value keeps its place in the text, so
//! that a mistake can be marked where it stands.

use std::ops::Range;

use super::reader::{Reader, Text};

/// A column a sheet may have, and whether it must.
type Known = (&'static str, bool);

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
    let text = reader.text(source);
    let start = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let records = match records(&text, start) {
        Ok(records) => records,
        Err(open) => {
            reader.wrong(
                &Text::new(source, open..open + 1),
                "a quotation mark opens here and is never closed",
                "close it, or double it inside a quoted value",
            );
            return Vec::new();
        }
    };
    let mut records = records.into_iter().filter(|cells| {
        cells.len() > 1
            || cells
                .iter()
                .any(|cell| !text[cell.clone()].trim().is_empty())
    });
    let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    let Some(heads) = records.next() else {
        let whole = reader.whole(source);
        reader.wrong(
            &whole,
            "this sheet is empty",
            format!("its first line has the headings {}", names.join(",")),
        );
        return Vec::new();
    };
    let Some(columns) = columns(reader, source, &heads, known) else {
        return Vec::new();
    };
    let mut rows = Vec::new();
    for cells in records {
        let whole = Text::new(source, cells[0].start..cells[cells.len() - 1].end);
        if let Some(extra) = cells[heads.len().min(cells.len())..]
            .iter()
            .find(|cell| !text[(*cell).clone()].trim().is_empty())
        {
            reader.wrong(
                &Text::new(source, extra.clone()),
                format!(
                    "this row has {} values under {} headings",
                    cells.len(),
                    heads.len()
                ),
                "put a value with a comma in it in quotation marks, or write it without",
            );
            continue;
        }
        if cells
            .iter()
            .all(|cell| text[cell.clone()].trim().is_empty())
        {
            continue;
        }
        let cell = |column: &Option<usize>| -> Option<Text> {
            let cell = inner(&text, source, cells.get((*column)?)?.clone());
            let filled = !text[cell.span.clone()].trim().is_empty();
            filled.then_some(cell)
        };
        rows.push(Row {
            whole,
            cells: columns.iter().map(cell).collect(),
        });
    }
    rows
}

/// Where each known heading stands; nothing when the headings are wrong.
fn columns(
    reader: &mut Reader,
    source: usize,
    heads: &[Range<usize>],
    known: &[Known],
) -> Option<Vec<Option<usize>>> {
    let mut columns: Vec<Option<usize>> = vec![None; known.len()];
    let mut sound = true;
    let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
    for (place, head) in heads.iter().enumerate() {
        let at = inner(&reader.text(source), source, head.clone());
        let (head, at) = reader.trimmed(&at);
        let name = head.to_lowercase();
        if name.is_empty() {
            continue;
        }
        match known.iter().position(|(known, _)| *known == name) {
            Some(k) if columns[k].is_none() => columns[k] = Some(place),
            Some(_) => {
                sound = false;
                reader.wrong(
                    &at,
                    format!("the heading \"{name}\" is there twice"),
                    "leave one of them",
                );
            }
            None => {
                sound = false;
                let nearest = names
                    .iter()
                    .max_by(|a, b| strsim::jaro(a, &name).total_cmp(&strsim::jaro(b, &name)))
                    .filter(|nearest| strsim::jaro(nearest, &name) > 0.75);
                let help = match nearest {
                    Some(nearest) => format!("perhaps {nearest} is meant"),
                    None => format!("the first line has the headings {}", names.join(",")),
                };
                reader.wrong(&at, format!("there is no heading \"{head}\""), help);
            }
        }
    }
    for (k, (name, must)) in known.iter().enumerate() {
        if sound && *must && columns[k].is_none() {
            sound = false;
            reader.wrong(
                &Text::new(source, heads[0].start..heads[heads.len() - 1].end),
                format!("the heading \"{name}\" is missing"),
                format!("the first line has the headings {}", names.join(",")),
            );
        }
    }
    sound.then_some(columns)
}

/// A value without the quotation marks round it.
fn inner(text: &str, source: usize, cell: Range<usize>) -> Text {
    let all = &text[cell.clone()];
    let start = cell.start + (all.len() - all.trim_start().len());
    let all = all.trim();
    match all.len() >= 2 && all.starts_with('"') && all.ends_with('"') {
        true => Text {
            doubled: true,
            ..Text::new(source, start + 1..start + all.len() - 1)
        },
        false => Text::new(source, cell),
    }
}

/// The rows of a CSV text as places of their values, quotation marks included;
/// or the place of one that is never closed.
fn records(text: &str, start: usize) -> Result<Vec<Vec<Range<usize>>>, usize> {
    let first_line = text[start..].lines().next().unwrap_or("");
    let part = [',', ';', '\t']
        .into_iter()
        .max_by_key(|&part| (first_line.matches(part).count(), part == ','))
        .unwrap_or(',');
    let mut records = Vec::new();
    let mut record = Vec::new();
    let mut from = start;
    let mut open: Option<usize> = None;
    for (at, letter) in text[start..].char_indices() {
        let at = start + at;
        match letter {
            // An inch mark behind a number quotes nothing.
            '"' if open.is_some() => open = None,
            '"' if text[from..at].trim().is_empty() => open = Some(at),
            '"' if at > start && text[..at].ends_with('"') && quoted(text, from) => {
                open = Some(at);
            }
            '\n' if open.is_none() => {
                record.push(from..line_end(text, from, at));
                records.push(std::mem::take(&mut record));
                from = at + 1;
            }
            letter if letter == part && open.is_none() => {
                record.push(from..at);
                from = at + letter.len_utf8();
            }
            _ => {}
        }
    }
    if let Some(open) = open {
        return Err(open);
    }
    if from < text.len() || !record.is_empty() {
        record.push(from..line_end(text, from, text.len()));
        records.push(record);
    }
    Ok(records)
}

/// Whether the value that starts here is a quoted one.
fn quoted(text: &str, from: usize) -> bool {
    text[from..].trim_start().starts_with('"')
}

/// The end of a line's last value, its carriage return left off.
fn line_end(text: &str, from: usize, at: usize) -> usize {
    if text[from..at].ends_with('\r') {
        at - 1
    } else {
        at
    }
}
