//! What leaves a study: the same mould, one or two settings changed from run to run.

use serde::{Deserialize, Serialize};

/// Which study.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StudyKind {
    /// Weight against hold time and hold pressure.
    Hold,
    /// The hold lengthened until the weight stops rising: when the gate freezes.
    Freeze,
    /// Time of filling against pressure.
    Fill,
    /// Cooling time against mould wall.
    Cooling,
    /// Melt and hold pressure: where all limits are kept.
    Window,
}

/// The numbers of a study.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StudyBody {
    /// The moulded piece.
    pub piece: String,
    /// The resin's word.
    pub resin: String,
    /// Which study.
    pub study: StudyKind,
    /// What runs along the plot, with its unit.
    pub along: String,
    /// What tells its curves apart (or runs up in a window), with its unit; empty where there is one curve.
    pub across: String,
    /// Every run that was reckoned.
    pub runs: Vec<StudyRun>,
    /// The setting to take; none where no run keeps every limit.
    pub take: Option<StudyRun>,
    /// Why that one, in words.
    pub why: String,
    /// Straight lines with a meaning on the plot.
    pub marks: Vec<StudyMark>,
    /// What to try at the press, in order.
    pub run_list: Vec<PressRun>,
    /// Runs that were not made because the work was stopped.
    pub left_out_count: usize,
}

/// One run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StudyRun {
    /// Place along the plot, in the unit of [`StudyBody::along`].
    pub along_at: f64,
    /// Which curve or row, in the unit of [`StudyBody::across`].
    pub across_at: f64,
    /// Melt.
    pub melt_degc: f64,
    /// Mould wall.
    pub wall_degc: f64,
    /// Time to fill.
    pub fill_s: f64,
    /// Hold pressure, the first step's.
    pub hold_mpa: f64,
    /// Hold time, all steps.
    pub hold_s: f64,
    /// Mean mass of a half.
    pub mass_g: f64,
    /// Static unbalance toward the gate; negative on the far side.
    pub toward_gate_g_mm: f64,
    /// Pressure at the nozzle at the switch-over.
    pub switch_mpa: f64,
    /// Opening force.
    pub opening_kn: f64,
    /// When the last gate freezes, from the start of filling.
    pub gate_freeze_s: Option<f64>,
    /// From the end of filling until it may be pushed out.
    pub cooling_s: Option<f64>,
    /// Standard deviation of the mass from shot to shot, by the press's own scatter.
    pub shot_sd_g: Option<f64>,
    /// The same of the unbalance.
    pub shot_sd_g_mm: Option<f64>,
    /// Which limit it breaks, in words; empty where it keeps all.
    pub breaks: String,
}

/// A straight line with a meaning.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StudyMark {
    /// What it means.
    pub words: String,
    /// Where along the plot, in the unit of [`StudyBody::along`].
    pub along_at: f64,
}

/// One run to try at the press.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PressRun {
    /// Its place in the order.
    pub number: usize,
    /// Melt.
    pub melt_degc: f64,
    /// Mould wall.
    pub wall_degc: f64,
    /// Time to fill.
    pub fill_s: f64,
    /// Hold pressure.
    pub hold_mpa: f64,
    /// Hold time.
    pub hold_s: f64,
    /// Shots to throw away before, and shots to weigh.
    pub shots: String,
    /// What is expected.
    pub expect: String,
}
