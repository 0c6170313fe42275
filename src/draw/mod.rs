//! Drawings of a plan for the site: shapes laid out once in exact units of
//! paper ([`scene`]), which thin exporters write without knowing a deck
//! ([`svg()`]; what writes other formats has its place beside it), and a page
//! for the site that holds them all ([`html`]). What is planned is decided before.

mod block;
mod cuts;
mod fitted;
mod font;
mod last;
mod layer;
mod marks;
mod page;
mod paper;
mod place;
mod plan;
pub mod scene;
mod svg;

pub use cuts::cuts;
pub use last::last;
pub use layer::{Ink, Layer, Style};
pub use marks::{marks, may_be_off};
pub use page::html;
pub use paper::{Scale, Sheet};
pub use plan::plan;
pub use scene::Scene;
pub use svg::{Extent, svg};

use crate::deck::Surface;
use crate::job::Job;
use crate::plan::Plan;
use crate::report::Terms;

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
    let marks = |first, of| marks(subject, first, of);
    let cuts = |first, of| cuts(subject, first, of);
    let before_cuts = 2 + marks(3, None).len();
    let of = before_cuts + cuts(before_cuts + 1, None).len();
    let mut all = vec![plan(subject, (1, of)), last(subject, (2, of))];
    all.extend(marks(3, Some(of)));
    all.extend(cuts(before_cuts + 1, Some(of)));
    all
}
