//! Printing lengths.

use super::{Length, Unit};

impl Length {
    /// The length as people read it in the given unit.
    pub fn show(self, unit: Unit) -> String {
        match unit {
            Unit::Inch => format!("{} in", self.inches()),
            Unit::Millimetre => format!("{} mm", self.mm()),
        }
    }
}
