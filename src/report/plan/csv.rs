//! The cut list for a spreadsheet: a row for each piece in the order it is
//! sawn. A board's price stands in its first row and its offcut in its last, so
//! that the columns add up. Other pieces have a label and no course; boards that a bundle
//! leaves over have a row and no piece.

use super::group::{extras, places};
use crate::job::Job;
use crate::plan::Plan;
use crate::report::csv::{Sheet, length, unit};

const HEADS: [&str; 16] = [
    "board",
    "stock",
    "board_length",
    "from_hand",
    "price",
    "strip",
    "piece",
    "length",
    "course",
    "width",
    "ripped",
    "from",
    "to",
    "offcut",
    "unit",
    "label",
];

/// The plan's cut list as CSV.
pub fn csv(job: &Job, plan: &Plan) -> String {
    let (places, extras) = (places(plan), extras(plan));
    let yes = |yes: bool| if yes { "yes" } else { "no" }.to_string();
    let mut sheet = Sheet::new(&HEADS);
    for board in &plan.boards {
        let cuts: Vec<(String, &String)> = match &board.strips {
            None => board.pieces.iter().map(|id| (String::new(), id)).collect(),
            Some([one, two]) => {
                let one = one.iter().map(|id| ("1".to_string(), id));
                one.chain(two.iter().map(|id| ("2".to_string(), id)))
                    .collect()
            }
        };
        let last = cuts.len().saturating_sub(1);
        for (k, (strip, id)) in cuts.into_iter().enumerate() {
            let only_at = |at: usize, text: String| if k == at { text } else { String::new() };
            let (long, [number, width, ripped, from, to], label) =
                match (places.get(id.as_str()), extras.get(id.as_str())) {
                    (Some((course, piece)), _) => {
                        let lies = [
                            course.number.to_string(),
                            length(course.width, job.unit),
                            yes(course.ripped),
                            length(piece.from, job.unit),
                            length(piece.to, job.unit),
                        ];
                        (piece.length, lies, String::new())
                    }
                    (None, Some(extra)) => {
                        let label = job.extras[extra.extra].label.clone();
                        (extra.length, Default::default(), label)
                    }
                    (None, None) => continue,
                };
            sheet.row([
                board.number.to_string(),
                (board.stock + 1).to_string(),
                length(board.length, job.unit),
                yes(board.on_hand),
                only_at(0, board.price.decimal()),
                strip,
                id.clone(),
                length(long, job.unit),
                number,
                width,
                ripped,
                from,
                to,
                only_at(last, length(board.offcut, job.unit)),
                unit(job.unit).to_string(),
                label,
            ]);
        }
    }
    for left in &plan.left_over {
        let each = job.stock[left.stock].price.unwrap_or_default();
        for _ in 0..left.count {
            let mut row: [String; HEADS.len()] = Default::default();
            row[1] = (left.stock + 1).to_string();
            row[2] = length(job.stock[left.stock].length, job.unit);
            row[3] = yes(false);
            row[4] = each.decimal();
            row[HEADS.len() - 2] = unit(job.unit).to_string();
            row[HEADS.len() - 1] = "left over".to_string();
            sheet.row(row);
        }
    }
    sheet.finish()
}
