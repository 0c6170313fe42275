//! Valid plans made without looking for good ones: random joints that keep the
//! rules, boards filled as they come. Whatever the program says of such a job,
//! it can be done, and for no more than this.

use std::collections::HashSet;

use lastcourse::courses::{Course, layout};
use lastcourse::deck::{Surface, supports, surface};
use lastcourse::job::{Extra, Job};
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::plan::{
    LeftOver, Objective, Plan, PlannedBoard, PlannedCourse, PlannedExtra, PlannedPiece, PlannedRun,
    Totals,
};

use super::draw::Draw;

/// A random valid plan of a job with its first fastener, if one turns up within
/// a few tries; stocks' limits are lifted where it needs more.
pub fn plan(draw: &mut Draw, job: &mut Job) -> Option<Plan> {
    let surface = surface(job).ok()?;
    let layout = layout(job, &surface, 0);
    let walk = Walk::new(job, &surface);
    let joints = (0..30).find_map(|_| walk.courses(draw, layout.courses.len()))?;
    laid(draw, job, &joints)
}

/// A plan with joints on these supports, course by course, whether they keep
/// the rules or not; nothing when a piece is longer than every board.
pub fn laid(draw: &mut Draw, job: &mut Job, joints: &[Vec<usize>]) -> Option<Plan> {
    let surface = surface(job).ok()?;
    let layout = layout(job, &surface, 0);
    let walk = Walk::new(job, &surface);
    let mut courses: Vec<PlannedCourse> = layout
        .courses
        .iter()
        .zip(joints)
        .map(|(course, joints)| walk.course(job, course, joints))
        .collect();
    let mut extras = extras(job);
    let boards = boards(draw, job, &mut courses, &mut extras)?;
    let left_over = left_over(job, &boards);
    let price = boards.iter().map(|board| board.price).sum::<Money>()
        + left_over.iter().map(|left| left.price).sum::<Money>();
    let count: usize = joints.iter().map(Vec::len).sum();
    let doubled = joints.iter().flatten().collect::<HashSet<_>>().len();
    let cost =
        price + job.joints.price * count as i64 + job.joints.doubled_joist_price * doubled as i64;
    Some(Plan {
        proof: None,
        joints_at_most: None,
        fastener: 0,
        gap: layout.gap,
        supports: supports(job).centres,
        totals: Totals {
            boards: boards.len() as u32,
            price,
            joints: count as u32,
            doubled_joists: doubled as u32,
            objective: Objective::Cost,
            cost,
            value: cost.cents(),
            bound: 0,
            proven: cost == Money::ZERO,
            joints_proven: false,
            stopped: false,
            bought: boards.iter().map(|board| board.length).sum::<Length>()
                + left_over
                    .iter()
                    .map(|left| job.stock[left.stock].length * i64::from(left.count))
                    .sum::<Length>(),
            laid: courses
                .iter()
                .flat_map(|course| &course.runs[0].pieces)
                .map(|piece| piece.to - piece.from)
                .sum(),
            extra: extras.iter().map(|piece| piece.length).sum(),
        },
        courses,
        extras,
        left_over,
        boards,
    })
}

/// What whole bundles leave over; stocks' limits are lifted for them.
fn left_over(job: &mut Job, boards: &[PlannedBoard]) -> Vec<LeftOver> {
    let mut found = Vec::new();
    for (place, stock) in job.stock.iter_mut().enumerate() {
        let mine = boards.iter().filter(|b| b.stock == place && !b.on_hand);
        let bought = mine.count() as u32;
        let count = (stock.bundle - bought % stock.bundle) % stock.bundle;
        stock.available = stock.available.map(|have| have.max(bought + count));
        if count > 0 {
            found.push(LeftOver {
                stock: place,
                count,
                price: stock.price.expect("a board that was bought") * i64::from(count),
            });
        }
    }
    found
}

/// The job's other pieces, not cut from any board yet.
fn extras(job: &Job) -> Vec<PlannedExtra> {
    let each = |(extra, kind): (usize, &Extra)| {
        let (label, length) = (kind.label.clone(), kind.length);
        (1..=kind.count).map(move |number| PlannedExtra {
            id: format!("{label} {number}"),
            extra,
            length,
            board: 0,
        })
    };
    job.extras.iter().enumerate().flat_map(each).collect()
}

/// Sets every limit of a job's stock to exactly what a plan takes.
pub fn tighten(job: &mut Job, plan: &Plan) {
    for (index, stock) in job.stock.iter_mut().enumerate() {
        let taken = |on_hand| {
            let same = plan
                .boards
                .iter()
                .filter(|b| b.stock == index && b.on_hand == on_hand);
            same.count() as u32
        };
        stock.on_hand = taken(true);
        let left = plan.left_over.iter().filter(|left| left.stock == index);
        let left: u32 = left.map(|left| left.count).sum();
        stock.available = Some(taken(false) + left);
    }
}

/// A random walk over the supports, course by course.
struct Walk {
    supports: Vec<i64>,
    from: i64,
    to: i64,
    end_gap: i64,
    shortest: i64,
    bearing: usize,
    stagger: i64,
    stagger_joists: usize,
    keep_out: Vec<(i64, i64)>,
    after: usize,
    repeat: Option<usize>,
    allowances: (i64, i64),
    longest: i64,
}

impl Walk {
    fn new(job: &Job, surface: &Surface) -> Walk {
        let longest = job.stock.iter().map(|stock| stock.length).max();
        Walk {
            supports: supports(job).centres.iter().map(|at| at.units()).collect(),
            from: surface.from.units(),
            to: surface.to.units(),
            end_gap: job.joints.end_gap.units(),
            shortest: job.joints.shortest_piece.units(),
            bearing: job.joints.bearing as usize,
            stagger: job.joints.stagger.units(),
            stagger_joists: job.joints.stagger_joists as usize,
            keep_out: (job.joints.keep_out.iter())
                .map(|zone| (zone.from.units(), zone.to.units()))
                .collect(),
            after: job.joints.same_joist_after as usize,
            repeat: job.joints.repeat.map(|round| round as usize),
            allowances: (
                job.edges.left.allowance().units(),
                job.edges.right.allowance().units(),
            ),
            longest: longest.map_or(0, Length::units) - 2 * job.cutting.end_trim.units(),
        }
    }

    /// The two ends of a piece between joints, or the run's ends.
    fn ends(&self, left: Option<usize>, right: Option<usize>) -> (i64, i64) {
        (
            left.map_or(self.from, |at| self.supports[at] + (self.end_gap + 1) / 2),
            right.map_or(self.to, |at| self.supports[at] - self.end_gap / 2),
        )
    }

    fn allowed(&self, left: Option<usize>, right: Option<usize>) -> bool {
        let (from, to) = self.ends(left, right);
        let mut cut = to - from;
        cut += left.map_or(self.allowances.0, |_| 0) + right.map_or(self.allowances.1, |_| 0);
        if cut > self.longest || to <= from {
            return false;
        }
        let reach = (
            left.map_or(self.from, |at| self.supports[at]),
            right.map_or(self.to, |at| self.supports[at]),
        );
        let under = self
            .supports
            .iter()
            .filter(|&&at| reach.0 <= at && at <= reach.1);
        let single = left.is_none() && right.is_none();
        single || (to - from >= self.shortest && under.count() >= self.bearing)
    }

    /// Joints for every course, or nothing when the walk ran into a corner.
    fn courses(&self, draw: &mut Draw, count: usize) -> Option<Vec<Vec<usize>>> {
        let mut laid: Vec<Vec<usize>> = Vec::new();
        for _ in 0..count {
            let recent = &laid[laid.len().saturating_sub(self.after)..];
            let inner = 1..self.supports.len().saturating_sub(1);
            let free: Vec<usize> = inner
                .filter(|at| recent.iter().all(|joints| !joints.contains(at)))
                .filter(|&at| {
                    laid.last().is_none_or(|joints| {
                        joints.iter().all(|&other| {
                            (self.supports[at] - self.supports[other]).abs() >= self.stagger
                                && at.abs_diff(other) >= self.stagger_joists
                        })
                    })
                })
                .filter(|&at| {
                    let at = self.supports[at];
                    !self
                        .keep_out
                        .iter()
                        .any(|&(from, to)| from <= at && at <= to)
                })
                .collect();
            let again = self.repeat.and_then(|round| laid.len().checked_sub(round));
            match again {
                None => laid.push(self.one(draw, &free)?),
                Some(before) if laid[before].iter().all(|at| free.contains(at)) => {
                    laid.push(laid[before].clone());
                }
                Some(_) => return None,
            }
        }
        Some(laid)
    }

    /// Random joints on some of the free supports that cut a run as allowed.
    fn one(&self, draw: &mut Draw, free: &[usize]) -> Option<Vec<usize>> {
        // From which joints the rest of the run can be done.
        let mut can = vec![false; free.len()];
        for index in (0..free.len()).rev() {
            can[index] = self.allowed(Some(free[index]), None)
                || (index + 1..free.len())
                    .any(|next| can[next] && self.allowed(Some(free[index]), Some(free[next])));
        }
        let mut joints: Vec<usize> = Vec::new();
        let mut next_index = 0;
        loop {
            let last = joints.last().copied();
            let mut ways: Vec<Option<usize>> = (next_index..free.len())
                .filter(|&next| can[next] && self.allowed(last, Some(free[next])))
                .map(Some)
                .collect();
            if self.allowed(last, None) {
                ways.push(None);
            }
            // Long pieces mostly, so that plans are not absurdly dear.
            let from = if draw.chance(60) {
                ways.len() * 2 / 3
            } else {
                0
            };
            if ways.is_empty() {
                return None;
            }
            match ways[from + draw.below((ways.len() - from) as u32) as usize] {
                None => return Some(joints),
                Some(next) => {
                    joints.push(free[next]);
                    next_index = next + 1;
                }
            }
        }
    }

    fn course(&self, job: &Job, course: &Course, joints: &[usize]) -> PlannedCourse {
        let mut bounds = vec![None];
        bounds.extend(joints.iter().copied().map(Some));
        bounds.push(None);
        let pieces = bounds.windows(2).enumerate().map(|(index, pair)| {
            let (from, to) = self.ends(pair[0], pair[1]);
            let left = if index == 0 { self.allowances.0 } else { 0 };
            let right = if index == joints.len() {
                self.allowances.1
            } else {
                0
            };
            let mut letters = String::new();
            let mut rest = index;
            loop {
                letters.insert(0, char::from(b'a' + (rest % 26) as u8));
                if rest < 26 {
                    break;
                }
                rest = rest / 26 - 1;
            }
            PlannedPiece {
                id: format!("{}{letters}", course.number),
                from: Length::from_units(from),
                to: Length::from_units(to),
                length: Length::from_units(to - from + left + right),
                board: 0,
            }
        });
        PlannedCourse {
            number: course.number,
            from: course.from,
            to: course.to,
            width: course.width(),
            ripped: course.width() < job.board.face,
            runs: vec![PlannedRun {
                from: Length::from_units(self.from),
                to: Length::from_units(self.to),
                pieces: pieces.collect(),
            }],
        }
    }
}

/// A board being filled: its stock, whether from hand, and one or two strips.
struct Open {
    stock: usize,
    on_hand: bool,
    strips: Vec<(i64, Vec<String>)>,
}

/// Fills boards as the pieces come, longest first, and names them in the pieces.
fn boards(
    draw: &mut Draw,
    job: &mut Job,
    courses: &mut [PlannedCourse],
    extras: &mut [PlannedExtra],
) -> Option<Vec<PlannedBoard>> {
    let cutting = job.cutting.clone();
    let kerf = cutting.kerf.units();
    let room =
        |stock: usize, job: &Job| job.stock[stock].length.units() - 2 * cutting.end_trim.units();
    let mut wanted: Vec<(i64, bool, String)> = Vec::new();
    for course in courses.iter() {
        let splits = cutting.split_rips
            && course.ripped
            && course.width * 2 + cutting.rip_kerf <= job.board.face;
        for piece in &course.runs[0].pieces {
            wanted.push((piece.length.units(), splits, piece.id.clone()));
        }
    }
    for extra in extras.iter() {
        wanted.push((extra.length.units(), false, extra.id.clone()));
    }
    wanted.sort_by_key(|piece| std::cmp::Reverse(piece.0));
    let mut open: Vec<Open> = Vec::new();
    for (length, splits, id) in wanted {
        let place = open.iter_mut().find_map(|board| {
            let split = board.strips.len() == 2;
            if split && !splits {
                return None;
            }
            board.strips.iter_mut().find(|strip| length <= strip.0)
        });
        let Some((left, ids)) = place else {
            let fits: Vec<usize> = (0..job.stock.len())
                .filter(|&stock| room(stock, job) >= length)
                .collect();
            if fits.is_empty() {
                return None;
            }
            let stock = fits[draw.below(fits.len() as u32) as usize];
            let taken = |on_hand| {
                let same = open
                    .iter()
                    .filter(|b| b.stock == stock && b.on_hand == on_hand);
                same.count() as u32
            };
            let on_hand = taken(true) < job.stock[stock].on_hand;
            if !on_hand {
                let bought = taken(false);
                let kind = &mut job.stock[stock];
                kind.price = kind.price.or(Some(Money::from_cents(2_345)));
                kind.available = kind.available.map(|count| count.max(bought + 1));
            }
            let whole = (room(stock, job), Vec::new());
            let mut strips = vec![whole.clone()];
            if splits {
                strips.push(whole);
            }
            strips[0].0 -= length + kerf;
            strips[0].1.push(id);
            open.push(Open {
                stock,
                on_hand,
                strips,
            });
            continue;
        };
        *left -= length + kerf;
        ids.push(id);
    }
    // A split board needs something in both strips.
    for board in &mut open {
        board.strips.retain(|strip| !strip.1.is_empty());
    }
    open.sort_by_key(|board| board.stock);
    let mut done = Vec::new();
    for (index, board) in open.into_iter().enumerate() {
        let number = index as u32 + 1;
        let stock = &job.stock[board.stock];
        let pieces: Vec<String> = board
            .strips
            .iter()
            .flat_map(|strip| strip.1.clone())
            .collect();
        for piece in courses
            .iter_mut()
            .flat_map(|course| &mut course.runs[0].pieces)
        {
            if pieces.contains(&piece.id) {
                piece.board = number;
            }
        }
        for extra in extras.iter_mut() {
            if pieces.contains(&extra.id) {
                extra.board = number;
            }
        }
        let offcut = board.strips.iter().map(|strip| strip.0).max()?.max(0);
        let mut strips = board.strips.into_iter().map(|strip| strip.1);
        let pair = (strips.next(), strips.next());
        done.push(PlannedBoard {
            number,
            stock: board.stock,
            length: stock.length,
            price: if board.on_hand {
                Money::ZERO
            } else {
                stock.price?
            },
            on_hand: board.on_hand,
            pieces,
            strips: match pair {
                (Some(one), Some(other)) => Some([one, other]),
                _ => None,
            },
            offcut: Length::from_units(offcut),
        });
    }
    Some(done)
}
