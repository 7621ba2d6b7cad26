//! What leaves the moulding station for one set-up.

use serde::{Deserialize, Serialize};

use crate::part::{Couple, Range, Unbalance};

/// The numbers of a set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MouldBody {
    /// The moulded piece.
    pub piece: String,
    /// The resin's word.
    pub resin: String,
    /// How many cavities.
    pub cavities_count: usize,
    /// The set-up as it was asked.
    pub setting: Setting,
    /// The half as it leaves the mould, the mean of the cavities.
    pub half: HalfLine,
    /// Each cavity.
    pub cavities: Vec<CavityLine>,
    /// Filling, up to the switch-over.
    pub fill: FillLine,
    /// Hold and the freezing of the gate.
    pub hold: HoldLine,
    /// Force on the clamp.
    pub clamp: ClampLine,
    /// What the screw must give.
    pub shot: ShotLine,
    /// Cooling.
    pub cooling: CoolingLine,
    /// Shrinkage, and what to cut the cavity to.
    pub shrinkage: ShrinkageLine,
    /// The cycle, and a thousand halves.
    pub cycle: CycleLine,
    /// The resin before and in the barrel.
    pub handling: HandlingLine,
    /// Every condition, the one that decides first.
    pub conditions: Vec<MouldCondition>,
    /// For comparison: the same half with a ring gate at the hub; none where it has one, or no edge gate.
    pub ring_gate: Option<RingGateLine>,
    /// What is handed on: weight and unbalance with their scatter from shot to shot.
    pub handed_on: HalfScatter,
    /// Pressures, flow and mass over the shot, of the first cavity.
    pub course: Vec<CoursePoint>,
    /// Temperature through the wall.
    pub walls: Vec<WallProfile>,
    /// The middle line with the wall on it.
    pub middle: Vec<MiddlePoint>,
    /// How well the reckoning keeps its own books.
    pub books: Books,
}

/// The set-up in a moulder's words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Setting {
    /// Melt as it leaves the nozzle.
    pub melt_degc: f64,
    /// Mould wall.
    pub wall_degc: f64,
    /// Time to fill that is set.
    pub fill_s: f64,
    /// Share of the volume at which speed gives over to pressure.
    pub switch_share: f64,
    /// The hold.
    pub hold: Vec<HoldSetting>,
    /// Cooling after the hold.
    pub cooling_s: f64,
}

/// One step of the hold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct HoldSetting {
    /// Pressure in the melt at the nozzle.
    pub pressure_mpa: f64,
    /// How long.
    pub time_s: f64,
}

/// One half, the mean of the cavities.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HalfLine {
    /// Mass.
    pub mass_g: f64,
    /// What the absolute mass may be off by, from the resin card alone.
    pub mass_doubt_g: f64,
    /// Mass of the drawing at the shelf's density.
    pub drawn_mass_g: f64,
    /// Largest less smallest cavity.
    pub between_cavities_g: f64,
    /// Largest static unbalance of a cavity's half.
    pub unbalance_g_mm: f64,
}

/// One cavity's half.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CavityLine {
    /// The cavity.
    pub name: String,
    /// Mass.
    pub mass_g: f64,
    /// Mass against the mean of the cavities, in percent.
    pub from_mean_percent: f64,
    /// When it is full; none where it stays short.
    pub full_s: Option<f64>,
    /// Share of the cavity that fills.
    pub filled_share: f64,
    /// When its gate freezes, from the start of filling; none where it stays open.
    pub gate_freeze_s: Option<f64>,
    /// Static unbalance, its angle from the half's mark.
    pub unbalance: Unbalance,
    /// Heavy side from the gate: 0 the gate's own side, 180 the far one; none for a ring gate.
    pub from_gate_deg: Option<f64>,
    /// Couple unbalance about the middle of the half's mass.
    pub couple: Couple,
    /// How far the centre of mass lies from the axle.
    pub eccentricity_um: f64,
    /// Shrinkage of volume, the mean over the half, in percent.
    pub volume_shrinkage_percent: f64,
    /// The same where it is largest.
    pub most_volume_shrinkage_percent: f64,
    /// Where that is.
    pub most_shrinkage_at: String,
}

/// Filling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FillLine {
    /// When speed gives over to pressure.
    pub switch_s: f64,
    /// Pressure at the nozzle then.
    pub switch_mpa: f64,
    /// Most pressure the press has.
    pub press_mpa: f64,
    /// Whether pressure, not speed, ruled at any time of filling.
    pub limited: bool,
    /// Flow at the nozzle.
    pub flow_cm3_per_s: f64,
    /// What each stretch of the way takes of the pressure at the switch-over.
    pub drops: Vec<DropLine>,
    /// Why it stays short, in words; none where it fills.
    pub short_because: Option<String>,
}

/// What one stretch takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DropLine {
    /// Sprue, runner, gate, cavity.
    pub name: String,
    /// Pressure lost on it.
    pub pressure_mpa: f64,
    /// Rate of shear at its wall, in 1/s; none for the cavity.
    pub shear_per_s: Option<f64>,
}

/// Hold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HoldLine {
    /// Time of all steps.
    pub time_s: f64,
    /// Largest pressure in a cavity while held.
    pub most_cavity_mpa: f64,
    /// When the last gate freezes, from the start of filling.
    pub gate_freeze_s: Option<f64>,
    /// How long the hold must last for that.
    pub needed_s: Option<f64>,
    /// Whether melt ran back out of a gate when the hold ended.
    pub ran_back: bool,
}

/// Force on the clamp.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClampLine {
    /// Most force that opens the mould.
    pub opening_kn: f64,
    /// What the press should have with its margin.
    pub wanted_kn: f64,
    /// What the press has.
    pub press_kn: f64,
    /// Opening force as a share of the press's.
    pub share: f64,
    /// The sum written out.
    pub sum: String,
}

/// What the screw gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShotLine {
    /// Halves, sprue and runners together.
    pub mass_g: f64,
    /// Sprue and runners.
    pub feed_g: f64,
    /// Volume of melt.
    pub melt_cm3: f64,
    /// Stroke for it, without the cushion.
    pub stroke_mm: f64,
    /// Cushion.
    pub cushion_mm: f64,
    /// Stroke and cushion as a share of the longest stroke.
    pub stroke_share: f64,
    /// Time in the barrel.
    pub residence_min: f64,
    /// The sum written out.
    pub sum: String,
}

/// Cooling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CoolingLine {
    /// From the end of filling until everywhere below the temperature of pushing out.
    pub needed_s: f64,
    /// Hold and cooling that are set.
    pub set_s: f64,
    /// Below which it may be pushed out.
    pub eject_degc: f64,
    /// The place that cools last, by name.
    pub hot_place: String,
    /// Its place along the axle.
    pub hot_axial_mm: f64,
    /// Its radius.
    pub hot_radius_mm: f64,
    /// Wall there.
    pub hot_wall_mm: f64,
    /// The closed form of a plate of that wall, its middle.
    pub plate_s: f64,
    /// What the last refinement of the mesh changed, in percent.
    pub change_percent: f64,
}

/// Shrinkage.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShrinkageLine {
    /// Along the part.
    pub along_percent: Range,
    /// What tables of this resin say.
    pub usual_percent: Range,
    /// What to cut the cavity to.
    pub sizes: Vec<CutSize>,
}

/// One size of the cavity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CutSize {
    /// Which.
    pub name: String,
    /// Of the half.
    pub half_mm: f64,
    /// Of the cavity.
    pub cavity_mm: f64,
    /// What the range of the shrinkage makes of it, either way.
    pub doubt_mm: f64,
}

/// The cycle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CycleLine {
    /// All of it.
    pub cycle_s: f64,
    /// Filling, hold, cooling, opening: each.
    pub steps: Vec<CycleStep>,
    /// Resin for a thousand halves, feed included.
    pub thousand_kg: f64,
    /// Hours for a thousand halves.
    pub thousand_h: f64,
    /// Share of the shot that is sprue and runners.
    pub feed_share: f64,
}

/// A step of the cycle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CycleStep {
    /// Which.
    pub name: String,
    /// How long.
    pub time_s: f64,
}

/// The resin before and in the barrel, each as a line for the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandlingLine {
    /// Drying.
    pub drying: String,
    /// Melt and wall against what is usual.
    pub temperatures: String,
    /// Regrind.
    pub regrind: String,
    /// Purging and what ran before.
    pub purge: String,
}

/// One condition of a set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MouldCondition {
    /// In a word: `clamp`, `pressure`, `hold time`, …
    pub name: String,
    /// How it stands.
    pub stands: Stands,
    /// In words with the numbers.
    pub words: String,
    /// Where it stands from 0 (far from the limit) to 1 (on it) and above.
    pub share: f64,
    /// The one setting to change, in words; empty where nothing is to be done.
    pub change: String,
}

/// How a condition stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stands {
    /// With room.
    Kept,
    /// Kept, at the edge.
    Edge,
    /// Not kept.
    Broken,
}

/// Weight and unbalance of a half, and how they scatter from shot to shot: what later stations take.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct HalfScatter {
    /// Mean mass over the cavities.
    pub mass_g: f64,
    /// Standard deviation from shot to shot.
    pub shot_sd_g: f64,
    /// Standard deviation between the cavities.
    pub cavity_sd_g: f64,
    /// Static unbalance toward the gate; negative on the far side.
    pub toward_gate_g_mm: f64,
    /// Its standard deviation from shot to shot.
    pub toward_gate_sd_g_mm: f64,
    /// Couple unbalance, likewise signed.
    pub couple_g_mm2: f64,
}

/// The same half fed all round at the hub; both pulls on one grid, so that they compare.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RingGateLine {
    /// Where the ring gate sits.
    pub place: String,
    /// Mass of a half.
    pub mass_g: f64,
    /// Static unbalance.
    pub unbalance_g_mm: f64,
    /// The same with the gate the job has.
    pub edge_unbalance_g_mm: f64,
    /// Pressure at the nozzle at the switch-over.
    pub switch_mpa: f64,
    /// When the ring gate freezes.
    pub gate_freeze_s: Option<f64>,
    /// Whether it fills.
    pub fills: bool,
}

/// One moment of a shot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CoursePoint {
    /// From the start of filling.
    pub time_s: f64,
    /// At the nozzle.
    pub nozzle_mpa: f64,
    /// Behind the gate.
    pub gate_mpa: f64,
    /// At the nozzle; negative where melt runs back.
    pub flow_cm3_per_s: f64,
    /// In the cavity.
    pub mass_g: f64,
}

/// Temperature through the wall at a place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WallProfile {
    /// Where.
    pub place: String,
    /// When, from the start of filling.
    pub time_s: f64,
    /// From one face of the wall to the other.
    pub points: Vec<WallPoint>,
}

/// One depth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WallPoint {
    /// From the middle of the wall.
    pub depth_mm: f64,
    /// There.
    pub temperature_degc: f64,
}

/// A point of the middle line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MiddlePoint {
    /// Stretch of the section.
    pub stretch: String,
    /// Along the axle.
    pub axial_mm: f64,
    /// From the axle.
    pub radius_mm: f64,
    /// Wall there.
    pub wall_mm: f64,
    /// Shrinkage of volume there, mean round the axle, in percent.
    pub volume_shrinkage_percent: f64,
}

/// How well the reckoning keeps its own books.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Books {
    /// Volume filled against volume let in, as a share.
    pub volume_off_share: f64,
    /// Mass in the cavities against mass let in, as a share.
    pub mass_off_share: f64,
    /// Volume of the middle surface against that of the drawing before it was shared out, as a share.
    pub middle_off_share: f64,
    /// Steps of filling and of hold.
    pub steps_count: usize,
}
