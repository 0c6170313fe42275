//! Why a job has no plan, in words a builder can act on: which rule cannot be
//! met, with its values and places, and which one to let go by how much. What
//! is offered as a way out has been planned. It knows no more of plans than
//! whether there is one.

mod extras;
mod joints;
mod keep_out;
mod lays;
mod relax;
mod supply;
#[cfg(test)]
mod tests;

pub(super) use joints::{joints_not_found, too_few_joints};
pub(super) use supply::is_short;

use super::model::{Unfit, longest};
use super::{Effort, PlanError, PlanOptions};
use crate::job::{Job, JointRules};
use crate::joints::Place;
use crate::length::Length;
use lays::{Along, Lays, lays};
use relax::{Asker, below, shortest_pieces, staggers};

/// Where an explanation is to be looked for.
struct Why {
    message: String,
    /// Where along something is in the way.
    focus: Length,
}

/// Whether the rules along leave a way to lay the courses.
pub(super) fn lays_at_all(job: &Job, options: &PlanOptions) -> bool {
    lays(job, options.fastener) == Lays::Yes
}

/// Why a job cannot be searched at all.
pub(super) fn unfit(
    job: &Job,
    options: &PlanOptions,
    why: Unfit,
    stop: &dyn Fn() -> bool,
) -> PlanError {
    match why {
        Unfit::NoSurface(error) => PlanError::Impossible {
            message: error.to_string(),
            help: error.way_out().to_owned(),
        },
        Unfit::NoBoards if job.stock.is_empty() => PlanError::Impossible {
            message: "the job has no boards to plan with".to_owned(),
            help: "add the lengths the yard sells, each with its price".to_owned(),
        },
        Unfit::NoBoards => no_boards(job),
        Unfit::TooManyPieces => PlanError::NotFound {
            message: "the joints can fall in so many places that the pieces between them are \
                      too many to plan with"
                .to_owned(),
            help: help(job, options, job.deck.along.half_down(), stop, || {
                "space the joists farther apart or evenly, leave out boards longer than are \
                 needed, or plan the deck in parts"
                    .to_owned()
            }),
        },
        Unfit::ExtraTooLong(place) => {
            let unit = job.unit;
            let extra = &job.extras[place];
            let longest = longest(job).unwrap_or(Length::ZERO);
            let otherwise = || {
                format!(
                    "boards of {} or longer, or pieces of {} at most",
                    (extra.length + job.cutting.end_trim * 2).show(unit),
                    longest.show(unit)
                )
            };
            PlanError::Impossible {
                message: format!(
                    "a \"{}\" is {} long; the longest board that can be had gives {}{}",
                    extra.label,
                    extra.length.show(unit),
                    longest.show(unit),
                    match job.cutting.end_trim > Length::ZERO {
                        true => " once its ends are trimmed",
                        false => "",
                    }
                ),
                help: help(job, options, job.deck.along.half_down(), stop, otherwise),
            }
        }
        Unfit::TooDear => PlanError::NotFound {
            message: "all boards and joints together may cost more than can be counted".to_owned(),
            help: "look for a digit too many in a price, or plan the deck in parts".to_owned(),
        },
    }
}

fn no_boards(job: &Job) -> PlanError {
    let unit = job.unit;
    let why: Vec<String> = job
        .stock
        .iter()
        .map(|stock| {
            let length = stock.length.show(unit);
            if stock.length <= job.cutting.end_trim * 2 {
                let trim = job.cutting.end_trim.show(unit);
                format!("{trim} off each end leaves nothing of {length}")
            } else if stock.available == Some(0) {
                format!("{length}: `available` is 0 and none are on hand")
            } else if let Some(available) = stock.available.filter(|_| stock.price.is_some()) {
                let bundle = stock.bundle;
                format!("{length}: `available` is {available}, less than a bundle of {bundle}")
            } else {
                format!("{length}: no price and none on hand")
            }
        })
        .collect();
    PlanError::Impossible {
        message: format!("none of the job's boards can be had: {}", why.join("; ")),
        help: "say how many can be bought, `stock.1.available = 40`, and at what price, or how \
               many are there, `stock.1.on_hand = 40`"
            .to_owned(),
    }
}

/// Why no plan can obey a job's rules.
pub(super) fn impossible(job: &Job, options: &PlanOptions, stop: &dyn Fn() -> bool) -> PlanError {
    let why = match lays(job, options.fastener) {
        Lays::NoCourse => course(job, options.fastener),
        Lays::NotBeside(width) => beside(job, options.fastener, width),
        Lays::NotRepeated(round) => repeated(job, options.fastener, round),
        Lays::NoBoards | Lays::Yes => boards(job, options.fastener),
    };
    let otherwise = || {
        "no rule let go by itself makes a plan possible; let go of two, or change the boards \
         or the joists"
            .to_owned()
    };
    PlanError::Impossible {
        help: help(job, options, why.focus, stop, otherwise),
        message: why.message,
    }
}

/// That no plan was found, and none was proven impossible.
pub(super) fn not_found(job: &Job, options: &PlanOptions, stop: &dyn Fn() -> bool) -> PlanError {
    let tried = longest(job)
        .and_then(|longest| Along::of(job, options.fastener, longest))
        .map_or_else(String::new, |along| {
            format!(
                " for {} courses with joints on {} joists",
                along.courses,
                along.run.joints.len()
            )
        });
    let otherwise = || {
        "a smaller `joints.stagger`, `joints.stagger_joists`, `joints.bearing` or `joints.same_joist_after`, or another \
         length of board, makes room"
            .to_owned()
    };
    let supply = supply::had(job)
        .zip(supply::needed(job, options.fastener))
        .map_or_else(String::new, |(had, (what, needed))| {
            format!(
                "; of the {} of boards that can be had {what} {} or more",
                had.show(job.unit),
                needed.show(job.unit)
            )
        });
    PlanError::NotFound {
        message: format!(
            "no plan was found{tried}, and it is not proven that there is none; tried were \
             blocks of neighbouring courses put in order, and orders of joints that repeat{supply}"
        ),
        help: help(job, options, job.deck.along.half_down(), stop, otherwise),
    }
}

/// Every single way out that was planned, or else some words.
fn help(
    job: &Job,
    options: &PlanOptions,
    focus: Length,
    stop: &dyn Fn() -> bool,
    otherwise: impl Fn() -> String,
) -> String {
    if options.brief || options.effort == Effort::Quick {
        return otherwise();
    }
    let fastener = options.fastener;
    let asker = Asker {
        job,
        fastener,
        stop,
        lays: lays(job, fastener) == Lays::Yes,
    };
    let found: Vec<String> = asker
        .relaxations(focus, is_short(job, fastener))
        .into_iter()
        .map(|relaxation| relaxation.what)
        .collect();
    match &found[..] {
        [] => otherwise(),
        [one] => format!("this makes a plan possible: {one}"),
        several => format!(
            "any one of these makes a plan possible: {}",
            several.join("; ")
        ),
    }
}

/// The places along of a run's start, joints and end.
fn place(along: &Along, place: Place) -> Length {
    match place {
        0 => along.run.from,
        p if p == along.run.end() => along.run.to,
        p => along.run.joints[p as usize - 1],
    }
}

/// Why not even one course can be cut.
fn course(job: &Job, fastener: usize) -> Why {
    let unit = job.unit;
    let rules = &job.joints;
    let longest = longest(job).unwrap_or(Length::ZERO);
    let ask = |bearing: u32, shortest: Length| {
        let mut freed = job.clone();
        freed.joints.bearing = bearing;
        freed.joints.shortest_piece = shortest;
        Along::of(&freed, fastener, longest).map(|along| {
            let course = along.course(&freed, |_| 1);
            (along, course.map(|(_, course)| course))
        })
    };
    let Some((bare, course)) = ask(1, Length::ZERO) else {
        return boards(job, fastener);
    };
    if course.is_none() {
        return bay(job, &bare, longest);
    }
    let lies = |bearing, shortest| ask(bearing, shortest).is_some_and(|(_, c)| c.is_some());
    if !lies(rules.bearing, Length::ZERO) {
        let most = below(rules.bearing, 1)
            .into_iter()
            .find(|&bearing| lies(bearing, Length::ZERO))
            .unwrap_or(1);
        if let Some((along, Some(course))) = ask(most, Length::ZERO) {
            let ends: Vec<Place> = [0]
                .into_iter()
                .chain(course)
                .chain([along.run.end()])
                .collect();
            let least = ends
                .windows(2)
                .min_by_key(|piece| along.run.bearing(piece[0], piece[1], &along.supports));
            if let Some(&[a, b]) = least {
                let (from, to) = (along.run.starts(a), along.run.ends(b));
                return Why {
                    message: format!(
                        "a {} piece between {} and {} would rest on {most} {}; this job asks for {}",
                        (to - from).show(unit),
                        from.show(unit),
                        to.show(unit),
                        if most == 1 { "joist" } else { "joists" },
                        rules.bearing
                    ),
                    focus: (from + to).half_down(),
                };
            }
        }
    }
    let run = bare.run.to - bare.run.from;
    let middle = (bare.run.from + bare.run.to).half_down();
    let shortest = shortest_pieces(job, fastener)
        .into_iter()
        .find(|&shortest| lies(1, shortest))
        .unwrap_or(Length::ZERO);
    let message = if !lies(1, rules.shortest_piece) {
        format!(
            "a course of {} cut from boards of {} at most has a piece of {} or less; this job \
             asks for {} or more (`joints.shortest_piece`)",
            run.show(unit),
            longest.show(unit),
            shortest.show(unit),
            rules.shortest_piece.show(unit)
        )
    } else {
        format!(
            "no course of {} has pieces that all rest on {} joists (`joints.bearing`) and are \
             all {} or longer (`joints.shortest_piece`); either by itself can be met",
            run.show(unit),
            rules.bearing,
            rules.shortest_piece.show(unit)
        )
    };
    Why {
        message: message + &kept_out(rules),
        focus: middle,
    }
}

/// The stretch without a place for a joint that no board spans.
fn bay(job: &Job, along: &Along, longest: Length) -> Why {
    let unit = job.unit;
    let run = &along.run;
    // Boards reach no farther than this; the stretch begins there.
    let mut from = 0;
    while let Some(next) = run
        .reach(from)
        .rev()
        .find(|&to| run.piece(from, to).is_some())
    {
        from = next;
    }
    let to = (from + 1).min(run.end());
    let name = |p: Place| match p {
        0 => "the boards' left end".to_owned(),
        p if p == run.end() => "the boards' right end".to_owned(),
        p => format!("the joist at {}", place(along, p).show(unit)),
    };
    let mut piece = run.ends(to) - run.starts(from);
    if from == 0 {
        piece += job.edges.left.allowance();
    }
    if to == run.end() {
        piece += job.edges.right.allowance();
    }
    let trims = if job.cutting.end_trim > Length::ZERO {
        " once its ends are trimmed"
    } else {
        ""
    };
    Why {
        message: format!(
            "no joint can fall between {} and {}, which takes a piece of {}; the longest board \
             that can be had gives {}{trims} (there are no joints on the first and the last joist){}",
            name(from),
            name(to),
            piece.show(unit),
            longest.show(unit),
            kept_out(&job.joints)
        ),
        focus: (place(along, from) + place(along, to)).half_down(),
    }
}

/// Why so many courses cannot lie side by side.
fn beside(job: &Job, fastener: usize, width: usize) -> Why {
    let unit = job.unit;
    let rules = &job.joints;
    let mut focus = job.deck.along.half_down();
    let mut start = "every course has a joint,".to_owned();
    if let Some(along) = longest(job).and_then(|longest| Along::of(job, fastener, longest)) {
        focus = (along.run.from + along.run.to).half_down();
        start = format!(
            "every course of {} has a joint,",
            (along.run.to - along.run.from).show(unit)
        );
    }
    let asker = Asker {
        job,
        fastener,
        stop: &|| false,
        lays: false,
    };
    let staggers = staggers(job, fastener);
    let stagger = staggers.get(asker.first(&staggers, &|job, value| job.joints.stagger = *value));
    let joists = below(rules.stagger_joists, 0);
    let joists = joists.get(asker.first(&joists, &|job, value| job.joints.stagger_joists = *value));
    let counts = below(rules.same_joist_after, 0);
    let after =
        counts.get(asker.first(&counts, &|job, value| job.joints.same_joist_after = *value));
    let message = match (width, stagger, after) {
        (2, Some(stagger), _) => format!(
            "{start} and neighbouring courses can keep theirs {} apart at most; this job asks \
             for {} (`joints.stagger`)",
            stagger.show(unit),
            rules.stagger.show(unit)
        ),
        (2, None, _) if joists.is_some() => format!(
            "{start} and neighbouring courses can keep theirs {} apart at most; this job asks for \
             {} (`joints.stagger_joists`)",
            counted(joists.copied().unwrap_or(0)),
            counted(rules.stagger_joists)
        ),
        (2, None, Some(_)) => format!(
            "{start} and neighbouring courses can have it on one joist only; this job asks for {} \
             courses between two joints on one joist (`joints.same_joist_after`)",
            rules.same_joist_after
        ),
        (_, _, Some(after)) => format!(
            "{start} and with joints {} apart in neighbours there can be {after} courses between \
             two joints on one joist at most; this job asks for {} (`joints.same_joist_after`)",
            rules.stagger.show(unit),
            rules.same_joist_after
        ),
        (_, Some(stagger), None) => format!(
            "{start} and {width} courses side by side can keep theirs {} apart at most; this job \
             asks for {} (`joints.stagger`)",
            stagger.show(unit),
            rules.stagger.show(unit)
        ),
        (_, None, None) if joists.is_some() => format!(
            "{start} and {width} courses side by side can keep theirs {} apart at most; this job \
             asks for {} (`joints.stagger_joists`)",
            counted(joists.copied().unwrap_or(0)),
            counted(rules.stagger_joists)
        ),
        (_, None, None) => format!(
            "{start} and {} have too few joists for joints {} apart (`joints.stagger`){} and \
             `joints.same_joist_after = {}`",
            match width {
                2 => "neighbouring courses".to_owned(),
                _ => format!("{width} courses side by side"),
            },
            rules.stagger.show(unit),
            match rules.stagger_joists {
                0 => String::new(),
                n => format!(" and {} apart (`joints.stagger_joists`)", counted(n)),
            },
            rules.same_joist_after
        ),
    };
    Why {
        message: message + &kept_out(rules),
        focus,
    }
}

/// Why so many courses cannot come round again and again.
fn repeated(job: &Job, fastener: usize, round: usize) -> Why {
    let unit = job.unit;
    let rules = &job.joints;
    let along = longest(job).and_then(|longest| Along::of(job, fastener, longest));
    let run = along.map_or(job.deck.along, |along| along.run.to - along.run.from);
    let start = format!("every course of {} has a joint,", run.show(unit));
    let message = match round {
        1 => format!(
            "{start} and with joints in line in all courses (`joints.repeat = 1`) none keeps {}",
            match rules.stagger > Length::ZERO {
                true => format!(
                    "{} from its neighbour's (`joints.stagger`)",
                    rules.stagger.show(unit)
                ),
                false => "off its neighbour's joist (`joints.same_joist_after`, \
                          `joints.stagger_joists`)"
                    .to_owned(),
            }
        ),
        round if round as u64 <= u64::from(rules.same_joist_after) => format!(
            "{start} and one that comes round again after {round} courses (`joints.repeat`) is \
             back on its joist too soon: this job asks for {} courses between two joints on one \
             joist (`joints.same_joist_after`)",
            rules.same_joist_after
        ),
        round => format!(
            "{start} and no {round} courses (`joints.repeat`) keep their joints apart where the \
             last of them lies beside the first again: this job asks for {} \
             (`joints.stagger`) and {} between two joints on one joist \
             (`joints.same_joist_after`)",
            rules.stagger.show(unit),
            match rules.same_joist_after {
                1 => "1 course".to_owned(),
                n => format!("{n} courses"),
            }
        ),
    };
    Why {
        message: message + &kept_out(rules),
        focus: job.deck.along.half_down(),
    }
}

/// So many joists.
fn counted(joists: u32) -> String {
    match joists {
        1 => "1 joist".to_owned(),
        n => format!("{n} joists"),
    }
}

/// That some joists are kept free of joints, where they are.
fn kept_out(rules: &JointRules) -> String {
    match rules.keep_out.len() {
        0 => String::new(),
        1 => "; one stretch is kept free of joints (`joints.keep_out`)".to_owned(),
        n => format!("; {n} stretches are kept free of joints (`joints.keep_out`)"),
    }
}

/// Why the boards do not do, no rule by itself being in the way.
fn boards(job: &Job, fastener: usize) -> Why {
    let unit = job.unit;
    let message = match (supply::had(job), supply::needed(job, fastener)) {
        (Some(had), Some((what, needed))) if is_short(job, fastener) => format!(
            "the boards that can be had come to {}; {what} {} at least, {} more",
            had.show(unit),
            needed.show(unit),
            (needed - had).show(unit)
        ),
        (had, needed) => match (supply::shortfall(job, fastener), had, needed) {
            (Some(short), _, _) => short.told(unit, !job.extras.is_empty()),
            (None, Some(had), Some((what, needed))) => format!(
                "the boards that can be had come to {} in all and {what} {} of it, but however \
                 they are cut, too much of their length is left over",
                had.show(unit),
                needed.show(unit)
            ),
            _ => "the boards that can be had do not hold all pieces under these rules: those \
                  there is no end to do not serve every course, and the others are too few"
                .to_owned(),
        },
    };
    Why {
        message,
        focus: job.deck.along.half_down(),
    }
}
