//! Station card: **measuring** — what was weighed, how it spreads, what to weigh again.

pub mod body;
pub mod run;
pub mod slips;
pub mod windows;

pub use body::{Doubt, Histogram, MeasuringBody, OriginCounts, Spread};
pub use run::look_over;
pub use slips::{Slip, Weight};
pub use windows::{KindWindow, Window, Windows};
