//! A moulding resin as the press sees it: how it flows, how it fills space, how it carries heat, how it is handled.

use super::Range;

/// A resin with all that a shot asks of it, in SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Resin {
    /// Its word in a job file, as in the shelf of materials.
    pub id: String,
    /// How it flows.
    pub flow: Flow,
    /// How much room it takes.
    pub room: Room,
    /// How it carries heat.
    pub heat: Heat,
    /// How it is handled.
    pub handling: Handling,
    /// How its figures are known, one sentence each; says `from memory` where one is.
    pub why: Vec<String>,
}

/// Shear viscosity over rate, temperature and pressure: the Cross law with the shift of Williams, Landel and Ferry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Power index of fast shear, above 0 and below 1.
    pub index_ratio: f64,
    /// Stress at which the viscosity begins to fall.
    pub bend_pa: f64,
    /// Viscosity at rest at the reference temperature.
    pub rest_pa_s: f64,
    /// Reference temperature at no pressure.
    pub reference_k: f64,
    /// Rise of the reference temperature with pressure, in K/Pa.
    pub rise_k_per_pa: f64,
    /// First number of the shift (no unit).
    pub first_factor: f64,
    /// Second number of the shift at no pressure.
    pub second_k: f64,
}

/// Specific volume over temperature and pressure: the equation of Tait on both sides of the transition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Transition at no pressure.
    pub transition_k: f64,
    /// Rise of the transition with pressure, in K/Pa.
    pub rise_k_per_pa: f64,
    /// Above the transition.
    pub melt: RoomSide,
    /// Below it.
    pub solid: RoomSide,
    /// What the solid has more at the transition and no pressure, in m³/kg.
    pub extra_m3_per_kg: f64,
    /// How that falls with cold, in 1/K.
    pub extra_per_k: f64,
    /// How that falls with pressure, in 1/Pa.
    pub extra_per_pa: f64,
    /// The constant before the logarithm of the equation of Tait.
    pub tait_factor: f64,
}

/// One side of the transition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomSide {
    /// Specific volume at the transition and no pressure, in m³/kg.
    pub volume_m3_per_kg: f64,
    /// Its growth with temperature, in m³/(kg·K).
    pub growth_m3_per_kg_k: f64,
    /// Stiffness at the transition.
    pub stiffness_pa: f64,
    /// How the stiffness falls with temperature, in 1/K.
    pub softening_per_k: f64,
}

/// Heat in melt and solid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heat {
    /// Conductivity of the melt, in W/(m·K).
    pub melt_w_m_k: f64,
    /// Conductivity of the solid, in W/(m·K).
    pub solid_w_m_k: f64,
    /// Specific heat of the melt, in J/(kg·K).
    pub melt_j_kg_k: f64,
    /// Specific heat of the solid, in J/(kg·K).
    pub solid_j_kg_k: f64,
    /// Latent heat of crystals, 0 where there are none, in J/kg.
    pub latent_j_kg: f64,
    /// Effective diffusivity of cooling from the melt.
    pub diffusivity_m2_per_s: Range,
    /// Below this it does not flow.
    pub no_flow_degc: f64,
    /// Below this it is stiff enough to be pushed out.
    pub eject_degc: f64,
}

/// How it is handled at the press.
#[derive(Debug, Clone, PartialEq)]
pub struct Handling {
    /// The family that must not meet others in the barrel, such as `acetal` or `pvc`.
    pub family: String,
    /// Usual melt.
    pub melt_degc: Range,
    /// Above this it breaks down.
    pub most_melt_degc: f64,
    /// Usual mould wall.
    pub wall_degc: Range,
    /// Usual shrinkage along the part, as a share.
    pub shrinkage_share: Range,
    /// Hours of drying; none where it is usually not dried.
    pub drying_hours: Option<Range>,
    /// Temperature of drying.
    pub drying_degc: Option<Range>,
    /// Most moisture, as a share.
    pub moisture_share: Option<f64>,
    /// Largest usual share of regrind.
    pub regrind_share: Option<f64>,
}
