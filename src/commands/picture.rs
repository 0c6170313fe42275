//! Pictures beside an answer: what they are drawn on, and where they go.

use std::path::PathBuf;

use clap::ValueHint;
use lastcourse::draw::{Extent, Scene, Sheet, svg};
use lastcourse::length::Unit;

use super::failure::Failure;
use super::files::write_whole;

/// A size of paper.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub enum Paper {
    /// 11 by 8-1/2 in
    Letter,
    /// 297 by 210 mm
    A4,
}

/// What is drawn on, and what is written on it.
#[derive(Debug, clap::Args)]
pub struct PaperArgs {
    /// The paper it is printed on [default: letter, or a4 for a job in millimetres]
    #[arg(long, value_enum)]
    pub paper: Option<Paper>,

    /// A date to be written on it, as you would have it read
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,

    /// Let a file that is there already be replaced
    #[arg(long)]
    pub force: bool,
}

impl PaperArgs {
    /// The size of the paper for a job in this unit.
    pub fn sheet(&self, unit: Unit) -> Sheet {
        match self.paper {
            None => Sheet::of(unit),
            Some(Paper::Letter) => Sheet::Letter,
            Some(Paper::A4) => Sheet::A4,
        }
    }
}

/// A picture beside the answer.
#[derive(Debug, clap::Args)]
pub struct PictureArgs {
    /// Draw it to a file as SVG too
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub svg: Option<PathBuf>,

    #[command(flatten)]
    pub paper: PaperArgs,
}

impl PictureArgs {
    /// Writes the picture, if one was asked for; it is drawn only then.
    pub fn write(&self, draw: impl FnOnce() -> Scene) -> Result<(), Failure> {
        match &self.svg {
            Some(path) => write_whole(path, svg(&draw(), Extent::Sheet), self.paper.force),
            None => Ok(()),
        }
    }
}
