//! Families of joints: every joint is given to the courses of one colour, such
//! that joints of different colours keep the stagger wherever their courses may
//! be neighbours. Courses then go in any order, so that only counts are left to
//! choose. Which joint goes to which colour is read off the relaxation, one
//! conflict at a time.

use super::class::Class;
use super::counts::Counts;
use super::master::{Column, Master};
use crate::job::JointRules;
use crate::joints::{Allowed, Path, Place, Run};

/// Which joints the courses of each colour may have.
pub(crate) type Family = Allowed;

/// The rules between colours.
pub(crate) struct Colours<'a> {
    /// How many colours; courses so many apart have the same.
    pub period: usize,
    /// Whether the colours come round again, or each is used once.
    pub cyclic: bool,
    pub rules: &'a JointRules,
    /// The run with the joints.
    pub run: &'a Run,
}

impl Colours<'_> {
    fn conflict(&self, a: (usize, usize), b: (usize, usize)) -> bool {
        if a.0 == b.0 {
            return false;
        }
        let apart = a.0.abs_diff(b.0);
        let apart = if self.cyclic {
            apart.min(self.period - apart)
        } else {
            apart
        };
        let (a, b) = (a.1 as Place, b.1 as Place);
        !self.run.compatible(self.rules, a, b, apart)
    }

    fn all(&self) -> impl Iterator<Item = (usize, usize)> {
        let places = self.run.joints.len();
        (0..self.period).flat_map(move |c| (1..=places).map(move |s| (c, s)))
    }
}

/// How often each colour uses each joint in the relaxation.
fn usage(master: &Master, colours: &Colours) -> Vec<Vec<f64>> {
    let mut usage = vec![vec![0.0; colours.run.joints.len() + 1]; colours.period];
    let mut blocks: Vec<(usize, &Path, f64)> = master
        .used()
        .into_iter()
        .filter_map(|(column, x)| match column {
            Column::Block(q, path) => Some((*q, path, x)),
            _ => None,
        })
        .collect();
    blocks.sort_by(|a, b| b.2.total_cmp(&a.2));
    for (q, path, x) in blocks {
        let class = &master.classes[q];
        // A block of like courses may as well lie the other way round: whichever
        // disagrees less with what is used already.
        let mut turned = path.clone();
        turned.reverse();
        let like = class.materials.iter().all(|m| *m == class.materials[0]);
        let free = class.allowed.as_ref().is_none_or(|allowed| {
            turned
                .iter()
                .zip(allowed)
                .all(|(js, ok)| js.iter().all(|&j| ok[j as usize]))
        });
        let clash = |path: &Path| -> f64 {
            let marks = path
                .iter()
                .zip(&class.colours)
                .flat_map(|(joints, &c)| joints.iter().map(move |&joint| (c, joint as usize)));
            marks
                .map(|mark| -> f64 {
                    colours
                        .all()
                        .filter(|&other| colours.conflict(mark, other))
                        .map(|(c, s)| usage[c][s])
                        .sum()
                })
                .sum()
        };
        let path = if like && free && clash(&turned) < clash(path) - 1e-9 {
            &turned
        } else {
            path
        };
        for (joints, &colour) in path.iter().zip(&class.colours) {
            for &joint in joints {
                usage[colour][joint as usize] += x;
            }
        }
    }
    usage
}

/// A family read off a solved relaxation whose courses have colours. `turn`
/// passes over so many of the first choices, so that another call finds another
/// family. Nothing when no consistent family leaves a way to cut the courses.
pub(crate) fn dive(
    master: &Master,
    colours: &Colours,
    mut turn: usize,
    at_most: i64,
    counts: &Counts,
    stop: &dyn Fn() -> bool,
) -> Option<Family> {
    let mut allowed: Allowed = vec![vec![true; colours.run.joints.len() + 1]; colours.period];
    let mut claimed: Vec<(usize, usize)> = Vec::new();
    let mut used = usage(master, colours);
    let mut known: Vec<Column> = master.columns.clone();
    for _ in 0..80 {
        // Conflicts among what is used, the most used joint first.
        let mut open: Vec<(f64, (usize, usize))> = colours
            .all()
            .filter(|&(c, s)| used[c][s] > 1e-6 && !claimed.contains(&(c, s)))
            .filter_map(|a| {
                let against: f64 = colours
                    .all()
                    .filter(|&b| colours.conflict(a, b))
                    .map(|(c, s)| used[c][s])
                    .sum();
                (against > 1e-6).then_some((used[a.0][a.1] - 0.5 * against, a))
            })
            .collect();
        open.sort_by(|x, y| y.0.total_cmp(&x.0).then(x.1.cmp(&y.1)));
        if open.is_empty() {
            return Some(complete(colours, allowed, &used, claimed));
        }
        let pick = open[turn.min(open.len() - 1)].1;
        turn = 0;
        // What conflicts with nothing in use is claimed along the way.
        let quiet: Vec<(usize, usize)> = colours
            .all()
            .filter(|&(c, s)| {
                used[c][s] > 1e-6
                    && !claimed.contains(&(c, s))
                    && !open.iter().any(|(_, a)| *a == (c, s))
                    && !colours.conflict((c, s), pick)
            })
            .collect();
        for claim in std::iter::once(pick).chain(quiet) {
            claimed.push(claim);
            for other in colours.all() {
                if colours.conflict(claim, other) {
                    allowed[other.0][other.1] = false;
                }
            }
        }
        let restricted = restrict(master, &allowed);
        known.retain(|column| match column {
            Column::Block(q, path) => permits(&allowed, &master.classes[*q], path),
            _ => true,
        });
        let mut next = Master::counting(
            master.model,
            restricted,
            master.fixed(),
            &known,
            counts.clone(),
        );
        next.solve(at_most, i64::MAX, stop);
        if stop() || next.misses() {
            return None;
        }
        used = usage(&next, colours);
        known = next.columns;
    }
    None
}

fn restrict(master: &Master, allowed: &Allowed) -> Vec<Class> {
    master
        .classes
        .iter()
        .map(|class| Class {
            allowed: Some(class.colours.iter().map(|&c| allowed[c].clone()).collect()),
            ..class.clone()
        })
        .collect()
}

fn permits(allowed: &Allowed, class: &Class, path: &Path) -> bool {
    path.iter()
        .zip(&class.colours)
        .all(|(joints, &c)| joints.iter().all(|&j| allowed[c][j as usize]))
}

/// Gives every joint that nobody has claimed to a colour that may still have it,
/// the nearest claim of its own colour deciding.
fn complete(
    colours: &Colours,
    mut allowed: Allowed,
    used: &[Vec<f64>],
    mut claimed: Vec<(usize, usize)>,
) -> Family {
    for a in colours.all() {
        if used[a.0][a.1] > 1e-6 && !claimed.contains(&a) {
            claimed.push(a);
        }
    }
    for &claim in &claimed {
        for other in colours.all() {
            if colours.conflict(claim, other) {
                allowed[other.0][other.1] = false;
            }
        }
    }
    let mut free: Vec<(usize, usize)> = colours
        .all()
        .filter(|a| allowed[a.0][a.1] && !claimed.contains(a))
        .collect();
    free.sort_by_key(|&(c, s)| {
        let near = claimed
            .iter()
            .filter(|(other, _)| *other == c)
            .map(|&(_, t)| t.abs_diff(s))
            .min()
            .unwrap_or(usize::MAX);
        (near, s, c)
    });
    for a in free {
        if allowed[a.0][a.1] {
            for other in colours.all() {
                if colours.conflict(a, other) {
                    allowed[other.0][other.1] = false;
                }
            }
        }
    }
    allowed
}
