//! Prices of supports that carry joints, where those cost something: what they make of a
//! joint and of a relaxation's bound. Which supports are paid for or barred is decided
//! elsewhere.

use super::counts::Supports;
use super::model::Model;
use super::prices::dearest;
use super::rows::Rows;
use crate::stock::parts;

/// Whole prices of supports.
pub(super) struct Carried {
    /// Of a joint on each support.
    pub price: Vec<i64>,
    /// What paying for each support comes to beyond what its joints pay.
    pub reduced: Vec<i128>,
    /// Of their number.
    number: i64,
}

impl Carried {
    /// The prices of rows in whole parts, `most` the highest there is. A joint on a
    /// support that is barred costs as much: no plan has one, whatever it costs.
    pub(super) fn of(
        model: &Model,
        rows: &Rows,
        counted: Option<&Supports>,
        whole: &dyn Fn(usize) -> i64,
        most: i64,
    ) -> Carried {
        let places = model.run.joints.len();
        let mut price = vec![0; places];
        let mut number = 0;
        if let Some(first) = rows.support {
            for (place, price) in price.iter_mut().enumerate() {
                let barred = counted.is_some_and(|supports| supports.each[place].1 == 0);
                *price = if barred { most } else { whole(first + place) };
            }
        }
        if let Some(first) = rows.supports {
            number = whole(first + places) - whole(first + places + 1);
        }
        let each = i128::from(model.weights.doubled) * i128::from(parts(dearest(model)));
        let reduced = price.iter().map(|&price| {
            let joints = i128::from(model.most_on_support) * i128::from(price);
            each - joints - i128::from(number)
        });
        Carried {
            reduced: reduced.collect(),
            price,
            number,
        }
    }

    /// What supports add to a bound.
    pub(super) fn bound(&self, model: &Model, rows: &Rows, counted: Option<&Supports>) -> i128 {
        let times = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let Some(first) = rows.support else {
            return 0;
        };
        let bounds = |place: usize| counted.map_or((0, 1), |supports| supports.each[place]);
        let mut sum = 0;
        for (place, (&price, &reduced)) in self.price.iter().zip(&self.reduced).enumerate() {
            let (low, high) = bounds(place);
            // A support that is there already carries joints for nothing.
            let asked = rows.at_least[first + place] + low * model.most_on_support;
            sum += times(asked.min(0), price);
            sum += i128::from(if reduced < 0 { high } else { low }) * reduced;
        }
        if let Some(supports) = counted {
            let (low, high) = supports.all;
            sum += times(if self.number > 0 { low } else { high }, self.number);
        }
        sum
    }
}
