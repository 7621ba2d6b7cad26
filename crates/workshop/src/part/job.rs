//! The job: what is to be made, as the job file says it, typed and checked.

use std::collections::BTreeMap;

use super::balance_wishes::BalanceWishes;
use super::fit_wishes::{FitWishes, TurningWishes};
use super::mould_wishes::{MouldWishes, PressWishes, ProcessWishes, ResinWishes};
use super::spin_wishes::{AirWishes, BearingWishes, SpinWishes, StringWishes, ThrowWishes};
use super::{Decimal, Outline};

/// A whole job (job file format 1).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Job {
    /// Name of the design.
    pub name: String,
    /// Revision of the design.
    pub revision: Option<String>,
    /// A remark for whoever reads the job.
    pub note: Option<String>,
    /// What the finished piece must keep to.
    pub limits: PieceLimits,
    /// The pieces, in the order of the file.
    pub pieces: Vec<Piece>,
    /// How parts are to be paired; wishes the command line may replace.
    pub pairing: PairingWishes,
    /// Whether and how rims may be recut.
    pub recut: Option<RecutWishes>,
    /// What is said of the lots of parts, by the name of the piece.
    pub lots: BTreeMap<String, LotWishes>,
    /// The `[press]` block.
    pub press: Option<PressWishes>,
    /// The `[mould]` block.
    pub mould: Option<MouldWishes>,
    /// The `[process]` block.
    pub process: Option<ProcessWishes>,
    /// The `[resin]` block.
    pub resin: Option<ResinWishes>,
    /// The `[balance]` block.
    pub balance: Option<BalanceWishes>,
    /// The `[bearing]` block.
    pub bearing: Option<BearingWishes>,
    /// The `[string]` block.
    pub string: Option<StringWishes>,
    /// The `[throw]` block.
    pub throw: Option<ThrowWishes>,
    /// The `[air]` block.
    pub air: Option<AirWishes>,
    /// The `[spin]` block.
    pub spin: Option<SpinWishes>,
    /// The `[turning]` block.
    pub turning: Option<TurningWishes>,
    /// The `[fit]` block.
    pub fit: Option<FitWishes>,
}

/// Where a piece sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Drawn on the right, and mirrored on the left.
    Both,
    /// Left of the gap, where it is drawn.
    Left,
    /// Right of the gap, where it is drawn.
    Right,
    /// Across the middle.
    Centre,
}

impl Side {
    /// Every side, in the order a file explains them.
    pub const ALL: [Self; 4] = [Self::Both, Self::Left, Self::Right, Self::Centre];

    /// The word the job file uses.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Left => "left",
            Self::Right => "right",
            Self::Centre => "centre",
        }
    }
}

/// One drawn piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its name, unique in the job.
    pub name: String,
    /// Where it sits.
    pub side: Side,
    /// Its section.
    pub outline: Outline,
    /// What it is made of.
    pub material: PieceMaterial,
    /// How many such pieces sit at this very place (washers are drawn as one stack); 1 as a rule.
    pub count: u32,
    /// The least wall of this piece in mm, where it differs from the job's.
    pub least_wall_mm: Option<f64>,
    /// Pieces it is pressed onto or into, with the largest allowed overlap in mm.
    pub presses_on: Vec<PressesOn>,
    /// What is not round about the axle: holes, pockets, lumps.
    pub features: Vec<Feature>,
}

/// What a piece is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceMaterial {
    /// Density in g/cm³ (which is mg/mm³).
    pub density_g_cm3: f64,
    /// The shelf's word for the material; none where the file gives a density.
    pub shelf_id: Option<String>,
    /// What kind of material, for the picture.
    pub kind: MaterialKind,
    /// Where the density comes from and how far it may be off, in words.
    pub why: String,
}

/// What kind of material a piece is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MaterialKind {
    /// Moulded resin.
    Polymer,
    /// Metal.
    Metal,
    /// Rubber and silicone.
    Elastomer,
    /// A bought part with more than one material in it, such as a ball bearing.
    Bought,
    /// Nothing was said but the density.
    Unknown,
}

/// A fit in which two outlines are meant to overlap on the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct PressesOn {
    /// The other piece.
    pub piece: String,
    /// The deepest overlap allowed, in mm of radius or of length.
    pub overlap_mm: f64,
}

/// A thing that is not round about the axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// What it is called.
    pub name: String,
    /// Its shape and place; of a piece on both sides, on the right one.
    pub shape: FeatureShape,
    /// How many, equally spaced round the axle, the first at the stated angle.
    pub count: u32,
    /// Whether material is added or taken away, and how heavy it is.
    pub weight: FeatureWeight,
}

/// How heavy a feature is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FeatureWeight {
    /// Material of the piece is taken away.
    Removed,
    /// Material of this density, in g/cm³, is added.
    AddedDensity(f64),
    /// This mass in g is added, spread evenly over the shape.
    AddedMass(f64),
}

/// Shape and place of a feature; angles turn from the drawing's upward radius, right-handed about
/// the axle's direction `x`, in degrees; lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FeatureShape {
    /// A round hole (or plug) along the axle.
    AxialCylinder {
        /// Its diameter.
        diameter_mm: f64,
        /// Distance of its axis from the axle.
        radius_mm: f64,
        /// Where it stands.
        angle_deg: f64,
        /// Its two ends along the axle.
        x_mm: (f64, f64),
    },
    /// A round hole (or plug) towards the axle.
    RadialCylinder {
        /// Its diameter.
        diameter_mm: f64,
        /// Where its axis stands along the axle.
        x_mm: f64,
        /// Where it stands.
        angle_deg: f64,
        /// Its two flat ends, as distances from the axle.
        radius_mm: (f64, f64),
    },
    /// A pocket between two radii over an angle.
    RingSector {
        /// Inner and outer radius.
        radius_mm: (f64, f64),
        /// Its ends along the axle.
        x_mm: (f64, f64),
        /// Its middle.
        angle_deg: f64,
        /// The angle it spans, at most 360.
        span_deg: f64,
    },
    /// A box with sides along the axle, away from it and across.
    Box {
        /// Its ends along the axle.
        x_mm: (f64, f64),
        /// Its ends away from the axle.
        radius_mm: (f64, f64),
        /// Its width across.
        width_mm: f64,
        /// Its middle.
        angle_deg: f64,
    },
    /// A ball.
    Ball {
        /// Its diameter.
        diameter_mm: f64,
        /// Where its middle is along the axle.
        x_mm: f64,
        /// Distance of its middle from the axle.
        radius_mm: f64,
        /// Where it stands.
        angle_deg: f64,
    },
    /// A mass without size.
    Point {
        /// Where it is along the axle.
        x_mm: f64,
        /// Distance from the axle.
        radius_mm: f64,
        /// Where it stands.
        angle_deg: f64,
    },
}

/// A wanted value with how far it may be off, both in the unit of the field it stands in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// The wanted value.
    pub value: f64,
    /// How far off it may be, either way.
    pub within: f64,
}

/// What the finished piece must keep to; what is not said is not checked.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PieceLimits {
    /// Mass of the whole in g.
    pub mass_g: Option<Wanted>,
    /// Largest diameter in mm.
    pub diameter_mm: Option<Wanted>,
    /// Width over all in mm.
    pub width_mm: Option<Wanted>,
    /// Polar moment of inertia of the whole in g·mm².
    pub polar_inertia_g_mm2: Option<Wanted>,
    /// Largest ratio of transverse to polar inertia.
    pub inertia_ratio_at_most: Option<f64>,
    /// Smallest wall in mm.
    pub least_wall_mm: Option<f64>,
    /// Smallest width of the gap between the two sides in mm.
    pub least_gap_mm: Option<f64>,
}

/// What the joint between the two sides lets the bench choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JointWish {
    /// Any angle.
    Free,
    /// One of so many marks, equally spaced.
    Keyed {
        /// How many marks, 2 to 360.
        marks: u32,
    },
}

/// How parts are to be paired, in exact decimals of the named unit.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PairingWishes {
    /// Largest difference of mass between the two sides, g.
    pub mass_within_g: Option<Decimal>,
    /// Wanted mass of the two dressed halves together, g.
    pub piece_mass_g: Option<Decimal>,
    /// How far that may be off, g.
    pub piece_within_g: Option<Decimal>,
    /// Largest difference of static unbalance, g·mm.
    pub unbalance_within_g_mm: Option<Decimal>,
    /// Largest difference of axial offset, mm.
    pub offset_within_mm: Option<Decimal>,
    /// Least and largest interference of half and rim, mm.
    pub fit_window_mm: Option<(Decimal, Decimal)>,
    /// What the joint lets the bench choose.
    pub joint: Option<JointWish>,
    /// Only parts of one colour make a set.
    pub colour_must_agree: Option<bool>,
}

/// Whether and how a piece may be recut to bring it to mass.
#[derive(Debug, Clone, PartialEq)]
pub struct RecutWishes {
    /// The piece whose outer face is cut.
    pub piece: String,
    /// Smallest cut the lathe is set by, mm.
    pub step_mm: Decimal,
    /// Most that may come off, mm.
    pub most_face_mm: Decimal,
    /// What one millimetre of that face weighs, g/mm; reckoned from the design where it is not said.
    pub gram_per_mm: Option<f64>,
}

/// What is said of one kind of part in a lot.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LotWishes {
    /// Least and largest mass taken for plausible, g.
    pub mass_window_g: Option<(Decimal, Decimal)>,
    /// Least and largest fit diameter taken for plausible, mm.
    pub fit_window_mm: Option<(Decimal, Decimal)>,
    /// How many cavities the mould has.
    pub cavities: Option<u32>,
}
