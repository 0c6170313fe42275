//! Proofs of lower bounds that anybody can check again: certificates of
//! whole-number prices ([`certificate`]), written from what the search found
//! ([`of_plan`], [`of_cut`]) and re-checked without it ([`check()`]). The check
//! stands on the job and the verifier's geometry alone and shares no code with
//! the stages that found the prices; where a certificate is kept is left to the
//! commands.
//!
//! The argument for a plan, at any prices not below 0: every piece is cut from
//! one board, so the boards cost at least what the pieces on them are worth, as
//! long as no way to cut a board is worth more than the board; and the courses
//! from the first edge on fall into blocks of neighbours, each of which has
//! pieces and joints for its `least` at least. What is worth more, or paid for
//! limits, is taken off again; what is left is a sum of prices, so the bound
//! rises to the next one there is.
//!
//! At any prices, too, the boards of an answer could hold at least what all its
//! pieces are worth: a row that its numbers of boards (and of joints, and of
//! supports that carry joints) meet, whatever these cost. With several prices, and
//! so several rows, the bound is the least that whole numbers cost which meet them
//! all. The check searches for these itself, so that no list of cases has to be
//! stored or believed; whatever it leaves open is not proven.

mod boards;
pub mod certificate;
mod check;
mod counts;
mod courses;
mod cut;
mod deck;
mod knapsack;
mod reach;
mod write;

pub use certificate::Certificate;
pub use check::check;
pub use write::{of_cut, of_plan};

/// What a certificate proves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Confirmed {
    /// No answer has a lower value, in the objective's terms.
    pub bound: i64,
    /// Whether that is all that was stated beside the answer.
    pub complete: bool,
    /// How many sets of prices were set against every kind of board.
    pub sets: usize,
    /// How many prices of pieces there are in all of them.
    pub pieces: usize,
    /// How many blocks of courses were summed; none for a cut list.
    pub blocks: i64,
}

/// Why a certificate proves nothing, or not what it says.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// It is of a kind that is not known here.
    #[error("\"{0}\" is no certificate that this program knows")]
    Unknown(String),
    /// A plan's certificate without its job.
    #[error("this certificate is of a plan, and no job is named")]
    NeedsJob,
    /// The job is not the one it was written for.
    #[error("this certificate is not for this job: {0}")]
    OtherJob(String),
    /// Its parts do not fit together.
    #[error("this certificate is broken: {0}")]
    Broken(String),
    /// Its blocks are not those of the job, or cost less than it says.
    #[error("blocks of courses cost less than the certificate says, or are not those of this job")]
    Blocks,
    /// It proves less than it says.
    #[error("the certificate says that nothing is below {stated}, but proves it only for {proved}")]
    Less {
        /// What it says.
        stated: i64,
        /// What it proves.
        proved: i64,
    },
    /// Checking would take too long or pass what can be counted.
    #[error("this certificate is not re-checkable: there are too many {0}")]
    TooLarge(&'static str),
}

fn broken(why: &str) -> Refused {
    Refused::Broken(why.to_owned())
}
