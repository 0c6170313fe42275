//! Tables of plain text: columns of lengths line up on the whole inch or the
//! decimal point, money on its last digit, and a rule stands under the heads
//! only. It knows columns and widths; what stands in them is left to its users.

use unicode_width::UnicodeWidthStr;

use crate::text::{clean, wrap};

/// How a column lines up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// On the first letter.
    Left,
    /// On the last digit: counts and money.
    Right,
    /// On feet, whole inches and the decimal point: lengths as they are printed.
    Length,
}

/// A column's head and how it lines up.
#[derive(Debug, Clone)]
pub struct Column {
    head: String,
    align: Align,
    wraps: bool,
}

impl Column {
    /// A column that lines up so under its head.
    pub fn new(head: &str, align: Align) -> Column {
        Column {
            head: head.to_string(),
            align,
            wraps: false,
        }
    }

    /// A column of words.
    pub fn left(head: &str) -> Column {
        Column::new(head, Align::Left)
    }

    /// A column of counts or money.
    pub fn right(head: &str) -> Column {
        Column::new(head, Align::Right)
    }

    /// A column of lengths.
    pub fn length(head: &str) -> Column {
        Column::new(head, Align::Length)
    }

    /// The same column, giving way where the page is too narrow: its words wrap.
    pub fn wrapping(mut self) -> Column {
        self.wraps = true;
        self
    }
}

/// A table of text.
///
/// ```
/// use lastcourse::report::{Column, Table};
///
/// let mut table = Table::new([Column::right("count"), Column::length("length")]);
/// table.row(["12", "16 ft"]);
/// table.row(["3", "8 ft 11-7/16 in"]);
/// table.row(["1", "3-1/2 in"]);
/// assert_eq!(
///     table.render(80),
///     "  count  length
///   ─────  ────────────────
///      12  16 ft
///       3   8 ft 11-7/16 in
///       1         3-1/2 in
/// "
/// );
/// ```
#[derive(Debug, Clone)]
pub struct Table {
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

const INDENT: usize = 2;
const BETWEEN: usize = 2;
const NARROWEST_WRAPPED: usize = 16;

impl Table {
    /// A table with these columns and no rows.
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Table {
        Table {
            columns: columns.into_iter().collect(),
            rows: Vec::new(),
        }
    }

    /// One more row; cells that are left out are empty.
    pub fn row<T: Into<String>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let mut row: Vec<String> = cells.into_iter().map(|cell| clean(&cell.into())).collect();
        row.resize(self.columns.len(), String::new());
        self.rows.push(row);
    }

    /// The heads of its columns.
    pub fn heads(&self) -> impl Iterator<Item = &str> {
        self.columns.iter().map(|column| column.head.as_str())
    }

    /// Whether each of its columns lines up on its right.
    pub fn rights(&self) -> impl Iterator<Item = bool> {
        self.columns
            .iter()
            .map(|column| column.align == Align::Right)
    }

    /// Its rows, each with a cell for every column.
    pub fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// Whether it has no rows.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The table as lines of text. Columns that are empty throughout are left
    /// out; a page too narrow makes the wrapping columns narrower, never the
    /// others.
    pub fn render(&self, width: usize) -> String {
        let filled: Vec<usize> = (0..self.columns.len())
            .filter(|&k| self.rows.iter().any(|row| !row[k].is_empty()))
            .collect();
        let columns: Vec<Laid> = filled
            .iter()
            .map(|&k| {
                let cells = self.rows.iter().map(|row| row[k].as_str()).collect();
                Laid::new(&self.columns[k], cells)
            })
            .collect();
        let columns = narrowed(columns, width);
        let mut out = String::new();
        if columns.iter().any(|column| !column.head.is_empty()) {
            push_line(&mut out, columns.iter().map(|c| c.pad(&c.head)));
            push_line(
                &mut out,
                columns.iter().map(|c| {
                    let rule = if c.head.is_empty() { 0 } else { c.width };
                    c.pad(&"─".repeat(rule))
                }),
            );
        }
        for row in 0..self.rows.len() {
            let height = columns.iter().map(|c| c.cells[row].len()).max();
            for line in 0..height.unwrap_or(0) {
                push_line(
                    &mut out,
                    columns
                        .iter()
                        .map(|c| c.pad(c.cells[row].get(line).map_or("", String::as_str))),
                );
            }
        }
        out
    }
}

/// A column with its cells lined up, each as one or more lines.
struct Laid {
    head: String,
    align: Align,
    wraps: bool,
    width: usize,
    cells: Vec<Vec<String>>,
}

impl Laid {
    fn new(column: &Column, cells: Vec<&str>) -> Laid {
        let cells = match column.align {
            Align::Length => lined_up(&cells),
            _ => cells.iter().map(|cell| cell.to_string()).collect(),
        };
        let widest = cells.iter().map(|cell| cell.width()).max().unwrap_or(0);
        Laid {
            head: column.head.clone(),
            align: column.align,
            wraps: column.wraps,
            width: widest.max(column.head.width()),
            cells: cells.into_iter().map(|cell| vec![cell]).collect(),
        }
    }

    fn pad(&self, text: &str) -> String {
        let space = " ".repeat(self.width.saturating_sub(text.width()));
        match self.align {
            Align::Right => format!("{space}{text}"),
            _ => format!("{text}{space}"),
        }
    }
}

/// Takes from the widest of the wrapping columns until all fit the page, or
/// none can give more.
fn narrowed(mut columns: Vec<Laid>, width: usize) -> Vec<Laid> {
    let between = INDENT + BETWEEN * columns.len().saturating_sub(1);
    let least = |column: &Laid| column.head.width().max(NARROWEST_WRAPPED);
    let mut widths: Vec<usize> = columns.iter().map(|column| column.width).collect();
    while between + widths.iter().sum::<usize>() > width {
        let giving = columns
            .iter()
            .zip(widths.iter_mut())
            .filter(|(column, width)| column.wraps && **width > least(column));
        match giving.max_by_key(|(_, width)| **width) {
            Some((_, width)) => *width -= 1,
            None => break,
        }
    }
    for (column, width) in columns.iter_mut().zip(widths) {
        if width < column.width {
            for cell in &mut column.cells {
                *cell = wrap(&cell[0], width);
            }
            let lines = column.cells.iter().flatten().map(|line| line.width());
            column.width = lines.max().unwrap_or(0).max(column.head.width());
        }
    }
    columns
}

fn push_line(out: &mut String, cells: impl Iterator<Item = String>) {
    let mut line = " ".repeat(INDENT);
    for (k, cell) in cells.enumerate() {
        if k > 0 {
            line.push_str(&" ".repeat(BETWEEN));
        }
        line.push_str(&cell);
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

/// Lengths lined up on their feet, on their whole inches (or whole
/// millimetres), and on the fraction after them.
fn lined_up(cells: &[&str]) -> Vec<String> {
    let parts: Vec<[&str; 3]> = cells.iter().map(|cell| parts(cell)).collect();
    let widest = |k: usize| parts.iter().map(|p| p[k].width()).max().unwrap_or(0);
    let (feet, whole) = (widest(0), widest(1));
    parts
        .iter()
        .map(|[f, w, rest]| {
            // A bare fraction stands where a fraction behind its hyphen does.
            let bare = whole > 0 && rest.starts_with(|c: char| c.is_ascii_digit());
            let whole = whole + usize::from(bare);
            let text = match feet {
                0 => format!("{w:>whole$}{rest}"),
                _ if whole == 0 || rest.is_empty() => format!("{f:>feet$}{rest}"),
                _ => format!("{f:>feet$} {w:>whole$}{rest}"),
            };
            text.trim_end().to_string()
        })
        .collect()
}

/// A printed length as feet with their mark, whole inches, and the rest.
fn parts(cell: &str) -> [&str; 3] {
    let (feet, inches) = match cell
        .find(" ft")
        .map(|k| k + 3)
        .or(cell.find('\'').map(|k| k + 1))
    {
        Some(end) => (&cell[..end], cell[end..].trim_start()),
        None => ("", cell),
    };
    let sign = inches.len() - inches.trim_start_matches(['≈', '-', '+', '±', ' ']).len();
    let digits = inches[sign..]
        .find(|c: char| !c.is_ascii_digit() && c != ',')
        .unwrap_or(inches.len() - sign);
    // A bare fraction has no whole inches: it stands where fractions stand.
    if inches[sign + digits..].starts_with('/') {
        return [feet, &inches[..sign], &inches[sign..]];
    }
    [feet, &inches[..sign + digits], &inches[sign + digits..]]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn column(align: Align, cells: &[&str]) -> String {
        let mut table = Table::new([Column::new("", align)]);
        for cell in cells {
            table.row([*cell]);
        }
        table.render(80)
    }

    #[test]
    fn lengths_line_up_on_the_inch() {
        assert_eq!(
            column(
                Align::Length,
                &["13 ft 2-1/2 in", "8 ft 11-7/16 in", "16 ft", "≈ 3/16 in"]
            ),
            "  13 ft  2-1/2 in\n   8 ft 11-7/16 in\n  16 ft\n         ≈ 3/16 in\n"
        );
        assert_eq!(
            column(
                Align::Length,
                &["13' 2-1/2\"", "8' 11-7/16\"", "0\"", "-1/4\""]
            ),
            "  13'  2-1/2\"\n   8' 11-7/16\"\n       0\"\n        -1/4\"\n"
        );
    }

    #[test]
    fn millimetres_line_up_on_the_point() {
        assert_eq!(
            column(
                Align::Length,
                &["4013 mm", "4.7625 mm", "≈ 12.5 mm", "-3 mm"]
            ),
            "  4013 mm\n     4.7625 mm\n  ≈ 12.5 mm\n    -3 mm\n"
        );
    }

    #[test]
    fn money_lines_up_on_its_cents() {
        assert_eq!(
            column(Align::Right, &["$1,672.00", "$41.50"]),
            "  $1,672.00\n     $41.50\n"
        );
    }

    #[test]
    fn only_wrapping_columns_give_way() {
        let mut table = Table::new([Column::right("n"), Column::left("pieces").wrapping()]);
        table.row(["1", "one two three four five six seven"]);
        assert_eq!(
            table.render(25),
            "  n  pieces\n  ─  ──────────────────\n  1  one two three four\n     five six seven\n"
        );
    }

    #[test]
    fn columns_with_nothing_in_them_are_left_out() {
        let mut table = Table::new([Column::left("a"), Column::left("b"), Column::left("c")]);
        table.row(["1", "", "3"]);
        table.row(["4"]);
        assert_eq!(table.render(80), "  a  c\n  ─  ─\n  1  3\n  4\n");
    }
}
