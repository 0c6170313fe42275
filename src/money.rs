//! Money as whole cents, so that a total is the sum of its parts to the cent.
//! It knows how to add, parse and print amounts; which currency they are in is
//! the job's affair.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// An exact amount of money in cents (hundredths of the job's currency).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Money(i64);

impl Money {
    /// No money.
    pub const ZERO: Money = Money(0);

    /// An amount of so many cents.
    pub const fn from_cents(cents: i64) -> Money {
        Money(cents)
    }

    /// The amount in cents.
    pub const fn cents(self) -> i64 {
        self.0
    }
}

impl Add for Money {
    type Output = Money;
    fn add(self, other: Money) -> Money {
        Money(self.0.checked_add(other.0).expect("an amount within range"))
    }
}

impl Sub for Money {
    type Output = Money;
    fn sub(self, other: Money) -> Money {
        Money(self.0.checked_sub(other.0).expect("an amount within range"))
    }
}

impl Mul<i64> for Money {
    type Output = Money;
    fn mul(self, factor: i64) -> Money {
        Money(self.0.checked_mul(factor).expect("an amount within range"))
    }
}

impl AddAssign for Money {
    fn add_assign(&mut self, other: Money) {
        *self = *self + other;
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Money>>(amounts: I) -> Money {
        amounts.fold(Money::ZERO, Add::add)
    }
}
