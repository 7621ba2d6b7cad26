//! What a mesh is asked of: bodies, their sides, and the wanted size.

use crate::revolve::Segment;

/// One side of a body: a piece of its outline with a label the caller knows it by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// The curve, walked with or against the sun; the whole loop one way.
    pub curve: Segment,
    /// The caller's number for this side; several sides may share one.
    pub label: u32,
    /// Wanted length of an element's edge on this side; none for that of [`Wanted`].
    pub size_mm: Option<f64>,
}

/// One body: an outer loop and the loops of its hollows, in any order and direction.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// The number its triangles carry.
    pub region: u32,
    /// Closed loops, each from end to start.
    pub loops: Vec<Vec<Side>>,
}

/// How fine the mesh shall be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Length of an element's edge away from finer places, above 0.
    pub size_mm: f64,
    /// How much the length may grow over a unit of distance from a finer place; 0.2 to 0.5 is usual.
    pub growth_ratio: f64,
    /// Triangles with a smaller angle are refined; up to 28 the refinement ends, higher it may give up.
    pub least_angle_deg: f64,
    /// The mesh is refused when it would need more nodes, middle nodes counted.
    pub nodes_at_most: usize,
}

impl Wanted {
    /// Elements of the given size, the other wishes as usual.
    #[must_use]
    pub const fn of_size_mm(size_mm: f64) -> Self {
        Self {
            size_mm,
            growth_ratio: 0.3,
            least_angle_deg: 25.0,
            nodes_at_most: 2_000_000,
        }
    }
}

/// Why there is no mesh.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeshError {
    /// A size is not a length.
    #[error("the wanted size is {0} mm; a length above 0 is expected")]
    Size(f64),
    /// A wish other than the size is out of its range.
    #[error("{what} is {read}; {expected} is expected")]
    Wish {
        /// Which wish.
        what: &'static str,
        /// What was read.
        read: f64,
        /// What was expected.
        expected: &'static str,
    },
    /// A loop is not closed, or holds a place that is no number.
    #[error(
        "loop {in_loop} of region {region} is not closed end to start by finite places: close it"
    )]
    Open {
        /// The region of the body.
        region: u32,
        /// The number of the loop, from 0.
        in_loop: usize,
    },
    /// There is nothing to mesh.
    #[error("there is no body with an inside: give a closed outline with an area")]
    Empty,
    /// Two sides cross.
    #[error(
        "two sides cross near x = {x_mm} mm, y = {y_mm} mm: draw them apart, or mesh the bodies one by one"
    )]
    Crossing {
        /// Place along the axis.
        x_mm: f64,
        /// Distance from the axis.
        y_mm: f64,
    },
    /// The mesh would be too large.
    #[error(
        "a mesh of this size needs about {count} nodes, {at_most} are allowed: take a larger size"
    )]
    TooMany {
        /// About how many.
        count: usize,
        /// How many are allowed.
        at_most: usize,
    },
    /// The triangulation itself failed.
    #[error(
        "the outlines cannot be triangulated ({0}): look for sides of no length or places too far out"
    )]
    Triangulation(String),
}

/// Whether the question can be asked at all.
pub fn check(bodies: &[Body], wanted: &Wanted) -> Result<(), MeshError> {
    let is_length = |size: f64| size.is_finite() && size > 0.0;
    let sizes = bodies.iter().flat_map(|b| b.loops.iter().flatten());
    let sizes = sizes.filter_map(|side| side.size_mm);
    if let Some(bad) = std::iter::once(wanted.size_mm)
        .chain(sizes)
        .find(|size| !is_length(*size))
    {
        return Err(MeshError::Size(bad));
    }
    if !is_length(wanted.growth_ratio) {
        return Err(MeshError::Wish {
            what: "the growth of the size over distance",
            read: wanted.growth_ratio,
            expected: "a number above 0",
        });
    }
    // Past 33 degrees refinement by circumcentres is known not to end.
    if !(0.0..=33.0).contains(&wanted.least_angle_deg) {
        return Err(MeshError::Wish {
            what: "the least angle",
            read: wanted.least_angle_deg,
            expected: "0 to 33 degrees",
        });
    }
    let mut any = false;
    for body in bodies {
        for (in_loop, sides) in body.loops.iter().enumerate() {
            any |= !sides.is_empty();
            if !is_closed(sides) {
                return Err(MeshError::Open {
                    region: body.region,
                    in_loop,
                });
            }
        }
    }
    if any { Ok(()) } else { Err(MeshError::Empty) }
}

/// Ends meet within a billionth of the loop's size, the rounding of any reckoning before.
fn is_closed(sides: &[Side]) -> bool {
    let mut reach: f64 = 0.0;
    for side in sides {
        let box_ = side.curve.bounds();
        reach = reach.max(box_.low.distance(box_.high));
        let ends = [box_.low, box_.high];
        if ends.iter().any(|p| !p.x.is_finite() || !p.y.is_finite()) {
            return false;
        }
    }
    let next = sides.iter().cycle().skip(1);
    sides
        .iter()
        .zip(next)
        .all(|(a, b)| a.curve.end().distance(b.curve.start()) <= 1e-9 * reach)
}
