//! Who with whom: least-cost matching in general graphs and between two sides, with a proof.
//!
//! - [`match_sparse`]: nodes and the edges that are given; any node may stay alone at a price.
//! - [`match_points`]: points in up to four integer coordinates, every pair an edge; solved on near
//!   neighbours, proved on the complete graph.
//! - [`assign`]: rows to columns.
//!
//! Every answer carries the dual values that prove it. [`verify`] checks such a proof for points
//! the slow way, pair by pair.

mod answer;
mod assign;
mod points;
mod sparse;
mod trial;

pub use answer::{Duals, Edge, MOST_COST, Matching};
pub use assign::{AssignEdge, Assignment, assign};
pub use points::{Certified, Points, match_points, verify};
pub use sparse::match_sparse;
