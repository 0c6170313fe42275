//! What all CSV answers share: rows written with quotes where they are needed,
//! and lengths as decimals in the answer's unit, exact as in JSON. Which
//! columns an answer has is left to its own module.

use crate::length::{Length, Unit};

use super::json::Measure;

/// A CSV text under construction.
#[derive(Debug)]
pub struct Sheet {
    writer: csv::Writer<Vec<u8>>,
}

impl Sheet {
    /// A sheet with these heads over its columns.
    pub fn new(heads: &[&str]) -> Sheet {
        let mut sheet = Sheet {
            writer: csv::Writer::from_writer(Vec::new()),
        };
        sheet.row(heads.iter().map(|head| head.to_string()));
        sheet
    }

    /// One more row, with as many cells as there are heads.
    ///
    /// # Panics
    /// When the row has more or fewer cells than the first one.
    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.writer
            .write_record(cells)
            .expect("rows as wide as their heads, written to memory");
    }

    /// The sheet as text.
    ///
    /// # Panics
    /// Never: memory can always be written to.
    pub fn finish(self) -> String {
        let bytes = self.writer.into_inner().expect("memory can be written to");
        String::from_utf8(bytes).expect("cells of text make text")
    }
}

/// A length as a decimal in the unit, exact as in JSON.
pub fn length(length: Length, unit: Unit) -> String {
    Measure::new(length, unit).to_string()
}

/// The unit's name.
pub fn unit(unit: Unit) -> &'static str {
    super::json::unit(unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_where_they_must_be() {
        let mut sheet = Sheet::new(&["label", "length"]);
        sheet.row([
            "rail, \"top\"".to_string(),
            length(Length::from_64ths(353), Unit::Inch),
        ]);
        assert_eq!(
            sheet.finish(),
            "label,length\n\"rail, \"\"top\"\"\",5.515625\n"
        );
    }
}
