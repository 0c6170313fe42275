//! Readings that cannot be, or hardly: courses miscounted, a tape misread, more
//! boards than there is room for. It says what such a reading would mean; to
//! take it or leave it is left to a person.

use super::pace::{Point, root};
use super::site::{Site, squared};
use crate::caution::Caution;
use crate::length::Length;

/// A reading that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubt {
    /// Its course.
    pub after: u32,
    /// Where along it was read.
    pub end: End,
    /// What is wrong with it.
    pub message: String,
    /// What it would mean, and what to do.
    pub help: String,
}

/// Where along the courses the tape was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Once for the course.
    Once,
    /// At its left end.
    Left,
    /// At its right end.
    Right,
}

/// What becomes of a reading.
pub enum Judged {
    /// Nothing is strange about it.
    Sound,
    /// It may be, but should be looked at.
    Odd(Caution),
    /// It cannot be.
    Wrong { message: String, help: String },
}

/// Judges a reading by the one before it, or by the starting edge.
pub fn judge(site: &Site<'_>, before: Option<Point>, point: Point) -> Judged {
    let unit = site.job.unit;
    let show = |length: Length| length.show(unit);
    let (from, start) = before.map_or((0, Length::ZERO), |p| (p.after, p.at));
    let stretch = site.stretch(from, point.after);
    let moved = point.at - start;
    let expected = site.far_edge(point.after) - site.far_edge(from);
    let off = moved - expected;
    let boards: Length = (from + 1..=point.after).map(|k| site.width(k)).sum();
    let readings = if from == 0 { 1 } else { 2 };
    let frame = squared(point.frame) + before.map_or(0, |p| squared(p.frame));
    let tape = squared(site.tape) * readings + frame;
    let allowed = root((site.alike(stretch, stretch) + site.one_by_one(stretch) + tape) as f64);
    if off.abs() <= allowed {
        return Judged::Sound;
    }
    let course = point.after;
    let since = match from {
        0 => String::new(),
        _ => format!(" since course {from}"),
    };
    let each = |length: Length| Length::from_units(length.units() / stretch.gaps().max(1));
    // The gaps that this reading makes of the boards as planned.
    let average = each(moved - boards);
    if point.at > site.across.width + site.errors.frame + site.across.face {
        return Judged::Wrong {
            message: format!(
                "after course {course} the tape says {}, and the deck is {} from the first edge to the last",
                show(point.at),
                show(site.across.width)
            ),
            help: "measure from the starting edge to the course's far edge; check the unit"
                .to_owned(),
        };
    }
    let pitch = site.pitch();
    let by = (off.units() * 2 + pitch.units()).div_euclid(pitch.units() * 2);
    let rest = off - pitch * by;
    let miscounted = by != 0 && rest.abs() * 4 <= pitch && course + by > from;
    // So much for each gap is more than a wrong clip or spacer (common
    // practice, no source).
    let hardly = stretch.gaps() == 0 || each(off).abs() > unit.tape() * 2;
    let counted = |n: i64| match n.abs() {
        1 => "one".to_owned(),
        n => n.to_string(),
    };
    if miscounted && hardly {
        let help = match average.is_negative() || stretch.gaps() == 0 {
            true => format!(
                "count the courses again, from 1 at the first edge; if it is course {course}, the boards are not the job's"
            ),
            false => format!(
                "count the courses again, from 1 at the first edge; if it is course {course}, the gaps{since} \
                 are {} on average, and `gap` says so",
                show(average)
            ),
        };
        return Judged::Wrong {
            message: format!(
                "after course {course} the tape should say {}; {} is where course {} ends{}: the count is {} course{} off",
                show(start + expected),
                show(point.at),
                course + by,
                match rest.abs() <= site.tape {
                    true => String::new(),
                    false => format!(", give or take {}", show(rest.abs())),
                },
                counted(by),
                if by.abs() == 1 { "" } else { "s" },
            ),
            help,
        };
    }
    if moved + allowed < boards {
        return Judged::Wrong {
            message: format!(
                "after course {course} the tape says {}, and {} boards{since} alone are {} wide",
                show(point.at),
                stretch.boards,
                show(boards)
            ),
            help: "measure again, from the starting edge to the course's far edge, and count the courses".to_owned(),
        };
    }
    if stretch.gaps() == 0 || each(off).abs() * 4 > site.across.face {
        return Judged::Wrong {
            message: format!(
                "after course {course} the tape should say {}, not {}",
                show(start + expected),
                show(point.at)
            ),
            help: format!(
                "measure again, from the starting edge to the course's far edge, and count the courses; \
                 it would make the gaps{since} {} on average",
                show(average)
            ),
        };
    }
    let courses = match from + 1 {
        first if first == course => format!("course {course} came"),
        first => format!("courses {first} to {course} came"),
    };
    let message = format!(
        "{courses} out {} {} than boards and gaps as set, more than the {} they may be off",
        show(off.abs()),
        if off.is_negative() {
            "narrower"
        } else {
            "wider"
        },
        show(allowed)
    );
    let help = match miscounted {
        true => format!(
            "count the courses again: where course {} should end the tape would say {}",
            course + by,
            show(start + expected + pitch * by)
        ),
        false => {
            "measure again; if it stays so, boards or gaps are not what the job says".to_owned()
        }
    };
    Judged::Odd(Caution::new(message, help))
}
