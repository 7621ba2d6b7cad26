//! What a job says of the rim as a turned part and of its press fit.

use super::Range;

/// The `[fit]` block: the ring on the body, and what it must stand.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FitWishes {
    /// The outer piece; where it is not said, the piece that presses on another.
    pub ring: Option<String>,
    /// The inner piece.
    pub body: Option<String>,
    /// A fit in ISO 286 words, such as `48 H7/s6`.
    pub fit: Option<String>,
    /// Limits of the ring's bore; go before the fit's.
    pub hole: Option<String>,
    /// Limits of the spigot; go before the fit's.
    pub shaft: Option<String>,
    /// Outside diameter of the ring; of the drawing where it is not said.
    pub ring_outside_mm: Option<f64>,
    /// Inside diameter of the body behind the seat, 0 for a solid one; of the drawing where it is not said.
    pub body_inside_mm: Option<f64>,
    /// Length of the seat; of the drawing where it is not said.
    pub length_mm: Option<f64>,
    /// Friction between the two.
    pub friction_coefficient: Option<Range>,
    /// Temperature at which both were measured.
    pub measured_at_degc: Option<f64>,
    /// Coldest and hottest day, and the usual one between.
    pub temperature_degc: Option<Range>,
    /// Fastest speed of turning.
    pub speed_rpm: Option<f64>,
    /// Years it must hold.
    pub years_count: Option<f64>,
    /// Growth of the body by water, from the state it was measured in, as a share.
    pub moisture_strain_share: Option<Range>,
    /// Torque it must hold.
    pub torque_n_mm: Option<f64>,
    /// Standard deviation of bores as they are turned; a sixth of the limits where it is not said.
    pub hole_sd_um: Option<f64>,
    /// Standard deviation of spigots as they are moulded.
    pub shaft_sd_um: Option<f64>,
    /// Room for slipping the heated ring on, on the diameter.
    pub slip_on_mm: Option<f64>,
    /// Run-out of the seating face, full indicator movement.
    pub seat_runout_mm: Option<f64>,
    /// Static unbalance the fit may bring.
    pub unbalance_g_mm: Option<f64>,
    /// What the job says of the ring's material.
    pub ring_material: MechanicsWishes,
    /// What the job says of the body's material.
    pub body_material: MechanicsWishes,
}

/// What a job says of a material's mechanics; goes before the shelf.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MechanicsWishes {
    /// Short-time modulus of elasticity.
    pub modulus_mpa: Option<Range>,
    /// Poisson's ratio.
    pub poisson_ratio: Option<f64>,
    /// Linear thermal expansion in 1/K.
    pub expansion_per_k: Option<f64>,
    /// Creep modulus after an hour.
    pub creep_1h_mpa: Option<f64>,
    /// Creep modulus after 1000 hours.
    pub creep_1000h_mpa: Option<f64>,
    /// Largest safe strain for minutes.
    pub short_strain_share: Option<f64>,
    /// Largest safe strain for years.
    pub long_strain_share: Option<f64>,
    /// Stress at which a metal takes a set.
    pub proof_stress_mpa: Option<f64>,
}

/// The `[turning]` block: what the turned piece must hold, and where a cut may go.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TurningWishes {
    /// The turned piece; where it is not said, the one that is recut.
    pub piece: Option<String>,
    /// Wanted mass; the drawing's where it is not said.
    pub mass_g: Option<f64>,
    /// How far the mass may be off.
    pub mass_within_g: Option<f64>,
    /// Dimensions that may be cut, by their names such as `face 21.5` or `outside 58`.
    pub cut: Vec<String>,
    /// Least width of the piece after a cut.
    pub least_width_mm: Option<f64>,
    /// Least outside diameter after a cut.
    pub least_outside_mm: Option<f64>,
    /// Limits that stand already, by the dimension's name: `("bore 48", "48 H7")`.
    pub held: Vec<(String, String)>,
    /// Standard deviation of the scale's readings.
    pub scale_sd_g: Option<f64>,
    /// Standard deviation of a cut's depth.
    pub cut_sd_mm: Option<f64>,
    /// Run-out of a turned surface to the bore, full indicator movement.
    pub runout_mm: Option<f64>,
}
