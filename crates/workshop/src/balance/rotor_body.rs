//! What an unbalance does to a piece on its string.

use serde::{Deserialize, Serialize};

use crate::part::Range;

/// What will be read on a piece that turns freely, far above any resonance of its string: the piece
/// turns about its own principal axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FreeRotor {
    /// The speed.
    pub speed_rpm: f64,
    /// Orbit of the bearing seat: radius, from the static unbalance.
    pub seat_um: f64,
    /// Speed of the seat's centre on that orbit: the number a grade limits.
    pub seat_mm_per_s: f64,
    /// Lean of the principal axis, from the couple; none where the inertia is not known.
    pub tilt_mrad: Option<f64>,
    /// Axial wobble of the rim, from the middle: rim radius times lean; a dial shows twice that.
    pub wobble_um: Option<f64>,
    /// Once-per-turn pull on the string, where the string's stretch is known or taken from the shelf.
    pub string_mn: Option<Range>,
    /// Force a rigid bearing would have to bear: what the string is spared.
    pub rigid_force_mn: f64,
}
