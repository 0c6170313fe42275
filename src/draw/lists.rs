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
const BETWEEN: Paper = 4 * MM;
/// No line of sentences is longer: they read badly.
const SENTENCE: Paper = 225 * MM;
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
        for caution in &section.cautions {
            if !self.fits(2 * ROW) {
                self.fresh();
            }
            let place = at(inner.left, self.y + ROW - 1_300);
            let mark = Text::new(place, "Caution:").bold(true);
            let indent = mark.length() + 2 * MM;
            self.put(mark);
            self.sentence(caution, indent, false);
        }
        if let Some(listing) = &section.listing {
            self.listing(listing);
        }
        if let Some(below) = &section.below {
            self.y += 2 * MM;
            self.sentence(below, 0, false);
        }
        self.y += BETWEEN;
    }

    fn sentence(&mut self, words: &str, indent: Paper, bold: bool) {
        let inner = self.inner();
        let room = SENTENCE.min(inner.width()) - indent;
        // Bold letters are wider by no more than a fifth.
        let narrow = if bold { room * 5 / 6 } else { room };
        for line in lines(words, usize::MAX, narrow) {
            if !self.fits(ROW) {
                self.fresh();
            }
            self.y += ROW;
            self.put(Text::new(at(inner.left + indent, self.y - 1_300), line).bold(bold));
        }
        self.y += 1_200;
    }

    fn listing(&mut self, listing: &Listing) {
        let columns = columns(listing, self.inner().width());
        let heads: Vec<String> = listing.heads.iter().map(|(head, _)| head.clone()).collect();
        self.row(listing, &columns, &heads, true);
        for row in &listing.rows {
            if row.iter().all(String::is_empty) {
                self.y += ROW / 2;
                continue;
            }
            let deepest = row
                .iter()
                .zip(&columns)
                .map(|(cell, column)| lines(cell, usize::MAX, column.room).len())
                .max();
            if !self.fits(deepest.unwrap_or(0) as Paper * ROW + 2 * PAD) {
                self.fresh();
                self.row(listing, &columns, &heads, true);
            }
            self.row(listing, &columns, row, false);
        }
    }

    fn row(&mut self, listing: &Listing, columns: &[Column], cells: &[String], head: bool) {
        let inner = self.inner();
        let top = self.y + PAD;
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
        self.y = top + deepest * ROW + PAD;
        let layer = if head { Layer::Rule } else { Layer::Dimension };
        if let Some(scene) = self.scenes.last_mut() {
            scene.line(layer, at(inner.left, self.y), at(inner.right, self.y));
        }
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
