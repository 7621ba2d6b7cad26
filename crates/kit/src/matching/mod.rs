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
mod nest;
mod points;
mod proof;
mod sparse;
#[cfg(test)]
mod tests;

pub use answer::{Duals, Edge, MOST_COST, Matching};
pub use assign::{AssignEdge, Assignment, assign};
pub use points::{
    Certified, Points, match_points, match_points_where, near_pairs, verify, verify_where,
};
pub use proof::{Unproved, verify_sparse};
pub use sparse::match_sparse;
