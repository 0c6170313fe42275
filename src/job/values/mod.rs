//! The kinds of value a field may hold, how each is read from what was typed,
//! and what the schema says of it. Limits that hold for a value by itself are
//! here; how values go together is left to [`super::check`].

mod counts;
mod decking;
mod degrees;
mod groups;
mod lengths;
mod loads;
mod minutes;
mod money;
mod packs;
mod pair;
mod sets;
mod several;
mod sides;
mod words;
mod zones;

pub use counts::{Count, Share, SpareBoards};
pub use decking::DeckingWord;
pub use degrees::{Degrees, Growth, PerMoisture};
pub use groups::Groups;
pub use lengths::{Lengths, NotNegative, Positive, RangeTable, Ranged, Signed};
pub use loads::{Load, Room, Weight};
pub use minutes::Minutes;
pub use money::{PerFoot, PerMetre, Price};
pub use packs::{GoodsWeight, PackSize};
pub use pair::Pair;
pub use sets::Sets;
pub use several::Several;
pub use sides::SidesWords;
pub use words::{
    BulkWord, CornersWord, EditionWord, FinishWord, Flag, FrameWord, GrainWord, GroupWord,
    KindWord, PatternWord, RunsPastWord, SideWord, SoldByWord, SpeciesGroupWord, SpeciesWord,
    SplicesWord, StepWord, SupportWord, UnitWord, Words,
};
pub use zones::Zones;

/// Gives a kind of value its schema: a name, then the schema itself.
macro_rules! schema {
    ($kind:ty, $name:literal, $($schema:tt)+) => {
        impl JsonSchema for $kind {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($($schema)+)
            }
        }
    };
}
use schema;
