//! Station card: **measuring** — what was weighed, how it spreads, what to weigh again.
//!
//! | | |
//! |---|---|
//! | comes in | parts of a lot with their readings as whole last digits; windows of what is believed |
//! | leaves | count, mean, sd and range by kind and by origin; histogram; doubts; slips of a table |
//! | effects counted | the step of the scale (bins, least robust spread); the origin (cavity, insert, pack) as its own population; wrong numbers (median and median absolute deviation) |
//! | left out | the scale's own uncertainty and bias (half a step at best: 0.005 g of a 0.1 g limit); drift within a lot, which widens an origin's spread and so hides a doubt of its size; the order of weighing |
//! | sources | windows and limits: common practice, no source (`shelf/windows.toml`); units by definition (`shelf/units.toml`); mean and sd checked against NIST StRD |
//!
#![doc = include_str!("../../../../docs/theory/measuring.md")]

pub mod body;
pub mod doubts;
pub mod histogram;
pub mod origins;
pub mod readings;
pub mod run;
pub mod slip;
pub mod slips;
pub mod spread;
pub mod units;
pub mod windows;
pub mod words;

pub use body::{Doubt, Histogram, MeasuringBody, OriginCounts, Spread};
pub use run::look_over;
pub use slip::{Slip, Weight};
pub use slips::{NumberColumn, look_for_slips};
pub use windows::{KindWindow, Window, Windows};
