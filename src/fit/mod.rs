//! Ways to finish well: what could be changed so that the courses come out, or
//! a shorter board serves, what each way costs by a real plan, how likely it
//! comes out, and in which order they are listed. It proposes; what is chosen
//! is said as changes that any command takes.

mod across;
mod change;
mod length;
mod price;
mod rank;
mod robust;
mod sweep;
mod turned;
mod way;

pub use change::Change;
pub use price::{Planned, Planner, Priced, Task, alike, plan_all};
pub use rank::{Ranking, rank};
pub use sweep::{Point, sweep};
pub use turned::{Turned, turned};
pub use way::{Ending, Kind, Way};

use crate::deck::{DeckError, surface};
use crate::job::Job;

/// Every sensible way to finish with these fasteners, priced and ranked.
///
/// # Errors
/// When the job has no deck.
///
/// # Panics
/// When the job has no such fastener.
pub fn fit(
    job: &Job,
    fasteners: &[usize],
    ranking: Ranking,
    planner: Planner,
) -> Result<Vec<Priced>, DeckError> {
    let surface = surface(job)?;
    let mut ways = Vec::new();
    for &fastener in fasteners {
        ways.extend(across::ways(job, fastener)?);
        if !job.stock.is_empty() {
            ways.extend(length::ways(job, &surface, fastener));
        }
    }
    let mut priced = price::price(job, ways, planner);
    set_against_leave(&mut priced);
    priced.retain(|way| !way.way.does(Kind::Length) || saves(way));
    rank(&mut priced, Ranking::Disturbance);
    let both: Vec<Way> = fasteners
        .iter()
        .filter_map(|&fastener| across_and_along(job, fastener, &priced))
        .collect();
    priced.extend(price::price(job, both, planner));
    set_against_leave(&mut priced);
    rank(&mut priced, ranking);
    Ok(priced)
}

fn saves(priced: &Priced) -> bool {
    priced.difference.is_some_and(|more| more.cents() < 0)
}

fn set_against_leave(priced: &mut [Priced]) {
    let leave: Vec<_> = priced
        .iter()
        .filter(|priced| priced.way.kinds == [Kind::Leave])
        .filter_map(|priced| Some((priced.way.fastener, priced.totals()?.clone())))
        .collect();
    for priced in priced {
        let same = leave
            .iter()
            .find(|(fastener, _)| *fastener == priced.way.fastener);
        let both = same.zip(priced.totals());
        let less = both.map(|((_, leave), own)| {
            let boards = i64::from(own.boards) - i64::from(leave.boards);
            (own.cost - leave.cost, boards)
        });
        (priced.difference, priced.more_boards) = less.unzip();
    }
}

/// The best way across together with the way along that saves most.
fn across_and_along(job: &Job, fastener: usize, ranked: &[Priced]) -> Option<Way> {
    let mut own = ranked.iter().filter(|p| p.way.fastener == fastener);
    let along = own
        .clone()
        .filter(|p| p.way.does(Kind::Length))
        .min_by_key(|p| p.cost())?;
    let across = own.find(|p| !p.way.does(Kind::Length))?;
    if across.way.kinds == [Kind::Leave] {
        return None;
    }
    let kinds: Vec<Kind> = [&across.way.kinds[..], &along.way.kinds[..]].concat();
    let changes = [&across.way.changes[..], &along.way.changes[..]].concat();
    Way::new(job, fastener, &kinds, changes)
}
