//! Before a deck's frame is cut and its boards are ordered: where the last
//! course falls, how to finish well, and which boards to buy and how to cut
//! them so that they cost the least.
//!
//! The crate is a row of pure functions. A checked [`job::Job`] goes in, and each
//! stage gives a value that the next ones only read:
//!
//! ```
//! use lastcourse::courses::{Verdict, forecast};
//! use lastcourse::deck::surface;
//! use lastcourse::job::{Edge, Job, Stock};
//! use lastcourse::length::{Length, Unit};
//! use lastcourse::money::Money;
//! use lastcourse::order::order;
//! use lastcourse::plan::{PlanOptions, plan};
//! use lastcourse::verify;
//! use lastcourse::watch::Unwatched;
//!
//! // A frame 18 ft 4 in along the boards and 7 ft 8 in across, 5-1/2 in boards
//! // with 3/16 in between them, the first course at a wall.
//! let mut job = Job::rectangle(
//!     Unit::Inch,
//!     "18ft 4in".parse()?,
//!     "7ft 8in".parse()?,
//!     "5-1/2in".parse()?,
//!     "3/16in".parse()?,
//! );
//! job.edges.first = Edge::wall("1/4in".parse()?);
//! job.stock.push(Stock::bought(Length::from_feet(10), Money::from_cents(24_50)));
//! job.stock.push(Stock::bought(Length::from_feet(12), Money::from_cents(29_80)));
//!
//! // Across the boards: 16 whole courses, and a 17th that no saw should make.
//! let surface = surface(&job)?;
//! let forecast = forecast(&job, &surface, 0);
//! assert_eq!(forecast.outcome.laid, 17);
//! assert_eq!(forecast.outcome.last_width, Some("3/4in".parse()?));
//! assert_eq!(forecast.outcome.verdict, Verdict::Sliver);
//!
//! // Along the boards: the cheapest plan, with its proof, and a second look at
//! // it by a verifier that shares no code with the planner.
//! let plan = plan(&job, &PlanOptions::default(), &Unwatched)?;
//! assert!(plan.totals.bound <= plan.totals.value);
//! assert!(verify::plan(&job, &plan).is_empty());
//!
//! // What to buy for it.
//! let order = order(&job, &surface, &plan, &Unwatched)?;
//! assert_eq!(order.boards_price, plan.totals.price);
//! println!("{} boards for {}", plan.totals.boards, plan.totals.price.show("$"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | stage | gives |
//! |---|---|
//! | [`job`] | a checked job, from a file's text ([`job::read`]) or built in Rust |
//! | [`stairs`] | a flight worked out: risers, treads, stringers |
//! | [`deck`] | the [`Surface`](deck::Surface) to be covered and its [`Supports`](deck::Supports) |
//! | [`courses`] | a [`Layout`](courses::Layout), and a [`Forecast`](courses::Forecast) for each fastener |
//! | [`movement`] | how wood changes in width and composite in length after it is laid |
//! | [`plan`](mod@plan) | a [`Plan`](plan::Plan): courses cut into pieces, boards that hold them, a lower bound |
//! | [`frame`](mod@frame) | a [`Skeleton`](frame::Skeleton): joists, rims and the rest, and every piece's length |
//! | [`base`] | a [`Base`](base::Base): where supports stand, and what each carries |
//! | [`guard`](mod@guard) | a [`Guard`](guard::Guard): posts, bays and balusters along the open edges |
//! | [`codes`] | a frame and its boards held against published tables, as [`Finding`](codes::Finding)s |
//! | [`fit`](mod@fit) | ways to finish well, priced by real plans |
//! | [`measure`](mod@measure) | what a tape on the site says: [`Measured`](measure::Measured) |
//! | [`order`](mod@order) | an [`Order`](order::Order): what to buy, in lines and money |
//! | [`stock`] | the cutting engine alone: pieces from boards, no deck |
//! | [`proof`] | certificates of bounds, written and re-checked without the search |
//! | [`verify`] | every rule a plan or cut list breaks; none, if it is sound |
//! | [`report`] | any of these as text, JSON or CSV |
//! | [`draw`] | a plan as drawings for the site, in SVG |
//!
//! Lengths are exact integers from the first character read to the last saw cut
//! ([`length`]), money is whole cents ([`money`]). Nothing here prints, reads a
//! file, asks the time or starts a thread; long work asks a [`watch::Watch`]
//! whether to go on. The same job always has the same plan.

pub mod base;
pub mod caution;
pub mod codes;
pub mod courses;
pub mod cutlist;
pub mod deck;
pub mod draw;
pub mod fit;
pub mod frame;
pub mod guard;
pub mod job;
pub mod joints;
pub mod length;
pub mod load;
pub mod measure;
pub mod money;
pub mod movement;
pub mod order;
pub mod plan;
pub mod program;
pub mod proof;
pub mod report;
pub mod sheet;
pub mod stairs;
pub mod stock;
pub mod text;
pub mod verify;
pub mod volume;
pub mod watch;
