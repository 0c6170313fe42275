//! The terms an answer speaks in: its unit, how fine fractions are printed, its
//! currency, and the few turns of phrase that several reports share.

use crate::job::{Job, Percent};
use crate::length::{Form, Length, Printer, Unit};
use crate::money::Money;
use crate::order::Trade;
use crate::plan::{Objective, Plan};

/// How one answer prints lengths and money.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Terms {
    /// The unit lengths are printed in.
    pub unit: Unit,
    /// The finest fraction of an inch that is printed: 16, 32 or 64.
    pub finest: u32,
    /// The sign before amounts of money.
    pub currency: String,
}

impl Terms {
    /// The terms of a job, with inches printed to so fine a fraction.
    pub fn of(job: &Job, finest: u32) -> Terms {
        Terms {
            unit: job.unit,
            finest,
            currency: job.currency.clone(),
        }
    }

    fn printer(&self) -> Printer {
        let printer = Printer::new(self.unit);
        match self.finest {
            32 => printer.to_32nds(),
            64 => printer.to_64ths(),
            _ => printer,
        }
    }

    /// A length as people read it.
    pub fn length(&self, length: Length) -> String {
        self.printer().show(length)
    }

    /// A length as it stands in drawings: `13' 2-1/2"`.
    pub fn short(&self, length: Length) -> String {
        self.printer().form(Form::Short).show(length)
    }

    /// An amount with its sign.
    pub fn money(&self, amount: Money) -> String {
        amount.show(&self.currency)
    }

    /// With what the courses of a plan are laid: `slim clip at a gap of 3/16 in`.
    pub fn laid_with(&self, job: &Job, plan: &Plan) -> String {
        let own = format!(
            "{} at a gap of {}",
            job.fasteners[plan.fastener].name,
            self.length(plan.gap)
        );
        let Some(mixed) = &job.courses.mixed else {
            return own;
        };
        let other = &job.fasteners[mixed.fastener];
        let gaps = match mixed.gaps {
            1 => "the last gap".to_string(),
            gaps => format!("the last {gaps} gaps"),
        };
        let width = self.length(other.gap.set);
        format!("{own}, {gaps} {width} by {}", other.name)
    }

    /// An area as people read it: square feet or square metres.
    pub fn area(&self, square_units: i128) -> String {
        let (area, name) = square(square_units, self.unit);
        format!("{area:.1} {name}")
    }
}

/// An area in square feet or square metres, and the name of that unit.
pub fn square(square_units: i128, unit: Unit) -> (f64, &'static str) {
    let (side, name) = match unit {
        Unit::Inch => (Length::UNITS_PER_FOOT, "sq ft"),
        Unit::Millimetre => (Length::UNITS_PER_MM * 1000, "m²"),
    };
    (square_units as f64 / (side as f64 * side as f64), name)
}

/// A whole number with its thousands set apart.
pub fn grouped(number: u64) -> String {
    crate::text::grouped(number.into())
}

/// A count and its noun: `1 board`, `44 boards`.
pub fn counted(count: u64, one: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{} {one}s", grouped(count)),
    }
}

/// What so much of something is sold by, behind its count: `packs of 250`, or with
/// all the pieces there are in them at least `boxes of 5 lb (850 pieces)`.
pub fn bought(unit: Trade, count: u64) -> String {
    let name = match count {
        1 => unit.name(),
        _ => unit.plural(),
    };
    match unit {
        Trade::Pack(pieces) => format!("{name} of {}", grouped(u64::from(pieces))),
        Trade::Box { weight, pieces } => {
            let pieces = counted(u64::from(pieces) * count, "piece");
            format!("{name} of {} ({pieces})", weight.sold())
        }
        // Two of half a yard are not two and a half.
        _ if name.starts_with(|first: char| first.is_ascii_digit()) => format!("× {name}"),
        _ => name.to_owned(),
    }
}

/// How far a value can be above the best, rounded up to a tenth of a per cent
/// so that it never promises more than is known; nothing without a bound above
/// zero to measure from.
pub fn above(value: i64, bound: i64) -> Option<String> {
    if bound <= 0 {
        return None;
    }
    let above = (i128::from(value) - i128::from(bound)) * 1000;
    let tenths = (above + i128::from(bound) - 1).div_euclid(i128::from(bound));
    Some(format!(
        "at most {}.{} % above the best",
        tenths / 10,
        tenths % 10
    ))
}

/// How good an answer is known to be, as the end of its sentence; `noun` names
/// what no other one of can be better.
pub fn how_good(objective: Objective, value: i64, bound: i64, noun: &str) -> String {
    if value == bound {
        return match objective {
            Objective::Cost => format!("no {noun} can cost less"),
            Objective::Joints => format!("no {noun} has fewer joints"),
            Objective::Waste => format!("no {noun} takes less length of boards"),
        };
    }
    above(value, bound).unwrap_or_else(|| "how far it is from the best is not known".to_string())
}

/// What plans a plan's bound is of.
pub fn plan_noun(plan: &Plan) -> String {
    match plan.joints_at_most {
        None => "plan".to_owned(),
        Some(most) => format!("plan with {} at most", counted(u64::from(most), "joint")),
    }
}

/// A share as per cent with one decimal.
pub fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

/// A share as it was written: `8.25 %`.
pub fn share(share: Percent) -> String {
    let (whole, parts) = (share.0 / 100, share.0 % 100);
    match parts {
        0 => format!("{whole} %"),
        parts if parts % 10 == 0 => format!("{whole}.{} %", parts / 10),
        parts => format!("{whole}.{parts:02} %"),
    }
}

/// A chance as a per cent, never rounded to a certainty that it is not.
pub fn chance(chance: f64) -> String {
    match chance {
        c if c < 0.001 => "< 0.1 %".to_string(),
        c if c > 0.999 => "> 99.9 %".to_string(),
        c => percent(c),
    }
}

/// Course numbers in short: `1, 3, 5-9`.
pub fn numbers(numbers: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let runs: Vec<String> = runs
        .iter()
        .map(|&(first, last)| match last - first {
            0 => first.to_string(),
            1 => format!("{first}, {last}"),
            _ => format!("{first}-{last}"),
        })
        .collect();
    runs.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_distance_to_the_best_is_rounded_up() {
        assert_eq!(
            above(100_001, 100_000).as_deref(),
            Some("at most 0.1 % above the best")
        );
        assert_eq!(
            above(100_300, 100_000).as_deref(),
            Some("at most 0.3 % above the best")
        );
        assert_eq!(above(5, 0), None);
    }

    #[test]
    fn neighbouring_numbers_are_joined() {
        assert_eq!(numbers(&[1, 3, 5, 6, 7, 9, 10]), "1, 3, 5-7, 9, 10");
        assert_eq!(numbers(&[]), "");
    }

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(grouped(0), "0");
        assert_eq!(grouped(999), "999");
        assert_eq!(grouped(1_234_567), "1,234,567");
        assert_eq!(counted(1, "board"), "1 board");
        assert_eq!(counted(1_000, "board"), "1,000 boards");
    }
}
