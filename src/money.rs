//! Money as whole cents, so that a total is the sum of its parts to the cent.
//! It knows how to add, read and print amounts, and what a length costs by the
//! foot or metre; which currency they are in is the job's affair.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

use crate::length::Length;
use crate::text::grouped;

/// An exact amount of money in cents (hundredths of the job's currency).
///
/// # Panics
/// The operators panic when the result leaves the range of `i64`; amounts that
/// were read are at most [`Money::LIMIT`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Money(i64);

impl Money {
    /// No money.
    pub const ZERO: Money = Money(0);

    /// The most that is read as a price: a thousand million.
    pub const LIMIT: Money = Money(100_000_000_000);

    /// An amount of so many cents.
    pub const fn from_cents(cents: i64) -> Money {
        Money(cents)
    }

    /// The amount in cents.
    pub const fn cents(self) -> i64 {
        self.0
    }

    /// Reads a price: `41.50`, `$41.50`, `1,672.00`, `12.5`, `12 EUR`.
    ///
    /// A sign or code of a currency before or after the number is read over.
    /// Commas are read only where they part thousands.
    ///
    /// ```
    /// use lastcourse::money::Money;
    /// assert_eq!(Money::parse("$1,672.00")?, Money::from_cents(167_200));
    /// let error = Money::parse("41,50").unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "in \"41,50\" the comma does not part thousands: write cents after a point, such as 41.50",
    /// );
    /// # Ok::<(), lastcourse::money::ParseMoneyError>(())
    /// ```
    ///
    /// # Errors
    /// When it is not an amount, is negative, has parts of a cent, or is over
    /// [`Money::LIMIT`].
    pub fn parse(text: &str) -> Result<Money, ParseMoneyError> {
        digits(text, 2).map(Money)
    }

    /// The amount with its currency's sign: `$1,672.00`, `-$3.10`, `12.00 EUR`.
    pub fn show(self, currency: &str) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let amount = Money(self.0.saturating_abs());
        if currency.chars().any(char::is_alphanumeric) {
            format!("{sign}{amount} {currency}")
        } else {
            format!("{sign}{currency}{amount}")
        }
    }

    /// A difference with its sign always shown: `+$12.00`, `-$3.10`, `$0.00`.
    pub fn show_difference(self, currency: &str) -> String {
        let plus = if self.0 > 0 { "+" } else { "" };
        format!("{plus}{}", self.show(currency))
    }

    /// The amount as a plain decimal number, for programs: `1672.00`.
    pub fn decimal(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let cents = self.0.unsigned_abs();
        format!("{sign}{}.{:02}", cents / 100, cents % 100)
    }
}

/// `1,672.00`, without a currency.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let cents = self.0.unsigned_abs();
        let whole = grouped(u128::from(cents / 100));
        f.pad(&format!("{sign}{whole}.{:02}", cents % 100))
    }
}

/// Why a text is not a price: what is wrong and how to write it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}: {help}")]
pub struct ParseMoneyError {
    message: String,
    help: String,
}

impl ParseMoneyError {
    /// What is wrong.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// How to write it.
    pub fn help(&self) -> &str {
        &self.help
    }
}

/// A price by the foot or by the metre, in ten-thousandths of the currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rate {
    ten_thousandths: i64,
    per: Length,
}

impl Rate {
    /// Reads a price by the foot, with up to four decimals.
    ///
    /// # Errors
    /// As [`Money::parse`].
    pub fn per_foot(text: &str) -> Result<Rate, ParseMoneyError> {
        Rate::read(text, Length::from_feet(1))
    }

    /// Reads a price by the metre, with up to four decimals.
    ///
    /// # Errors
    /// As [`Money::parse`].
    pub fn per_metre(text: &str) -> Result<Rate, ParseMoneyError> {
        Rate::read(text, Length::from_mm(1000))
    }

    fn read(text: &str, per: Length) -> Result<Rate, ParseMoneyError> {
        Ok(Rate {
            ten_thousandths: digits(text, 4)?,
            per,
        })
    }

    /// The price in ten-thousandths of the currency.
    pub const fn ten_thousandths(self) -> i64 {
        self.ten_thousandths
    }

    /// What a board of this length costs, half a cent rounded up; nothing when
    /// that is over [`Money::LIMIT`] or the length is negative.
    ///
    /// ```
    /// use lastcourse::{length::Length, money::{Money, Rate}};
    /// let rate = Rate::per_foot("2.3055")?;
    /// assert_eq!(rate.price_for(Length::from_feet(16)), Some(Money::from_cents(3689)));
    /// # Ok::<(), lastcourse::money::ParseMoneyError>(())
    /// ```
    pub fn price_for(self, length: Length) -> Option<Money> {
        let over = i128::from(self.ten_thousandths) * i128::from(length.units());
        let under = i128::from(self.per.units()) * 100;
        let cents = (2 * over + under).div_euclid(2 * under);
        let cents = i64::try_from(cents).ok()?;
        (0..=Money::LIMIT.0)
            .contains(&cents)
            .then_some(Money(cents))
    }
}

/// The number of a price as a whole count of its last decimal.
fn digits(text: &str, decimals: usize) -> Result<i64, ParseMoneyError> {
    let fault = |message: String, help: &str| ParseMoneyError {
        message,
        help: help.to_string(),
    };
    let number = without_currency(text);
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    if number.starts_with(['-', '\u{2212}']) {
        return Err(fault(
            format!("\"{text}\" is below zero"),
            "a price is 0 or more",
        ));
    }
    let groups: Vec<&str> = whole.split(',').collect();
    let all_digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
    if number.is_empty()
        || number == "."
        || number.ends_with('.')
        || !groups.iter().all(|g| all_digits(g))
        || !all_digits(part)
    {
        return Err(fault(
            format!("\"{text}\" is not an amount of money"),
            "write it like 41.50",
        ));
    }
    let thousands = groups.len() == 1
        || (1..=3).contains(&groups[0].len()) && groups[1..].iter().all(|g| g.len() == 3);
    if !thousands {
        return Err(fault(
            format!("in \"{text}\" the comma does not part thousands"),
            "write cents after a point, such as 41.50",
        ));
    }
    if part.trim_end_matches('0').len() > decimals {
        return Err(if decimals == 2 {
            fault(
                format!("\"{text}\" has parts of a cent"),
                "write two decimals at most, such as 41.50",
            )
        } else {
            fault(
                format!("\"{text}\" has more than {decimals} decimals"),
                "write four decimals at most, such as 2.5938",
            )
        });
    }
    let scale = 10i64.pow(decimals as u32);
    let whole: String = groups.concat();
    let part: String = part.chars().chain("0000".chars()).take(decimals).collect();
    let most = Money::LIMIT.0 / 100 * scale;
    format!("{whole}{part}")
        .parse::<i64>()
        .ok()
        .filter(|count| *count <= most)
        .ok_or_else(|| {
            fault(
                format!("\"{text}\" is more than a thousand million"),
                "look for a digit too many",
            )
        })
}

/// The text without a currency's sign or three-letter code at either end.
fn without_currency(text: &str) -> &str {
    const SIGNS: [char; 9] = ['$', '€', '£', '¥', '₹', '₩', '₺', '₽', '฿'];
    let text = text.trim();
    let code = |code: &&str| code.bytes().all(|b| b.is_ascii_uppercase());
    let front = text.get(..3).filter(code);
    let back = text.get(text.len().saturating_sub(3)..).filter(code);
    text.strip_prefix(SIGNS)
        .or_else(|| text.strip_suffix(SIGNS))
        .or_else(|| text.strip_prefix(front?))
        .or_else(|| text.strip_suffix(back?))
        .unwrap_or(text)
        .trim()
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
