//! Plots with axes: lines and dots with bands, stacked areas, level maps, and small multiples of them.
//!
//! | what | file |
//! |---|---|
//! | the field with its scales, grid and labels | [`frame`] |
//! | how the n-th series is told apart: colour, dash and mark | [`look`] |
//! | lines, dots, bands and limits | [`lines`] |
//! | parts of a whole, one upon the other | [`stack`] |
//! | levels over a field, with their ramp | [`map`] |
//! | several plots beside each other | [`mod@multiples`] |
//! | the words under a plot | [`legend`] |

pub mod frame;
pub mod legend;
pub mod lines;
pub mod look;
pub mod map;
pub mod multiples;
pub mod stack;

pub use frame::{Frame, Scale};
pub use legend::Legend;
pub use lines::{Band, Limit, LinePlot, Series};
pub use look::Look;
pub use map::LevelMap;
pub use multiples::multiples;
pub use stack::{Layer, Stack};
