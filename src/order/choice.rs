//! Orders side by side: what each choice comes to, and which lines differ. It
//! compares what it is given; what the choices are, and their plans, are left to
//! others.

use std::collections::BTreeMap;

use super::{Group, Order, Trade};
use crate::job::Job;
use crate::load::Force;
use crate::money::Money;
use crate::plan::Plan;

/// One choice, and what it comes to.
#[derive(Debug, Clone)]
pub struct Choice {
    /// What is chosen.
    pub name: String,
    /// What it takes to have it from the command line, behind the job; empty
    /// for the job as it stands.
    pub options: String,
    /// What a person should know of it.
    pub notes: Vec<String>,
    /// What is ordered, or why nothing can be.
    pub made: Result<Box<Made>, String>,
}

/// An order and what it is for.
#[derive(Debug, Clone)]
pub struct Made {
    /// The job as chosen.
    pub job: Job,
    /// Its plan.
    pub plan: Plan,
    /// What is bought for it.
    pub order: Order,
}

/// A line that two orders have in different numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The group it is in.
    pub group: Group,
    /// What it is.
    pub item: String,
    /// What is counted.
    pub unit: Trade,
    /// How many the first order has; 0 for none.
    pub from: u64,
    /// How many the other has; 0 for none.
    pub to: u64,
}

/// What makes two lines the same goods.
type Key<'a> = (Group, &'a str, &'a str, Option<u32>, Option<Force>);

impl Order {
    /// What one group's lines come to.
    pub fn of_group(&self, group: Group) -> Money {
        let lines = self.lines.iter().filter(|line| line.group == group);
        lines.filter_map(|line| line.price).sum()
    }

    /// The lines of another order that differ from this one's, in the order of
    /// their groups, those of this order first.
    pub fn differences(&self, other: &Order) -> Vec<Difference> {
        let mut known: BTreeMap<Key<'_>, usize> = BTreeMap::new();
        let mut found: Vec<Difference> = Vec::new();
        for (own, line) in (self.lines.iter().map(|line| (true, line)))
            .chain(other.lines.iter().map(|line| (false, line)))
        {
            let key = (
                line.group,
                line.item.as_str(),
                line.unit.name(),
                line.unit.pack(),
                line.unit.weight(),
            );
            let place = *known.entry(key).or_insert_with(|| {
                found.push(Difference {
                    group: line.group,
                    item: line.item.clone(),
                    unit: line.unit,
                    from: 0,
                    to: 0,
                });
                found.len() - 1
            });
            match own {
                true => found[place].from += line.count,
                false => found[place].to += line.count,
            }
        }
        found.retain(|difference| difference.from != difference.to);
        found.sort_by_key(|difference| difference.group);
        found
    }
}
