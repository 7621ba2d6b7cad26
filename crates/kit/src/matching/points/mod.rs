//! Matching of points, proved on the complete graph.

mod duals;
mod given;
mod solve;
mod tree;
mod verify;

pub use given::{Certified, Points};
pub use solve::{match_points, match_points_where, near_pairs};
pub use verify::{verify, verify_where};
