//! The exact least a multiset of pieces takes in boards, by a memoised walk:
//! the longest piece left goes on a board of each kind in turn, filled up in
//! every way that leaves room for nothing more.

use std::collections::HashMap;

use lastcourse::job::Job;
use lastcourse::stock::CutProblem;

/// A kind of piece; those that may lie in a strip of a split board are apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Kind {
    /// Its length as cut, in 1/8 µm.
    pub length: i64,
    /// Whether it may lie in a strip beside another.
    pub split: bool,
}

/// Where boards of one length come from.
#[derive(Debug, Clone, Copy)]
pub struct Source {
    /// Their length in 1/8 µm.
    pub length: i64,
    /// What pieces with a cut each may take: the length less trims, one cut more.
    pub room: i64,
    /// The saw's cut, added to every piece.
    pub kerf: i64,
    /// Cents each, nothing from hand.
    pub price: i64,
    /// How many there are, if that is limited.
    pub limit: Option<u64>,
    /// How many are sold together.
    pub bundle: u8,
}

/// The sources of a job's boards.
pub fn sources(job: &Job) -> Vec<Source> {
    let cutting = &job.cutting;
    job.stock
        .iter()
        .flat_map(|stock| {
            from_stock(
                stock.length.units(),
                cutting.end_trim.units(),
                cutting.kerf.units(),
                stock.price.map(|price| price.cents()),
                stock.on_hand.into(),
                stock.available.map(u64::from),
                stock.bundle as u8,
            )
        })
        .collect()
}

/// The sources of a cutting problem's boards.
pub fn sources_of(problem: &CutProblem) -> Vec<Source> {
    problem
        .stock
        .iter()
        .flat_map(|stock| {
            from_stock(
                stock.length.units(),
                problem.end_trim.units(),
                problem.kerf.units(),
                stock.price.map(|price| price.cents()),
                stock.on_hand,
                stock.available,
                stock.bundle as u8,
            )
        })
        .collect()
}

fn from_stock(
    length: i64,
    trim: i64,
    kerf: i64,
    price: Option<i64>,
    on_hand: u64,
    available: Option<u64>,
    bundle: u8,
) -> Vec<Source> {
    let source = |price, limit, bundle| Source {
        bundle,
        length,
        room: length - 2 * trim + kerf,
        kerf,
        price,
        limit,
    };
    let mut sources = Vec::new();
    if on_hand > 0 {
        sources.push(source(0, Some(on_hand), 1));
    }
    if let Some(price) = price
        && available != Some(0)
    {
        let whole = available.map(|have| have / u64::from(bundle) * u64::from(bundle));
        sources.push(source(price, whole, bundle));
    }
    sources
}

/// What is still wanted, boards left of each source, and boards paid already.
type State = (Vec<u8>, Vec<u8>, Vec<u8>);

/// What boards take: what counts first and what breaks ties.
pub type Taken = (i64, i64);

/// The walk over multisets of these kinds, with everything it has found out.
pub struct Boards<'a> {
    kinds: &'a [Kind],
    sources: &'a [Source],
    weigh: fn(&Source) -> Taken,
    known: HashMap<State, Option<Taken>>,
    most: usize,
}

/// The walk has grown beyond its limit.
#[derive(Debug)]
pub struct TooLarge;

impl<'a> Boards<'a> {
    /// A walk that remembers at most so many multisets.
    pub fn new(
        kinds: &'a [Kind],
        sources: &'a [Source],
        weigh: fn(&Source) -> Taken,
        most: usize,
    ) -> Boards<'a> {
        Boards {
            kinds,
            sources,
            weigh,
            known: HashMap::new(),
            most,
        }
    }

    /// The least that boards for so many pieces of each kind take, or nothing
    /// when the boards do not suffice.
    pub fn least(&mut self, counts: &[u8]) -> Result<Option<Taken>, TooLarge> {
        let all: u64 = counts.iter().map(|&count| u64::from(count)).sum();
        assert!(all < 255, "a small multiset");
        // More boards than pieces are never needed.
        let left: Vec<u8> = self
            .sources
            .iter()
            .map(|source| source.limit.map_or(all, |limit| limit.min(all)) as u8)
            .collect();
        self.walk(counts, &left, &vec![0; self.sources.len()])
    }

    /// The least for what is still wanted, with so many boards left of each
    /// source and so many paid already.
    fn walk(&mut self, counts: &[u8], left: &[u8], paid: &[u8]) -> Result<Option<Taken>, TooLarge> {
        let Some(longest) = counts.iter().position(|&count| count > 0) else {
            return Ok(Some((0, 0)));
        };
        let key = (counts.to_vec(), left.to_vec(), paid.to_vec());
        if let Some(known) = self.known.get(&key) {
            return Ok(*known);
        }
        if self.known.len() >= self.most {
            return Err(TooLarge);
        }
        let mut best: Option<Taken> = None;
        for (index, source) in self.sources.iter().enumerate() {
            if left[index] == 0 {
                continue;
            }
            let mut rest = left.to_vec();
            rest[index] -= 1;
            let mut then = paid.to_vec();
            let each = (self.weigh)(source);
            let own = match paid[index] {
                0 => {
                    then[index] = source.bundle - 1;
                    let bundle = i64::from(source.bundle);
                    (each.0 * bundle, each.1 * bundle)
                }
                _ => {
                    then[index] -= 1;
                    (0, 0)
                }
            };
            for remain in self.fillings(counts, longest, source) {
                if let Some(more) = self.walk(&remain, &rest, &then)? {
                    let taken = (own.0 + more.0, own.1 + more.1);
                    best = Some(best.map_or(taken, |best| best.min(taken)));
                }
            }
        }
        self.known.insert(key, best);
        Ok(best)
    }

    /// What may remain of the counts when a board takes the longest piece and
    /// then is filled until nothing more fits.
    fn fillings(&self, counts: &[u8], longest: usize, source: &Source) -> Vec<Vec<u8>> {
        let cut = self.kinds[longest].length + source.kerf;
        if cut > source.room {
            return Vec::new();
        }
        let mut rest = counts.to_vec();
        rest[longest] -= 1;
        let mut found = Vec::new();
        self.fill(
            &mut rest,
            longest,
            source.room - cut,
            source.kerf,
            false,
            &mut found,
        );
        if self.kinds[longest].split {
            let mut first_strips = Vec::new();
            self.fill(
                &mut rest,
                longest,
                source.room - cut,
                source.kerf,
                true,
                &mut first_strips,
            );
            for mut rest in first_strips {
                self.fill(&mut rest, 0, source.room, source.kerf, true, &mut found);
            }
        }
        found
    }

    /// Fills room with pieces from a kind on; only with those for strips if so asked.
    fn fill(
        &self,
        rest: &mut Vec<u8>,
        from: usize,
        room: i64,
        kerf: i64,
        strip: bool,
        found: &mut Vec<Vec<u8>>,
    ) {
        let may = |index: usize| !strip || self.kinds[index].split;
        let Some(index) = (from..rest.len()).find(|&index| may(index)) else {
            let full = (0..rest.len()).all(|index| {
                rest[index] == 0 || !may(index) || self.kinds[index].length + kerf > room
            });
            if full {
                found.push(rest.clone());
            }
            return;
        };
        let cut = self.kinds[index].length + kerf;
        let mut taken = 0;
        loop {
            self.fill(
                rest,
                index + 1,
                room - i64::from(taken) * cut,
                kerf,
                strip,
                found,
            );
            if rest[index] == 0 || i64::from(taken + 1) * cut > room {
                break;
            }
            rest[index] -= 1;
            taken += 1;
        }
        rest[index] += taken;
    }
}
