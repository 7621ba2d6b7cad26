//! What a set-up needs that no flow need be reckoned for: clamp, shot, residence, runners, sizes to cut, plastic and time.

use std::f64::consts::{FRAC_PI_4, PI};

use crate::shelf::known;

/// mm³ in a cm³, N in a kN, g in a kg.
const THOUSAND: f64 = 1000.0;
/// Seconds in an hour.
const HOUR_S: f64 = 3600.0;

fn rule(name: &str) -> f64 {
    known(&format!("mould.rule.{name}")).value
}

/// Force that a pressure in the melt makes on the area the opening direction sees.
#[must_use]
pub fn clamp_kn(projected_mm2: f64, pressure_mpa: f64) -> f64 {
    projected_mm2 * pressure_mpa / THOUSAND
}

/// Mean pressure in a cavity by the rule of thumb: that of an easy-flowing resin at the flow length, times the resin's
/// factor, times what one is unsure by (Crawford).
#[must_use]
pub fn rule_of_thumb_mpa(easy_mpa: f64, resin_factor: f64, doubt_factor: f64) -> f64 {
    easy_mpa * resin_factor * doubt_factor
}

/// What a press rated by the shot of one resin gives of another: the same volume.
#[must_use]
pub fn same_shot_g(rated_g: f64, rated_g_cm3: f64, other_g_cm3: f64) -> f64 {
    rated_g * other_g_cm3 / rated_g_cm3
}

/// Volume a screw sweeps over a stroke.
#[must_use]
pub fn swept_cm3(screw_mm: f64, stroke_mm: f64) -> f64 {
    FRAC_PI_4 * screw_mm * screw_mm * stroke_mm / THOUSAND
}

/// Stroke for a volume of melt.
#[must_use]
pub fn stroke_mm(melt_cm3: f64, screw_mm: f64) -> f64 {
    melt_cm3 * THOUSAND / (FRAC_PI_4 * screw_mm * screw_mm)
}

/// Time a pellet takes through a barrel that holds so many shots.
#[must_use]
pub fn residence_s(inventory_g: f64, shot_g: f64, cycle_s: f64) -> f64 {
    inventory_g / shot_g * cycle_s
}

/// What a barrel holds against its largest shot.
#[must_use]
pub fn inventory_factor() -> f64 {
    rule("inventory")
}

/// Diameter of a runner by Pye's rule, of what it feeds and its length; for parts below 200 g with walls below 3 mm.
#[must_use]
pub fn pye_runner_mm(part_g: f64, length_mm: f64) -> f64 {
    part_g.sqrt() * length_mm.sqrt().sqrt() / rule("pye")
}

/// Diameter of a runner that splits in branches of one diameter, for one stress at all walls: `d N^(1/3)`.
#[must_use]
pub fn main_runner_mm(branch_mm: f64, branches_count: usize) -> f64 {
    branch_mm * (branches_count as f64).cbrt()
}

/// A power law of flow, `stress = consistency × rate^index`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerLaw {
    /// Consistency, in Pa·sⁿ.
    pub consistency_pa_s: f64,
    /// Index; 1 for a Newtonian melt.
    pub index_ratio: f64,
}

/// Diameter of a runner that takes no more than a pressure (Kazmer, equations 6.7 and 6.8; a rearranged tube).
#[must_use]
pub fn runner_for_drop_mm(
    melt: PowerLaw,
    length_mm: f64,
    flow_cm3_per_s: f64,
    drop_mpa: f64,
) -> f64 {
    let n = melt.index_ratio;
    // Lengths in mm and pressures in Pa: L/drop is in mm/Pa, flow in mm³/s.
    let over = 2.0 * melt.consistency_pa_s * length_mm / (drop_mpa * 1e6);
    let rate = (3.0 + 1.0 / n) * flow_cm3_per_s * THOUSAND / PI;
    2.0 * (over * rate.powf(n)).powf(1.0 / (3.0 * n + 1.0))
}

/// Size of the cavity for a size of the part: shrinkage is a share of the cavity (ISO 294-4).
#[must_use]
pub fn cavity_size_mm(part_mm: f64, shrinkage_share: f64) -> f64 {
    part_mm / (1.0 - shrinkage_share)
}

/// The shop's short way, `part × (1 + S)`: below it by S².
#[must_use]
pub fn shop_size_mm(part_mm: f64, shrinkage_share: f64) -> f64 {
    part_mm * (1.0 + shrinkage_share)
}

/// Shrinkage of a length from that of the volume, the same in all directions.
#[must_use]
pub fn along_share(volume_share: f64) -> f64 {
    1.0 - (1.0 - volume_share).cbrt()
}

/// Resin for a thousand halves, feed included.
#[must_use]
pub fn thousand_kg(shot_g: f64, cavities_count: usize) -> f64 {
    shot_g / cavities_count as f64
}

/// Hours for a thousand halves.
#[must_use]
pub fn thousand_hours_count(cycle_s: f64, cavities_count: usize) -> f64 {
    cycle_s * THOUSAND / cavities_count as f64 / HOUR_S
}
