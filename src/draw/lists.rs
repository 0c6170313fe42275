//! Lists on paper: headings, sentences and rows under their heads, broken into
//! lines and pages. Rows are kept whole, headings stay with what follows them,
//! and each page says its heads again. What is listed is decided before.

use super::Subject;
use super::block::{LINE, footline};
use super::content::{Listing, Section};
use super::fitted::{fitted, lines};
use super::layer::Layer;
use super::scene::{Align, Letters, MM, Paper, Rect, Scene, Shape, Text, at};

/// From one line of small letters to the next.
const ROW: Paper = 4_700;
/// From the head of a row to its first line, and from its last line to its foot.
const PAD: Paper = 700;
/// The same where that saves a page with a few rows on it.
const TIGHT: Paper = 250;
/// Rows that are not worth a page of their own, and that are kept together.
const FEW: usize = 8;
const BETWEEN: Paper = 4 * MM;
/// No line of sentences is longer: they read badly.
const SENTENCE: Paper = 225 * MM;
/// Below a sentence.
const AFTER: Paper = 1_200;
/// The same below cautions where that saves a page with a few of them on it, over the
/// whole width.
const AFTER_TIGHT: Paper = 400;
/// What stands before a caution.
const CAUTION: &str = "Caution:";
/// A box to tick, and the room it takes beside its number.
const BOX: Paper = 3_200;

/// The sections as pages.
pub fn lists(subject: &Subject<'_>, listed: &str, sections: &[Section]) -> Vec<Scene> {
    let mut pages = Pages {
        subject,
        listed,
        scenes: Vec::new(),
        y: 0,
    };
    pages.fresh();
    for (k, section) in sections.iter().enumerate() {
        pages.section(section, k == 0);
    }
    pages.scenes
}

/// Pages filled from above.
struct Pages<'a> {
    subject: &'a Subject<'a>,
    listed: &'a str,
    scenes: Vec<Scene>,
    /// Where the last page is filled to.
    y: Paper,
}

impl Pages<'_> {
    fn fresh(&mut self) {
        let inner = self.subject.sheet.inner();
        let title = format!("{}: {}", self.subject.job.title, self.listed);
        let mut scene = Scene::new(title, self.subject.sheet.whole(), inner);
        scene.description = format!("Page {} of the {}.", self.scenes.len() + 1, self.listed);
        footline(&mut scene, self.subject, self.listed);
        self.scenes.push(scene);
        self.y = inner.top;
    }

    fn inner(&self) -> Rect {
        self.subject.sheet.inner()
    }

    /// Whether so much still fits on the page.
    fn fits(&self, high: Paper) -> bool {
        self.y + high <= self.inner().bottom - LINE
    }

    fn put(&mut self, text: Text) {
        if let Some(scene) = self.scenes.last_mut() {
            scene.text(Layer::Label, text);
        }
    }

    fn section(&mut self, section: &Section, first: bool) {
        // A heading alone at the foot of a page helps nobody.
        if !first && !self.fits(8 * ROW) {
            self.fresh();
        }
        let letters = if first {
            Letters::Large
        } else {
            Letters::Medium
        };
        self.y += letters.size();
        let inner = self.inner();
        let title = fitted(&section.title, letters, true, inner.width());
        self.put(
            Text::new(at(inner.left, self.y), title)
                .letters(letters)
                .bold(true),
        );
        self.y += 3 * MM;
        if let Some(answer) = &section.answer {
            self.sentence(answer, 0, true);
        }
        for said in &section.said {
            self.sentence(said, 0, false);
        }
        let usual = (SENTENCE, AFTER);
        let (room, after) = self.spread(&section.cautions, usual);
        for caution in &section.cautions {
            if !self.fits(2 * ROW) {
                self.fresh();
            }
            let place = at(inner.left, self.y + ROW - 1_300);
            let mark = Text::new(place, CAUTION).bold(true);
            let indent = mark.length() + 2 * MM;
            self.put(mark);
            self.spaced(caution, indent, false, (room, after));
        }
        if let Some(listing) = &section.listing {
            self.listing(listing, section.below.as_deref());
        }
        if let Some(below) = &section.below {
            self.y += 2 * MM;
            self.sentence(below, 0, false);
        }
        self.y += BETWEEN;
    }

    /// How wide cautions are set and what is left below each: closer than usual where
    /// they all fit the page that way and no other.
    fn spread(&self, cautions: &[String], usual: (Paper, Paper)) -> (Paper, Paper) {
        let indent = Text::new(at(0, 0), CAUTION).bold(true).length() + 2 * MM;
        let high = |(room, after): (Paper, Paper)| -> Paper {
            let lines = |caution| self.broken(caution, indent, false, room).len() as Paper;
            cautions.iter().map(|one| lines(one) * ROW + after).sum()
        };
        let close = (self.inner().width(), AFTER_TIGHT);
        match !self.fits(high(usual)) && self.fits(high(close)) {
            true => close,
            false => usual,
        }
    }

    /// A sentence in lines no longer than this.
    fn broken(&self, words: &str, indent: Paper, bold: bool, longest: Paper) -> Vec<String> {
        let room = longest.min(self.inner().width()) - indent;
        // Bold letters are wider by no more than a fifth.
        let narrow = if bold { room * 5 / 6 } else { room };
        lines(words, usize::MAX, narrow)
    }

    fn sentence(&mut self, words: &str, indent: Paper, bold: bool) {
        self.spaced(words, indent, bold, (SENTENCE, AFTER));
    }

    fn spaced(&mut self, words: &str, indent: Paper, bold: bool, (longest, after): (Paper, Paper)) {
        let inner = self.inner();
        for line in self.broken(words, indent, bold, longest) {
            if !self.fits(ROW) {
                self.fresh();
            }
            self.y += ROW;
            self.put(Text::new(at(inner.left + indent, self.y - 1_300), line).bold(bold));
        }
        self.y += after;
    }

    fn listing(&mut self, listing: &Listing, below: Option<&str>) {
        let columns = columns(listing, self.inner().width());
        let heads: Vec<String> = listing.heads.iter().map(|(head, _)| head.clone()).collect();
        let depths: Vec<Paper> = listing
            .rows
            .iter()
            .map(|row| depth(row, &columns))
            .collect();
        // What is said below stays with the last rows.
        let said = below.map_or(0, |below| self.broken(below, 0, false, SENTENCE).len());
        let below = match said as Paper {
            0 => 0,
            said => said * ROW + 2 * MM,
        };
        let pad = self.pad(&depths, below);
        self.row(listing, &columns, &heads, (true, pad));
        for (k, row) in listing.rows.iter().enumerate() {
            if depths[k] == 0 {
                self.y += ROW / 2;
            }
            let few = together(&depths[k..], pad, below);
            if !self.fits(few) {
                self.fresh();
                self.row(listing, &columns, &heads, (true, pad));
            }
            if depths[k] > 0 {
                self.row(listing, &columns, row, (false, pad));
            }
        }
    }

    /// How far rows of these depths are set apart: nearer than they usually are
    /// where only a few would go to a last page of their own.
    fn pad(&self, depths: &[Paper], below: Paper) -> Paper {
        // The page each row is on, by what it and those above it take.
        let pages = |pad: Paper| {
            let (mut y, mut page) = (self.y + ROW + 2 * pad, 0);
            let on = depths.iter().enumerate().map(|(k, depth)| {
                if *depth == 0 {
                    y += ROW / 2;
                }
                if y + together(&depths[k..], pad, below) > self.inner().bottom - LINE {
                    (y, page) = (self.inner().top + ROW + 2 * pad, page + 1);
                }
                if *depth > 0 {
                    y += depth + 2 * pad;
                }
                page
            });
            on.collect::<Vec<usize>>()
        };
        let usual = pages(PAD);
        let last = usual.last().copied().unwrap_or(0);
        let few = usual.iter().filter(|page| **page == last).count() <= FEW;
        let tight = pages(TIGHT).last().copied().unwrap_or(0);
        match few && tight < last {
            true => TIGHT,
            false => PAD,
        }
    }

    fn row(
        &mut self,
        listing: &Listing,
        columns: &[Column],
        cells: &[String],
        (head, pad): (bool, Paper),
    ) {
        let inner = self.inner();
        let top = self.y + pad;
        let mut deepest = 0;
        for (k, ((cell, column), (_, right))) in
            cells.iter().zip(columns).zip(&listing.heads).enumerate()
        {
            let tick = k == 0 && listing.tick.is_some();
            let broken = lines(cell, usize::MAX, column.room);
            deepest = deepest.max(broken.len() as Paper);
            for (line, words) in broken.into_iter().enumerate() {
                let y = top + (line as Paper + 1) * ROW - 1_300;
                let left = inner.left + column.left;
                let text = match right {
                    true => Text::new(at(left + column.room, y), words).align(Align::End),
                    false => Text::new(at(left, y), words),
                };
                self.put(text);
            }
            if tick
                && !head
                && let Some(scene) = self.scenes.last_mut()
            {
                let from = at(inner.left, top + ROW - 1_300 - BOX + 300);
                let square = Rect::new(from.x, from.y, from.x + BOX, from.y + BOX);
                scene.put(Layer::Dimension, Shape::Rect(square));
            }
        }
        self.y = top + deepest * ROW + pad;
        let layer = if head { Layer::Rule } else { Layer::Dimension };
        if let Some(scene) = self.scenes.last_mut() {
            scene.line(layer, at(inner.left, self.y), at(inner.right, self.y));
        }
    }
}

/// How deep the words of a row are; nothing for one without any.
fn depth(row: &[String], columns: &[Column]) -> Paper {
    if row.iter().all(String::is_empty) {
        return 0;
    }
    let cells = row.iter().zip(columns);
    let deepest = cells.map(|(cell, column)| lines(cell, usize::MAX, column.room).len());
    deepest.max().unwrap_or(0) as Paper * ROW
}

/// What has to fit on a page for the first of some rows to go there: of a gap,
/// all the rows that follow up to the next gap where they are few; of a row, itself.
/// With the last rows goes what is said below them.
fn together(depths: &[Paper], pad: Paper, below: Paper) -> Paper {
    let tall = |depth: &Paper| depth + 2 * pad;
    match depths {
        [0, rest @ ..] => {
            let group = rest.split(|depth| *depth == 0).next().unwrap_or_default();
            let below = if group.len() == rest.len() { below } else { 0 };
            match group.len() <= FEW {
                true => group.iter().map(tall).sum::<Paper>() + below,
                false => group.iter().take(1).map(tall).sum(),
            }
        }
        [one] => tall(one) + below,
        [one, ..] => tall(one),
        [] => 0,
    }
}

/// Where a column's words begin, from the left, and how much room they have.
struct Column {
    left: Paper,
    room: Paper,
}

/// Columns as wide as what stands in them; where that is too much, the widest
/// give way alike and break their words into lines.
fn columns(listing: &Listing, width: Paper) -> Vec<Column> {
    let count = listing.heads.len();
    let tick = match listing.tick {
        Some(_) => BOX + 1_800,
        None => 0,
    };
    let wide = |words: &str| Text::new(at(0, 0), words).length();
    let wants: Vec<Paper> = (0..count)
        .map(|k| {
            let head = wide(&listing.heads[k].0);
            let cells = listing.rows.iter().filter_map(|row| row.get(k));
            cells.map(|cell| wide(cell)).fold(head, Paper::max)
        })
        .collect();
    let free = width - tick - BETWEEN * (count as Paper - 1).max(0);
    let mut most = wants.iter().copied().max().unwrap_or(0);
    let mut narrow = 0;
    if wants.iter().sum::<Paper>() > free {
        // The widest room by which all fit, found by halving.
        while most - narrow > 1 {
            let half = (most + narrow) / 2;
            let taken: Paper = wants.iter().map(|want| (*want).min(half)).sum();
            match taken > free {
                true => most = half,
                false => narrow = half,
            }
        }
        most = narrow;
    }
    let mut left = tick;
    wants
        .into_iter()
        .map(|want| {
            let room = want.min(most);
            let column = Column { left, room };
            left += room + BETWEEN;
            column
        })
        .collect()
}
