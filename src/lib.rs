//! Before a deck's frame is cut and its boards are ordered: where the last
//! course falls, how to finish well, and which boards to buy and how to cut
//! them so that they cost the least.

pub mod caution;
pub mod courses;
pub mod cutlist;
pub mod deck;
pub mod fit;
pub mod job;
pub mod joints;
pub mod length;
pub mod money;
pub mod order;
pub mod plan;
pub mod program;
pub mod report;
pub mod stock;
pub mod text;
pub mod verify;
pub mod watch;
