//! One page of HTML with all that the site needs: what it comes to, cautions,
//! drawings, lists to tick off and the order. It stands alone: nothing is
//! fetched, everything is there without a script, and it prints on letter and
//! A4. The few lines of script only remember ticks.

use std::fmt::Write;

use super::svg::escaped;
use super::{Extent, Scene, Subject, svg};
use crate::order::Order;
use crate::report::plan::group::{extras, places};
use crate::report::terms::counted;
use crate::report::{self, Table};

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// The whole page; drawings in the order they are given.
pub fn html(subject: &Subject<'_>, order: &Order, drawings: &[Scene]) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = write(subject, order, drawings, &mut out);
    out
}

fn write(
    subject: &Subject<'_>,
    order: &Order,
    drawings: &[Scene],
    out: &mut String,
) -> std::fmt::Result {
    let title = escaped(&subject.job.title);
    writeln!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body data-job=\"{title}\">"
    )?;
    summary(subject, order, out)?;
    warnings(order, out)?;
    for drawing in drawings {
        // The title of the whole page is said already.
        let drawn = drawing.title.rsplit(": ").next().unwrap_or_default();
        writeln!(
            out,
            "<figure tabindex=\"0\" aria-label=\"{}\">",
            escaped(drawn)
        )?;
        out.push_str(&svg(drawing, Extent::Inner));
        out.push_str("</figure>\n");
    }
    cut_list(subject, out)?;
    laying_list(subject, out)?;
    out.push_str("<section>\n<h2>What to buy</h2>\n");
    table(&report::order::list(subject.job, order, subject.terms), out)?;
    writeln!(
        out,
        "<p>Not counted: {}.</p>\n</section>",
        escaped(&order.not_counted.join("; "))
    )?;
    writeln!(out, "<script>\n{SCRIPT}</script>\n</body>\n</html>")
}

fn summary(subject: &Subject<'_>, order: &Order, out: &mut String) -> std::fmt::Result {
    let Subject {
        job, plan, terms, ..
    } = subject;
    writeln!(out, "<header>\n<h1>{}</h1>", escaped(&job.title))?;
    if let Some(date) = subject.date {
        writeln!(out, "<p>{}</p>", escaped(date))?;
    }
    let answer = report::plan::answer(plan, terms);
    writeln!(out, "<p class=\"answer\">{}</p>", escaped(&answer))?;
    let last = match plan.courses.last() {
        Some(last) if last.ripped => format!(
            "Course {} is the last, ripped to {}.",
            last.number,
            terms.length(last.width)
        ),
        Some(last) => format!("Course {} is the last and whole.", last.number),
        None => "There is no course.".to_owned(),
    };
    let facts = format!(
        "{last} {} with {}, laid with {}.",
        counted(plan.courses.len() as u64, "course"),
        counted(u64::from(plan.totals.joints), "joint"),
        terms.laid_with(job, plan)
    );
    writeln!(out, "<p>{}</p>", escaped(&facts))?;
    let answer = report::order::answer(subject.job, order, terms);
    writeln!(out, "<p>{}</p>\n</header>", escaped(&answer))
}

fn warnings(order: &Order, out: &mut String) -> std::fmt::Result {
    out.push_str("<section class=\"cautions\">\n<h2>Cautions</h2>\n<ul>\n");
    for caution in &order.cautions {
        let message = caution.message.trim_end_matches('.');
        let help = caution.help.trim_end_matches('.');
        let said = format!("{}. {}.", report::capital(message), report::capital(help));
        writeln!(out, "<li><strong>Caution:</strong> {}</li>", escaped(&said))?;
    }
    out.push_str(
        "<li>This sheet says where boards go, not whether they hold: spans, footings, guards and \
         stairs follow the local code, and a licensed person decides.</li>\n\
         <li>Keep the guards on the saw, eyes and ears covered, and measure before every \
         rip.</li>\n</ul>\n</section>\n",
    );
    Ok(())
}

/// A box to tick, for one thing of a list.
fn tick(kind: &str, number: u32) -> String {
    format!(
        "<td><label><input type=\"checkbox\" data-tick=\"{kind} {number}\"> {number}</label></td>"
    )
}

fn cut_list(subject: &Subject<'_>, out: &mut String) -> std::fmt::Result {
    let Subject { plan, terms, .. } = subject;
    let (places, extras) = (places(plan), extras(plan));
    let piece = |id: &String| match (places.get(id.as_str()), extras.get(id.as_str())) {
        (Some((course, piece)), _) => {
            let rip = match course.ripped {
                true => format!(", ripped to {}", terms.length(course.width)),
                false => String::new(),
            };
            format!("{id}: {}{rip}", terms.length(piece.length))
        }
        (None, Some(extra)) => format!("{id}: {}", terms.length(extra.length)),
        (None, None) => id.clone(),
    };
    let list = |ids: &Vec<String>| ids.iter().map(piece).collect::<Vec<_>>().join("; ");
    out.push_str(
        "<section>\n<h2>Cut list, pieces in saw order</h2>\n<table>\n<thead><tr>\
         <th>board</th><th>of</th><th>pieces</th><th>left over</th></tr></thead>\n<tbody>\n",
    );
    for board in &plan.boards {
        let pieces = match &board.strips {
            None => list(&board.pieces),
            Some([one, two]) => format!("ripped in two: {} | {}", list(one), list(two)),
        };
        let hand = if board.on_hand { ", from hand" } else { "" };
        writeln!(
            out,
            "<tr>{}<td>{}{hand}</td><td>{}</td><td>{}</td></tr>",
            tick("board", board.number),
            terms.length(board.length),
            escaped(&pieces),
            terms.length(board.offcut)
        )?;
    }
    out.push_str("</tbody>\n</table>\n</section>\n");
    Ok(())
}

fn laying_list(subject: &Subject<'_>, out: &mut String) -> std::fmt::Result {
    let Subject { plan, terms, .. } = subject;
    out.push_str(
        "<section>\n<h2>Laying list, from the first edge, pieces from the left</h2>\n<table>\n\
         <thead><tr><th>course</th><th>width</th><th>far edge</th><th>pieces, each of its \
         board</th></tr></thead>\n<tbody>\n",
    );
    for course in &plan.courses {
        let pieces = course.runs.iter().flat_map(|run| &run.pieces);
        let pieces: Vec<String> = pieces
            .map(|piece| {
                let long = terms.length(piece.length);
                format!("{} of B{}: {long}", piece.id, piece.board)
            })
            .collect();
        let width = match course.ripped {
            true => format!("ripped to {}", terms.length(course.width)),
            false => terms.length(course.width),
        };
        writeln!(
            out,
            "<tr>{}<td>{width}</td><td>{}</td><td>{}</td></tr>",
            tick("course", course.number),
            terms.length(course.to),
            escaped(&pieces.join("; "))
        )?;
    }
    out.push_str("</tbody>\n</table>\n</section>\n");
    Ok(())
}

fn table(table: &Table, out: &mut String) -> std::fmt::Result {
    out.push_str("<table>\n<thead><tr>");
    for head in table.heads() {
        write!(out, "<th>{}</th>", escaped(head))?;
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in table.rows() {
        if row.iter().all(String::is_empty) {
            continue;
        }
        out.push_str("<tr>");
        for cell in row {
            write!(out, "<td>{}</td>", escaped(cell))?;
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n");
    Ok(())
}
