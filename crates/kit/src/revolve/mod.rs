//! Solids of revolution: exact moments of what a closed outline sweeps about the x axis.
//!
//! An outline is a list of [`Segment`]s in the half plane `y ≥ 0` (`x` along the axis, `y` the
//! radius). [`moments`] gives volume, first moment along the axis, second axial moment and polar
//! moment of the solid, all from boundary integrals in closed form: no sampling, no flattening.

mod arc;
mod meet;
mod moments;
mod overlap;
mod run;
mod segment;
mod shape;
mod wall;

pub use arc::Arc;
pub use meet::{Meeting, meetings};
pub use moments::{Moments, moments};
pub use overlap::{Overlap, overlap};
pub use run::{Run, inside, oriented, runs, slice_area};
pub(crate) use segment::cross;
pub use segment::{Bounds, Point, Segment};
pub use shape::{Shift, Wobble, eccentric, shift, swept, tilted};
pub use wall::{Wall, least_wall};

#[cfg(test)]
mod tests;
