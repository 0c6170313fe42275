//! How much room letters take, whatever plain typeface a reader has: the
//! advance widths of DejaVu Sans, among the widest of the usual ones, so that
//! what fits by them fits in the others too.

use unicode_width::UnicodeWidthChar;

use super::scene::{Letters, Paper};

/// Advances of the characters from space to `~` in thousandths of the type's
/// size, rounded up; from the font's `hmtx` table.
const PLAIN: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637,
    637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632,
    576, 775, 752, 295, 295, 656, 558, 863, 749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686,
    611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580,
    278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];

/// The same of its bold face.
const BOLD: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366, 696, 696, 696,
    696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831, 684,
    684, 821, 837, 373, 373, 775, 638, 996, 837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771,
    725, 726, 458, 366, 458, 838, 500, 500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666,
    343, 1042, 712, 688, 716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
];

/// How wide a character is in thousandths of the type's size. What is not in
/// the tables is taken to be as wide as the widest of its kind.
fn advance(c: char, bold: bool) -> Paper {
    let table = if bold { &BOLD } else { &PLAIN };
    let place = (c as usize).checked_sub(usize::from(b' '));
    if let Some(advance) = place.and_then(|place| table.get(place)) {
        return Paper::from(*advance);
    }
    match c {
        '≈' | '×' | '±' => 838,
        '°' => 500,
        '–' => 500,
        '·' => 380,
        '€' | '£' => 696,
        _ => match c.width() {
            Some(0) => 0,
            Some(1) => 1_100,
            _ => 1_200,
        },
    }
}

/// How long a text is.
pub fn width(words: &str, letters: Letters, bold: bool) -> Paper {
    let thousandths: Paper = words.chars().map(|c| advance(c, bold)).sum();
    (thousandths * letters.size()).div_euclid(1_000) + 1
}

/// How high capitals and figures are.
pub fn capital(letters: Letters) -> Paper {
    letters.size() * 729 / 1_000
}

/// How far a text reaches above its base line and below it: no further below
/// than the letters in it do.
pub fn reach(words: &str, letters: Letters) -> (Paper, Paper) {
    let level = |c: char| c.is_ascii_alphanumeric() || " '\"-.≈×:±+/".contains(c);
    let below = |c: char| match c {
        'g' | 'j' | 'p' | 'q' | 'y' => 240,
        'Q' | '/' => 140,
        c if level(c) => 15,
        _ => 240,
    };
    let above = match words.chars().all(level) {
        true => 760,
        false => 960,
    };
    let below = words.chars().map(below).max().unwrap_or(0);
    (
        letters.size() * above / 1_000,
        letters.size() * below / 1_000,
    )
}
