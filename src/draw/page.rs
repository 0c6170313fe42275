//! One page of HTML with all that the site needs: what it comes to, cautions,
//! drawings, lists to tick off and the order. It stands alone: nothing is
//! fetched, everything is there without a script, and it prints on letter and
//! A4. The few lines of script only remember ticks.

use std::fmt::Write;

use super::content::{self, Listing, Section};
use super::svg::escaped;
use super::{Extent, Scene, Subject, svg};
use crate::order::Order;

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
    out.push_str("<header>\n");
    let summary = content::summary(subject, order);
    writeln!(out, "<h1>{}</h1>", escaped(&summary.title))?;
    within(&summary, out)?;
    out.push_str("</header>\n<main>\n");
    section(&content::cautions(order), out)?;
    for drawing in drawings {
        // The title of the whole page is said already.
        writeln!(
            out,
            "<figure tabindex=\"0\" role=\"group\" aria-label=\"{}\">",
            escaped(drawing.drawn())
        )?;
        out.push_str(&svg(drawing, Extent::Inner));
        out.push_str("</figure>\n");
    }
    section(&content::cut_list(subject), out)?;
    section(&content::laying_list(subject), out)?;
    section(&content::order(subject, order), out)?;
    writeln!(
        out,
        "</main>\n<script>\n{SCRIPT}</script>\n</body>\n</html>"
    )
}

fn section(section: &Section, out: &mut String) -> std::fmt::Result {
    let class = match section.cautions.is_empty() {
        true => "",
        false => " class=\"cautions\"",
    };
    writeln!(
        out,
        "<section{class}>\n<h2>{}</h2>",
        escaped(&section.title)
    )?;
    within(section, out)?;
    out.push_str("</section>\n");
    Ok(())
}

/// All of a section but its heading.
fn within(section: &Section, out: &mut String) -> std::fmt::Result {
    if let Some(answer) = &section.answer {
        writeln!(out, "<p class=\"answer\">{}</p>", escaped(answer))?;
    }
    for said in &section.said {
        writeln!(out, "<p>{}</p>", escaped(said))?;
    }
    if !section.cautions.is_empty() {
        out.push_str("<ul>\n");
        for caution in &section.cautions {
            writeln!(
                out,
                "<li><strong>Caution:</strong> {}</li>",
                escaped(caution)
            )?;
        }
        out.push_str("</ul>\n");
    }
    if let Some(listing) = &section.listing {
        table(listing, &section.title, out)?;
    }
    if let Some(below) = &section.below {
        writeln!(out, "<p>{}</p>", escaped(below))?;
    }
    Ok(())
}

fn table(listing: &Listing, name: &str, out: &mut String) -> std::fmt::Result {
    writeln!(
        out,
        "<div class=\"list\" tabindex=\"0\" role=\"group\" aria-label=\"{}\">\n<table>",
        escaped(name)
    )?;
    let class = |right: bool| if right { " class=\"right\"" } else { "" };
    out.push_str("<thead><tr>");
    for (head, right) in &listing.heads {
        match head.is_empty() {
            true => out.push_str("<td></td>"),
            false => write!(
                out,
                "<th scope=\"col\"{}>{}</th>",
                class(*right),
                escaped(head)
            )?,
        }
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &listing.rows {
        if row.iter().all(String::is_empty) {
            // What belongs together is kept on one page.
            out.push_str("</tbody>\n<tbody>\n");
            continue;
        }
        out.push_str("<tr>");
        for (k, (cell, (_, right))) in row.iter().zip(&listing.heads).enumerate() {
            let cell = escaped(cell);
            match listing.tick.filter(|_| k == 0) {
                Some(kind) => write!(
                    out,
                    "<td><label><input type=\"checkbox\" data-tick=\"{kind} {cell}\" \
                     aria-label=\"{kind} {cell}\"> {cell}</label></td>"
                )?,
                None => write!(out, "<td{}>{cell}</td>", class(*right))?,
            }
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
    Ok(())
}
