//! Triangle meshes of plane sections, for finite elements.
//!
//! [`mesh`] covers bodies bounded by closed outlines (straight, arcs, Bézier curves, with hollows) with quadratic
//! triangles near a wanted size. Method: the outlines are cut to pieces of the local size; a nested triangular
//! lattice fills the inside; the constrained Delaunay triangulation of both is refined pass by pass (circumcentres
//! of bad triangles, or the halving of an outline piece in their way, on its true curve: J. Ruppert 1995); middle
//! nodes at the border are moved onto the curve where the element stays sound.
//!
//! Bodies given together share the nodes of the sides they share, end to end. Bodies meshed apart and put together
//! with [`Mesh::beside`] share nothing, even where they touch.
//!
//! Promised: the same input gives the same mesh; the corner of every outline is a node; every piece of border keeps
//! its label. Not promised: the wanted least angle beside an outline corner that is sharper.

mod border;
mod delaunay;
mod fill;
mod given;
mod grid;
mod quadratic;
mod section;
mod size;

pub(crate) use delaunay::Triangle;
pub use given::{Body, MeshError, Side, Wanted};
pub use section::{Border, Mesh};

/// The mesh of the bodies, all in one plane; see the module for method and promises.
///
/// # Errors
/// Bodies that cross or are open, sizes that are no lengths, more nodes than [`Wanted::nodes_at_most`].
pub fn mesh(bodies: &[Body], wanted: &Wanted) -> Result<Mesh, MeshError> {
    given::check(bodies, wanted)?;
    let sizes = size::Sizes::of(bodies, wanted);
    let mut border = border::Cut::of(bodies, &sizes, wanted)?;
    let mut inner = fill::fill(&border, &sizes, wanted)?;
    let triangles = delaunay::refine(&mut border, &mut inner, &sizes, wanted)?;
    Ok(quadratic::quadratic(&border, &inner, &triangles))
}

/// The triangulation of a body's cut border alone, nothing added inside: places, and triangles inside and out.
pub(crate) fn border_triangles(
    body: &Body,
    step_mm: f64,
) -> Result<(Vec<crate::revolve::Point>, Vec<Triangle>), MeshError> {
    let (bodies, wanted) = (std::slice::from_ref(body), Wanted::of_size_mm(step_mm));
    given::check(bodies, &wanted)?;
    let sizes = size::Sizes::of(bodies, &wanted);
    let border = border::Cut::of(bodies, &sizes, &wanted)?;
    let triangles = delaunay::triangulate(&border, &[])?;
    Ok((border.vertices, triangles))
}

#[cfg(test)]
mod tests;
