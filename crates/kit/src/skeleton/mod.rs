//! The middle line of a plane section: where its walls run, how thick they are, and how they hang together.
//!
//! [`skeleton`] gives the chordal axis (L. Prasad 1997) of a closed outline, hollows allowed. Method: the outline is
//! cut to short pieces; the constrained Delaunay triangulation of the cuts alone is made. A triangle with one side on
//! the outline is a step along a wall, one with two is an end, one with none is a junction; the middles of the sides
//! that triangles share, one after the other, are the line. Corners make short side lines that are no walls: a side
//! line is pruned unless it is slender (see [`Wanted::slender_ratio`]), or long against the circle that fits into the
//! junction. Junctions whose circles hold each other's centres are one. The line is smoothed over a wall's
//! thickness, for the middles zigzag, and drawn on to the outline at free ends.
//!
//! Promised: every triangle of the section is in one [`Cell`], so the cells' area is that of the cut outline; the same
//! input gives the same line. Not promised: a line in a section that is no wall anywhere (a ball has one across).

mod chains;
mod given;
mod line;
mod nodes;
mod pieces;
mod prune;

pub use given::{SkeletonError, Wanted};
pub use line::{Branch, MiddlePoint};
pub use pieces::{Cell, Skeleton, SkeletonNode};

use crate::mesh::{Body, Side, border_triangles};
use crate::revolve::Segment;

/// The middle line of what the loops enclose; loops as [`crate::revolve::oriented`] gives them or in any direction.
///
/// # Errors
/// Loops that are open or cross, a step that is no length, a section cut to too many pieces.
pub fn skeleton(loops: &[Vec<Segment>], wanted: &Wanted) -> Result<Skeleton, SkeletonError> {
    given::check(wanted)?;
    let side = |curve: &Segment| Side {
        curve: *curve,
        label: 0,
        size_mm: None,
    };
    let body = Body {
        region: 0,
        loops: loops.iter().map(|l| l.iter().map(side).collect()).collect(),
    };
    let (places, triangles) = border_triangles(&body, wanted.step_mm)?;
    let plan = chains::Plan::of(places, triangles).ok_or(SkeletonError::Empty)?;
    let mut graph = chains::Graph::of(&plan);
    prune::prune(&plan, &mut graph, wanted);
    nodes::join_near(&plan, &mut graph);
    pieces::answer(&plan, &graph, wanted)
}

#[cfg(test)]
mod tests;
