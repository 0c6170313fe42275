//! Printing lengths: as a person reads them from a tape, or as text that reads
//! back exactly.

use std::fmt;

use super::{Length, Unit};

/// How a length in feet and inches is put into words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Form {
    /// `13 ft 2-1/2 in`, and inches alone below a yard: for sentences.
    #[default]
    Prose,
    /// `13' 2-1/2"`: for drawings and narrow columns.
    Short,
    /// `158-1/2 in`: inches alone.
    Inches,
}

/// Prints lengths to a chosen fineness and in a chosen form.
///
/// A length that is not what is printed carries `≈`, so that a rounded figure
/// cannot be mistaken for an exact one.
///
/// ```
/// use lastcourse::length::{Form, Length, Printer, Unit};
/// let length = Length::from_64ths(158 * 64 + 33);
/// assert_eq!(length.show(Unit::Inch), "≈ 13 ft 2-1/2 in");
/// let fine = Printer::new(Unit::Inch).to_64ths().form(Form::Short);
/// assert_eq!(fine.show(length), "13' 2-33/64\"");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Printer {
    unit: Unit,
    form: Form,
    denominator: i64,
    marked: bool,
}

impl Printer {
    /// Prints to 1/16 in, or to the millimetre.
    pub const fn new(unit: Unit) -> Printer {
        Printer {
            unit,
            form: Form::Prose,
            denominator: 16,
            marked: true,
        }
    }

    /// Puts feet and inches in another form; metric lengths know only one.
    pub const fn form(self, form: Form) -> Printer {
        Printer { form, ..self }
    }

    /// Prints to 1/32 in, or to the tenth of a millimetre.
    pub const fn to_32nds(self) -> Printer {
        Printer {
            denominator: 32,
            ..self
        }
    }

    /// Prints to 1/64 in, or to the tenth of a millimetre.
    pub const fn to_64ths(self) -> Printer {
        Printer {
            denominator: 64,
            ..self
        }
    }

    /// Leaves the `≈` off a rounded print, where a heading says it for all.
    pub const fn unmarked(self) -> Printer {
        Printer {
            marked: false,
            ..self
        }
    }

    /// The length as text.
    pub fn show(&self, length: Length) -> String {
        match self.unit {
            Unit::Inch => self.inches(length),
            Unit::Millimetre => self.millimetres(length),
        }
    }

    fn inches(&self, length: Length) -> String {
        let step = Length::UNITS_PER_INCH / self.denominator;
        let count = round_to(length, step);
        let start = self.start(length, count * step);
        let count = count.abs();
        let (inches, over) = (count / self.denominator, count % self.denominator);
        let feet = match self.form {
            Form::Prose if inches >= 36 => inches / 12,
            Form::Short => inches / 12,
            _ => 0,
        };
        let inches = inches - 12 * feet;
        let (foot_mark, mark) = match self.form {
            Form::Short => ("'", "\""),
            _ => (" ft", " in"),
        };
        let reduce = over.trailing_zeros().min(self.denominator.trailing_zeros());
        let fraction = format!("{}/{}", over >> reduce, self.denominator >> reduce);
        let inches = match (inches, over) {
            (0, 0) if feet > 0 && self.form == Form::Prose => String::new(),
            (_, 0) => format!("{inches}{mark}"),
            (0, _) if feet == 0 => format!("{fraction}{mark}"),
            _ => format!("{inches}-{fraction}{mark}"),
        };
        match feet {
            0 => format!("{start}{inches}"),
            _ => format!("{start}{feet}{foot_mark} {inches}")
                .trim_end()
                .to_string(),
        }
    }

    fn millimetres(&self, length: Length) -> String {
        // A tenth matters in a gap or a rip and is noise in the length of a board.
        let fine = self.denominator > 16 || length.abs() < Length::from_mm(1000);
        let step = Length::UNITS_PER_MM / if fine { 10 } else { 1 };
        let count = round_to(length, step);
        let start = self.start(length, count * step);
        let tenths = (count * step).abs() / (Length::UNITS_PER_MM / 10);
        match tenths % 10 {
            0 => format!("{start}{} mm", tenths / 10),
            tenth => format!("{start}{}.{tenth} mm", tenths / 10),
        }
    }

    /// The sign and the mark of a rounded print.
    fn start(&self, length: Length, printed: i64) -> String {
        let mark = match (self.marked && printed != length.units(), self.form) {
            (false, _) => "",
            (true, Form::Short) => "≈",
            (true, _) => "≈ ",
        };
        let sign = if printed < 0 { "-" } else { "" };
        format!("{mark}{sign}")
    }
}

/// How many steps a length is, to the nearest, halves away from zero.
fn round_to(length: Length, step: i64) -> i64 {
    let count = length.units().abs();
    (count / step + i64::from(count % step * 2 >= step)) * length.units().signum()
}

impl Length {
    /// The length as people read it in a sentence: to 1/16 in or to the
    /// millimetre (tenths below one metre), with `≈` when that rounds it.
    pub fn show(self, unit: Unit) -> String {
        Printer::new(unit).show(self)
    }

    /// The length as text that [`Length::parse`] gives back exactly, without a
    /// unit to be assumed: `13ft 2-1/2in`, `0.270833in`, `4.7625mm`.
    pub fn exact(self, unit: Unit) -> String {
        let sign = if self.is_negative() { "-" } else { "" };
        let units = self.units().unsigned_abs();
        match unit {
            Unit::Inch if units.is_multiple_of(3_175) => {
                let form = if units < 36 * 203_200 {
                    Form::Inches
                } else {
                    Form::Prose
                };
                Printer::new(unit)
                    .to_64ths()
                    .form(form)
                    .show(self)
                    .replace(" ft", "ft")
                    .replace(" in", "in")
            }
            Unit::Inch => {
                // Six decimals of an inch are finer than half a unit.
                let millionths = (u128::from(units) * 1_000_000 + 101_600) / 203_200;
                format!("{sign}{}in", decimal(millionths))
            }
            Unit::Millimetre => {
                format!("{sign}{}mm", decimal(u128::from(units) * 125))
            }
        }
    }

    /// The length as a number in a unit, for statistics, drawings and JSON:
    /// up to [`Length::LIMIT`], multiplying by the units in one and rounding to
    /// the nearest whole number gives the length back.
    pub fn in_unit(self, unit: Unit) -> f64 {
        match unit {
            Unit::Inch => self.inches(),
            Unit::Millimetre => self.mm(),
        }
    }
}

/// Millionths as a decimal number without trailing zeros.
fn decimal(millionths: u128) -> String {
    let text = format!("{}.{:06}", millionths / 1_000_000, millionths % 1_000_000);
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// `13 ft 2-1/2 in`, and metric with `{:#}`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = if f.alternate() {
            Unit::Millimetre
        } else {
            Unit::Inch
        };
        f.pad(&self.show(unit))
    }
}
