//! Orders side by side as rows for a spreadsheet.

use super::{made, more};
use crate::order::{Choice, Group};
use crate::report::csv::Sheet;

/// Its columns; a choice that cannot be had has a name and a problem only.
const HEADS: [&str; 18] = [
    "choice",
    "courses",
    "last_ripped",
    "boards",
    "fasteners",
    "frame",
    "base",
    "stairs",
    "fascia",
    "guard",
    "other",
    "contingency",
    "delivery",
    "tax",
    "labour",
    "all_in",
    "more",
    "problem",
];

/// A row for each choice.
pub fn csv(choices: &[Choice]) -> String {
    let mut sheet = Sheet::new(&HEADS);
    for choice in choices {
        let mut row = vec![choice.name.clone()];
        match made(choice) {
            Some(made) => {
                let order = &made.order;
                let last = made.plan.courses.last();
                row.push(made.plan.courses.len().to_string());
                let ripped = last.is_some_and(|last| last.ripped);
                row.push(if ripped { "yes" } else { "no" }.to_owned());
                row.extend(Group::ALL.map(|group| order.of_group(group).decimal()));
                let sums = &order.sums;
                let tops = [
                    sums.contingency,
                    sums.delivery,
                    sums.tax,
                    sums.labour,
                    sums.all,
                ];
                row.extend(tops.map(|money| money.decimal()));
                row.push(more(choices, made).decimal());
                row.push(String::new());
            }
            None => {
                row.extend(std::iter::repeat_n(String::new(), HEADS.len() - 2));
                row.push(choice.made.as_ref().err().cloned().unwrap_or_default());
            }
        }
        sheet.row(row);
    }
    sheet.finish()
}
