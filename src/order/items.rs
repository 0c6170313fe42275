//! Goods that a person adds by hand: lines like any other, in their groups. It
//! knows nothing of what they are for.

use super::{Line, Needed, Trade};
use crate::job::Job;

/// A line for each item of the job, in its order.
pub(super) fn lines(job: &Job) -> impl Iterator<Item = Line> {
    job.order.items.iter().map(|item| {
        let count = u64::from(item.count);
        let line = Line {
            group: item.group,
            item: item.item.clone(),
            unit: Trade::By(item.unit),
            needed: Needed::Count(count),
            on_hand: 0,
            count,
            price_each: None,
            price: None,
        };
        line.priced(item.price)
    })
}
