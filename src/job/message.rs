//! Draws problems for people: the line, the marked place, the way out. It
//! knows how a message looks and nothing of what the messages are about.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use super::problem::{Findings, Place, Problem, Severity};
use crate::text::wrap;

/// More than this many problems in one go help nobody.
const SHOWN: usize = 50;

/// Columns of a line's text, with the words before it 80 at most.
const WIDTH: usize = 68;

/// The findings with terminal styles, each after a blank line.
pub fn styled(findings: &Findings) -> String {
    draw(findings, &Renderer::styled())
}

/// The findings as plain text.
pub fn plain(findings: &Findings) -> String {
    draw(findings, &Renderer::plain())
}

fn draw(findings: &Findings, renderer: &Renderer) -> String {
    let mut drawn: Vec<String> = findings
        .problems
        .iter()
        .take(SHOWN)
        .map(|problem| renderer.render(&groups(findings, problem)))
        .collect();
    let more = findings.problems.len().saturating_sub(SHOWN);
    if more > 0 {
        drawn.push(format!("... and {more} more like these"));
    }
    drawn.join("\n\n")
}

/// A message broken into lines; the renderer sets each below the first.
fn lines(text: &str) -> String {
    wrap(text, WIDTH).join("\n")
}

fn groups<'a>(findings: &'a Findings, problem: &'a Problem) -> Vec<Group<'a>> {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Caution => Level::WARNING.with_name("caution"),
    };
    let mut group = Group::with_title(level.primary_title(lines(&problem.message)));
    let main = problem.place.as_ref();
    let places = main.map(|place| (place, None)).into_iter().chain(
        problem
            .also
            .iter()
            .map(|(place, word)| (place, Some(word.as_str()))),
    );
    // A snippet for each text, the problem's own first.
    let mut snippets: Vec<(usize, Snippet<'a, _>)> = Vec::new();
    for (place, word) in places {
        let Some(source) = findings.sources.get(place.source) else {
            continue;
        };
        let kind = match word {
            None => AnnotationKind::Primary,
            Some(_) => AnnotationKind::Context,
        };
        let mark = kind.span(within(&source.text, place)).label(word);
        let known = snippets
            .iter()
            .position(|(number, _)| *number == place.source);
        let (_, snippet) = match known {
            Some(at) => snippets.remove(at),
            None => (
                place.source,
                Snippet::source(source.text.as_str()).path(source.name.as_str()),
            ),
        };
        let at = known.unwrap_or(snippets.len());
        snippets.insert(at, (place.source, snippet.annotation(mark)));
    }
    if snippets.is_empty()
        && let Some(file) = findings.sources.first()
    {
        group = group.element(annotate_snippets::Origin::path(file.name.as_str()));
    }
    for (_, snippet) in snippets {
        group = group.element(snippet);
    }
    if !problem.help.is_empty() {
        group = group.element(Level::HELP.message(lines(&problem.help)));
    }
    vec![group]
}

/// The place's stretch, moved to where characters begin and end in the text.
fn within(text: &str, place: &Place) -> Range<usize> {
    let mut start = place.span.start.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = place.span.end.clamp(start, text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end
}
