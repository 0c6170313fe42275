//! Drawings of a plan for the site: shapes laid out once in exact units of
//! paper ([`scene`]), which thin exporters write without knowing a deck
//! ([`svg()`]; what writes other formats has its place beside it), and a page
//! for the site that holds them all ([`html`]). What is planned is decided before.

mod block;
mod chart;
mod content;
mod cuts;
mod ends;
mod fitted;
mod font;
mod last;
mod layer;
mod letters;
mod lists;
mod marks;
mod page;
mod paper;
mod pdf;
mod place;
mod plan;
#[cfg(feature = "png")]
mod png;
pub mod scene;
mod section;
mod svg;

pub use chart::{Charted, curve, sweep};
pub use cuts::cuts;
pub use ends::{Forecasts, forecasts};
pub use last::last;
pub use layer::{Ink, Layer, Style};
pub use letters::{STAND_IN, lacking_letters};
pub use marks::{marks, may_be_off};
pub use page::html;
pub use paper::{Scale, Sheet};
pub use pdf::{PdfError, pdf};
pub use plan::plan;
#[cfg(feature = "png")]
pub use png::{PngError, png};
pub use scene::{Scene, numbered};
pub use svg::{Extent, svg};

use crate::deck::Surface;
use crate::job::Job;
use crate::order::Order;
use crate::plan::Plan;
use crate::report::Terms;
use lists::lists;

/// What is drawn, and on what.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its surface.
    pub surface: &'a Surface,
    /// The plan of its boards.
    pub plan: &'a Plan,
    /// How lengths are printed.
    pub terms: &'a Terms,
    /// The size of the paper.
    pub sheet: Sheet,
    /// The date to be written on it, if one was given.
    pub date: Option<&'a str>,
}

/// All drawings in the order they are wanted on the site, their sheets numbered.
pub fn all(subject: &Subject<'_>) -> Vec<Scene> {
    numbered(drawings(subject))
}

/// All sheets for the site, numbered: what it comes to and cautions, the
/// drawings, the cut list, the laying list and the order.
pub fn sheets(subject: &Subject<'_>, order: &Order) -> Vec<Scene> {
    let mut sheets = drawings(subject);
    sheets.extend(lists(subject, "cut list", &[content::cut_list(subject)]));
    sheets.extend(lists(
        subject,
        "laying list",
        &[content::laying_list(subject)],
    ));
    sheets.extend(lists(
        subject,
        "what to buy",
        &[content::order(subject, order)],
    ));
    let mut opening = [content::summary(subject, order), content::cautions(order)];
    let mut all = lists(subject, "summary", &opening);
    if let Some(caution) = lacking_letters(all.iter().chain(&sheets)) {
        opening[1].cautions.insert(0, content::said(&caution));
        all = lists(subject, "summary", &opening);
    }
    all.extend(sheets);
    numbered(all)
}

fn drawings(subject: &Subject<'_>) -> Vec<Scene> {
    let mut all = plan(subject);
    all.extend(last(subject));
    all.extend(marks(subject));
    all.extend(cuts(subject));
    all
}
