//! Wood by its moisture: coefficients and shrinkage of the species, the
//! equations that use them, and what a board and its gap come to in service.
//! It knows widths; what lies beside a board is left to [`super::cautions`].

use super::{equilibrium, length};
use crate::job::{Grain, Job, Moisture, Movement, Percent, Species, Wood};
use crate::length::Length;

/// How a species' figures are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// The coefficient as printed in table 13-5.
    Printed,
    /// The coefficient from memory; it follows from the shrinkage printed in
    /// table 4-3.
    Confirmed,
    /// The shrinkage as printed in table 4-4; there is no coefficient.
    Shrinkage,
    /// The mean of softwood lumber, from a report of its own.
    Mean,
    /// From memory.
    Memory,
    /// The job's own.
    Job,
}

impl Known {
    /// The source in words of what an equation takes.
    fn source(self, equation: Equation) -> &'static str {
        match self {
            Known::Printed => "Wood Handbook, FPL-GTR-190, table 13-5",
            Known::Confirmed if equation == Equation::Shrinkage => {
                "Wood Handbook, FPL-GTR-190, shrinkage in table 4-3"
            }
            Known::Confirmed => {
                "Wood Handbook, FPL-GTR-190, table 13-5 as remembered, confirmed by the shrinkage in table 4-3"
            }
            Known::Shrinkage => "Wood Handbook, FPL-GTR-190, shrinkage in table 4-4",
            Known::Mean => "Moisture content and the shrinkage of lumber, FPL-RP-489, its abstract",
            Known::Memory => "Wood Handbook, FPL-GTR-190, from memory",
            Known::Job => "the job's coefficient",
        }
    }
}

/// How the width of a wood follows its moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Figures {
    /// Change by 1 % of moisture, in millionths of the width at 10 %.
    pub coefficient: Option<u32>,
    /// Shrinkage from green to ovendry, in thousandths of the green width.
    pub shrinkage: Option<u32>,
    /// Per cent of moisture above which nothing shrinks.
    pub saturation: u32,
    /// How it is known.
    pub known: Known,
}

/// Coefficients in hundred-thousandths and shrinkage in tenths of a per cent,
/// each radial and tangential.
fn table(species: Species) -> (Option<[u32; 2]>, Option<[u32; 2]>, u32, Known) {
    use Known::{Confirmed, Mean, Memory, Printed, Shrinkage};
    let both = |c: [u32; 2], s: [u32; 2], f: u32, known| (Some(c), Some(s), f, known);
    match species {
        Species::DouglasFirCoast => both([165, 267], [48, 76], 30, Confirmed),
        Species::DouglasFirInteriorNorth => both([130, 241], [38, 69], 30, Confirmed),
        Species::DouglasFirInteriorWest => both([165, 263], [48, 75], 30, Confirmed),
        Species::LoblollyPine => both([165, 259], [48, 74], 30, Confirmed),
        Species::LongleafPine => both([176, 263], [51, 75], 30, Confirmed),
        Species::ShortleafPine => both([158, 271], [46, 77], 30, Confirmed),
        Species::SlashPine => both([187, 267], [54, 76], 30, Confirmed),
        Species::PonderosaPine => both([133, 216], [39, 62], 30, Memory),
        Species::LodgepolePine => both([148, 234], [43, 67], 30, Confirmed),
        Species::WesternRedcedar => both([111, 234], [24, 50], 22, Confirmed),
        Species::NorthernWhiteCedar => both([101, 229], [22, 49], 22, Confirmed),
        Species::YellowCedar => both([95, 208], [28, 60], 30, Confirmed),
        Species::RedwoodOldGrowth => both([120, 205], [26, 44], 22, Memory),
        Species::RedwoodSecondGrowth => both([101, 229], [22, 49], 22, Memory),
        Species::WhiteFir => both([112, 245], [33, 70], 30, Confirmed),
        Species::WesternHemlock => both([144, 274], [42, 78], 30, Confirmed),
        Species::WhiteOak => (Some([180, 365]), None, 30, Printed),
        Species::RedOak => (Some([158, 369]), None, 30, Printed),
        Species::BlackLocust => (Some([158, 252]), None, 30, Printed),
        Species::Angelique => (None, Some([52, 88]), 30, Shrinkage),
        Species::Azobe => (None, Some([84, 110]), 30, Shrinkage),
        Species::Ipe => (None, Some([66, 80]), 30, Memory),
        Species::SoftwoodLumber => (None, None, 28, Mean),
    }
}

/// The figures of a wood: the job's own coefficient, or the species'.
pub fn figures(wood: &Wood) -> Figures {
    let way = match wood.grain {
        Grain::Quarter => 0,
        Grain::Flat => 1,
    };
    let own = wood.species.map(table);
    let saturation = own.map_or(30, |(_, _, saturation, _)| saturation);
    match (wood.coefficient, own) {
        (None, Some((coefficient, shrinkage, _, known))) => Figures {
            coefficient: coefficient.map(|both| both[way] * 10),
            shrinkage: shrinkage.map(|both| both[way]),
            saturation,
            known,
        },
        (coefficient, _) => Figures {
            coefficient,
            shrinkage: None,
            saturation,
            known: Known::Job,
        },
    }
}

/// By which equation a change was worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Equation {
    /// The handbook's equation 13-2, for 6 to 14 % of moisture.
    Coefficient,
    /// The handbook's equation 13-3, from shrinkage, for any moisture.
    Shrinkage,
    /// The mean line for the width of softwood lumber, given for 8 to 19 %.
    Lumber,
    /// A coefficient carried beyond 6 to 14 % along the same straight line,
    /// since it is a share of the width at 10 %.
    Carried,
}

/// What a width changes by between two moistures, by equation 13-2:
/// `D C (to - from)`.
pub fn by_coefficient(width: Length, millionths: u32, from: Percent, to: Percent) -> Length {
    let moisture = i128::from(to.0) - i128::from(from.0);
    let change = i128::from(width.units()) * i128::from(millionths) * moisture;
    length(change, 100_000_000)
}

/// What a width changes by, by equation 13-3:
/// `D (to - from) / (100 f / S - f + from)`, no moisture above `f`.
pub fn by_shrinkage(
    width: Length,
    thousandths: u32,
    saturation: u32,
    from: Percent,
    to: Percent,
) -> Length {
    // S is thousandths / 10 per cent, moistures are hundredths of a per cent:
    // everything times 100 S keeps the divisor whole.
    let (s, f) = (i128::from(thousandths), i128::from(saturation));
    let [from, to] = [from, to].map(|moisture| i128::from(moisture.0).min(f * 100));
    let divisor = 100_000 * f - 100 * f * s + from * s;
    length(i128::from(width.units()) * (to - from) * s, divisor)
}

/// What the width of softwood lumber changes by, whatever its species and grain.
///
/// By D. W. Green, Moisture content and the shrinkage of lumber (USDA Forest
/// Products Laboratory, FPL-RP-489, 1989), abstract: from green, at 28 %, to `M`
/// the width shrinks by `6.031 - 0.215 M` per cent of what it was green.
pub fn by_lumber(width: Length, from: Percent, to: Percent) -> Length {
    // What is lost, in ten-millionths of the green width.
    let lost = |moisture: Percent| (603_100 - 215 * i128::from(moisture.0)).max(0);
    let (from, to) = (lost(from), lost(to));
    length(i128::from(width.units()) * (from - to), 10_000_000 - from)
}

/// What a width changes by where only a coefficient is known and it is moister
/// than 14 % or drier than 6 %: `D C (to - from) / (1 + C (from - 10))`.
fn carried(width: Length, millionths: u32, saturation: u32, from: Percent, to: Percent) -> Length {
    let (c, f) = (i128::from(millionths), i128::from(saturation));
    let [from, to] = [from, to].map(|moisture| i128::from(moisture.0).min(f * 100));
    let divisor = 100_000_000 + c * (from - 1_000);
    length(i128::from(width.units()) * c * (to - from), divisor)
}

impl Figures {
    /// By which equation a change between two moistures is worked out.
    pub fn equation(&self, from: Percent, to: Percent) -> Equation {
        let inside = |moisture: Percent| (600..=1_400).contains(&moisture.0);
        match (self.coefficient, self.shrinkage) {
            _ if self.known == Known::Mean => Equation::Lumber,
            (Some(_), _) if inside(from) && inside(to) => Equation::Coefficient,
            (_, Some(_)) => Equation::Shrinkage,
            _ => Equation::Carried,
        }
    }

    /// What a width changes by between two moistures; below zero it shrinks.
    pub fn change(&self, width: Length, from: Percent, to: Percent) -> Length {
        let coefficient = self.coefficient.unwrap_or_default();
        match self.equation(from, to) {
            Equation::Coefficient => by_coefficient(width, coefficient, from, to),
            Equation::Shrinkage => {
                let shrinkage = self.shrinkage.unwrap_or_default();
                by_shrinkage(width, shrinkage, self.saturation, from, to)
            }
            Equation::Lumber => by_lumber(width, from, to),
            Equation::Carried => carried(width, coefficient, self.saturation, from, to),
        }
    }
}

/// A job's boards as they are laid and in service.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Drying {
    /// What the job says of the wood.
    pub wood: Wood,
    /// Its moisture as it is laid and in service.
    pub moisture: [Percent; 2],
    /// The wood's figures.
    pub figures: Figures,
    /// The equation they are used in.
    pub equation: Equation,
    /// The boards' face as they are laid.
    pub face_now: Length,
    /// Their face in service.
    pub face_service: Length,
}

/// How moist wood is.
fn of(moisture: Moisture) -> Percent {
    match moisture {
        Moisture::Given(share) => share,
        Moisture::In(air) => equilibrium(air),
    }
}

/// A job's boards as they are laid and in service, where they are of wood.
pub fn drying(job: &Job) -> Option<Drying> {
    let Some(Movement::Wood(wood)) = job.board.movement else {
        return None;
    };
    let figures = figures(&wood);
    let moisture = [wood.moisture_now, wood.moisture_service].map(of);
    let [from, to] = moisture;
    Some(Drying {
        wood,
        moisture,
        figures,
        equation: figures.equation(from, to),
        face_now: job.board.face,
        face_service: job.board.face + figures.change(job.board.face, from, to),
    })
}

impl Drying {
    /// Where the figures come from, in words.
    pub fn source(&self) -> &'static str {
        self.figures.known.source(self.equation)
    }

    /// What a face changes by until it is in service; below zero it shrinks.
    pub fn change(&self) -> Length {
        self.face_service - self.face_now
    }

    /// A width as it will be in service.
    pub fn width(&self, now: Length) -> Length {
        let [from, to] = self.moisture;
        now + self.figures.change(now, from, to)
    }

    /// The gap in service between two whole boards set at a gap now: boards
    /// stay where they are fixed, so the gap takes what they lose. Below zero
    /// they press on each other.
    pub fn gap(&self, now: Length) -> Length {
        now - self.change()
    }

    /// The gap to set now for a gap in service; below zero there is none, since
    /// even boards laid tight open wider.
    pub fn to_set(&self, service: Length) -> Length {
        service + self.change()
    }
}
