//! From clearance and a seat that runs out to unbalance.

use super::body::Looseness;
use super::given::RingMass;

/// What lets a ring sit off its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loose {
    /// Clearance on the diameter; 0 for a tight seat.
    pub clearance_um: f64,
    /// Length of the seat.
    pub length_mm: f64,
    /// Run-out of the seating face, full indicator movement.
    pub runout_mm: f64,
    /// Diameter at which the face runs out.
    pub face_mm: f64,
    /// What the fit may bring.
    pub budget_g_mm: Option<f64>,
}

/// µm in a mm.
const UM: f64 = 1000.0;

/// How far a ring may sit off the axle and tilt, and what unbalance that is.
///
/// A clearance `c` lets the ring sit `c/2` off: static unbalance mass × `c/2`. Across its length it
/// lets the ring tilt by `c/L`; a face that runs out by `f` at diameter `D` tilts it by `f/D`. A tilt
/// `φ` makes a couple `|Iₜ − Iₚ| φ` (first order, exact for a ring about its own centre).
#[must_use]
pub fn looseness(loose: &Loose, ring: &RingMass) -> Looseness {
    let clearance_mm = loose.clearance_um.max(0.0) / UM;
    let eccentricity_um = 0.5 * loose.clearance_um.max(0.0);
    let static_g_mm = ring.mass_g * eccentricity_um / UM;
    let tilt_rad = clearance_mm / loose.length_mm + loose.runout_mm / loose.face_mm;
    let couple_g_mm2 = (ring.transverse_g_mm2 - ring.polar_g_mm2).abs() * tilt_rad;
    let budget_share = loose.budget_g_mm.map(|budget| static_g_mm / budget);
    let against = match (loose.budget_g_mm, budget_share) {
        (Some(budget), Some(share)) => {
            format!(", {:.0} % of the {budget} g·mm it may bring", share * 100.0)
        }
        _ => ", and nobody says what it may bring: give unbalance in [fit]".to_owned(),
    };
    let words = if loose.clearance_um <= 0.0 && loose.runout_mm == 0.0 {
        "none: it stays tight at its worst moment; with --clearance it is told what a gap would do"
            .to_owned()
    } else {
        format!(
            "{:.1} µm of clearance and {:.3} mm of run-out at the seat let a ring sit {eccentricity_um:.1} µm off and tilt by {:.3} degrees: static {static_g_mm:.3} g·mm{against}; couple {couple_g_mm2:.2} g·mm²",
            loose.clearance_um.max(0.0),
            loose.runout_mm,
            tilt_rad.to_degrees(),
        )
    };
    Looseness {
        clearance_um: loose.clearance_um.max(0.0),
        runout_mm: loose.runout_mm,
        eccentricity_um,
        static_g_mm,
        tilt_deg: tilt_rad.to_degrees(),
        couple_g_mm2,
        budget_g_mm: loose.budget_g_mm,
        budget_share,
        words,
    }
}
