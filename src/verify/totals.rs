//! Whether the plan's totals add up and what it says of its bound is consistent.

use super::pieces::Laid;
use super::{Findings, Rule, wide};
use crate::job::Job;
use crate::plan::{LeftOver, Objective, Plan};

pub(super) fn check(job: &Job, plan: &Plan, laid: &Laid, found: &mut Findings) {
    let totals = &plan.totals;
    let price: i128 = plan
        .boards
        .iter()
        .map(|b| i128::from(b.price.cents()))
        .chain(
            plan.left_over
                .iter()
                .map(|left| i128::from(left.price.cents())),
        )
        .sum();
    let left_over = |left: &LeftOver| {
        let stock = job.stock.get(left.stock);
        stock.map_or(0, |stock| wide(stock.length) * i128::from(left.count))
    };
    let bought: i128 = plan
        .boards
        .iter()
        .map(|board| wide(board.length))
        .chain(plan.left_over.iter().map(left_over))
        .sum();
    let cost = price
        + i128::from(job.joints.price.cents()) * i128::from(laid.joints)
        + i128::from(job.joints.doubled_joist_price.cents()) * laid.doubled as i128;
    let counts = [
        (
            "boards",
            i128::from(totals.boards),
            plan.boards.len() as i128,
        ),
        ("cents for boards", i128::from(totals.price.cents()), price),
        ("joints", i128::from(totals.joints), i128::from(laid.joints)),
        (
            "doubled joists",
            i128::from(totals.doubled_joists),
            laid.doubled as i128,
        ),
        ("cents in all", i128::from(totals.cost.cents()), cost),
        ("units of 1/8 µm bought", wide(totals.bought), bought),
        ("units of 1/8 µm laid", wide(totals.laid), laid.length),
        (
            "units of 1/8 µm of other pieces",
            wide(totals.extra),
            laid.extra,
        ),
    ];
    for (what, said, is) in counts {
        if said != is {
            found.add(
                Rule::Totals,
                format!("the totals say {said} {what}, but they come to {is}"),
            );
        }
    }
    let value = match totals.objective {
        Objective::Cost => cost,
        Objective::Joints => i128::from(laid.joints),
        Objective::Waste => bought,
    };
    if i128::from(totals.value) != value {
        found.add(
            Rule::Value,
            format!(
                "the value minimised is said to be {}, but it is {value}",
                totals.value
            ),
        );
    }
    check_bound(
        totals.value.into(),
        totals.bound.into(),
        totals.proven,
        found,
    );
}

/// Whether a stated bound, value and proof go together.
pub(super) fn check_bound(value: i128, bound: i128, proven: bool, found: &mut Findings) {
    if bound > value {
        found.add(
            Rule::Bound,
            format!("the bound {bound} is above the value {value}"),
        );
    }
    if proven != (bound == value) {
        found.add(
            Rule::Proven,
            format!(
                "the plan is {} proven with a bound of {bound} and a value of {value}",
                if proven { "called" } else { "not called" }
            ),
        );
    }
}
