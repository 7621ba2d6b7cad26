//! The piece as a rotor.

/// Moments of inertia about the centre of mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inertia {
    /// About the axle.
    pub polar_g_mm2: f64,
    /// Mean about the directions across.
    pub transverse_g_mm2: f64,
}

/// What turns: the whole piece, or a part on its mandrel.
#[derive(Debug, Clone, PartialEq)]
pub struct Rotor {
    /// What it is called.
    pub name: String,
    /// Its mass.
    pub mass_g: f64,
    /// Place of its centre of mass along the axle.
    pub centre_mm: f64,
    /// Its inertia, where it is known; without it a couple cannot be turned into a tilt.
    pub inertia: Option<Inertia>,
    /// Radius at which a wobble shows, where it is known.
    pub rim_radius_mm: Option<f64>,
}
