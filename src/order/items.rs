//! Goods that a person adds by hand: lines like any other, in their groups. It
//! knows nothing of what they are for.

use super::goods::line;
use super::{Line, Needed, Trade};
use crate::job::Job;

/// A line for each item of the job, in its order.
pub(super) fn lines(job: &Job) -> impl Iterator<Item = Line> {
    job.order.items.iter().map(|item| {
        let count = u64::from(item.count);
        let line = line(
            item.group,
            item.item.clone(),
            Trade::By(item.unit),
            Needed::Count(count),
            count,
        );
        line.priced(item.price)
    })
}
