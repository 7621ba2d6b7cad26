//! What comes into pairing: parts as they were measured, what must agree, and what is allowed.

use std::collections::BTreeSet;

use crate::part::{Decimal, LotPart};

/// How far two dressed halves (or any two parts) may differ; at least one limit must be set.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Limits {
    /// Largest difference of the masses in g.
    pub mass_within_g: Option<Decimal>,
    /// Largest difference of the static unbalance sizes in g·mm; for a keyed joint the largest
    /// static unbalance of the set itself.
    pub unbalance_within_g_mm: Option<Decimal>,
    /// Largest difference of the axial offsets in mm.
    pub offset_within_mm: Option<Decimal>,
}

/// What the joint between the two halves lets the bench choose.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Joint {
    /// Nothing is known about the angle: sizes are compared.
    #[default]
    Unknown,
    /// Any angle: both the least static and the least couple setting are reported.
    Free,
    /// `marks` equally spaced positions; the angles of the unbalance must have been measured.
    Keyed {
        /// Number of clock marks, 2 to 360.
        marks: u32,
    },
}

/// Dressed halves, or any one kind of part, to be paired two and two.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DressedGiven {
    /// The parts, in tray order.
    pub parts: Vec<LotPart>,
    /// What must agree, and how closely.
    pub limits: Limits,
    /// `true`: every part finds a partner and the limits are only scales; sets outside are flagged.
    pub all: bool,
    /// What the joint lets the bench choose.
    pub joint: Joint,
    /// Only parts of one colour make a set.
    pub colour_must_agree: bool,
    /// Serials that must not meet.
    pub forbidden: Vec<(String, String)>,
    /// Pair parts with doubtful readings all the same.
    pub include_doubtful: bool,
    /// Last digit of the scale in g; without it the most digits seen in the lot count.
    pub scale_step_g: Option<Decimal>,
}

impl DressedGiven {
    /// The plain question: these parts, these limits, nothing else asked.
    #[must_use]
    pub fn new(parts: Vec<LotPart>, limits: Limits) -> Self {
        Self {
            parts,
            limits,
            all: false,
            joint: Joint::Unknown,
            colour_must_agree: false,
            forbidden: Vec::new(),
            include_doubtful: false,
            scale_step_g: None,
        }
    }
}

/// The interference that a half's spigot must have in a rim's bore.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FitWindow {
    /// Least interference in mm (spigot less bore).
    pub at_least_mm: Decimal,
    /// Largest interference in mm.
    pub at_most_mm: Decimal,
}

/// How a heavy rim may be made lighter: a face is cut back in whole steps, never the bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recut {
    /// Mass that one millimetre of face weighs, in g/mm (face area times density).
    pub gram_per_mm: f64,
    /// Smallest cut the lathe is set by, in mm.
    pub step_mm: Decimal,
    /// Most that may come off one rim, in mm.
    pub most_face_mm: Decimal,
}

/// How the question "and if more rims come?" is simulated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoreRims {
    /// How many more rims come.
    pub count: usize,
    /// How many times such a delivery is drawn.
    pub draws: usize,
    /// Seed of the draws; the same seed gives the same answer.
    pub seed: u64,
}

impl Default for MoreRims {
    fn default() -> Self {
        Self {
            count: 40,
            draws: 5,
            seed: 20_261_125,
        }
    }
}

/// Halves and rims apart, to be married and paired into sets of four.
#[derive(Debug, Clone, PartialEq)]
pub struct PartsGiven {
    /// The halves, in tray order.
    pub halves: Vec<LotPart>,
    /// The rims, in tray order.
    pub rims: Vec<LotPart>,
    /// Largest difference of the two dressed halves' masses in g.
    pub mass_within_g: Decimal,
    /// Wanted sum of the two dressed halves' masses in g.
    pub piece_mass_g: Decimal,
    /// How far that sum may be off, in g.
    pub piece_within_g: Decimal,
    /// The interference wanted between half and rim; asks for `fit_mm` on every part.
    pub fit_window: Option<FitWindow>,
    /// Half and half, and half and rim where both have one, must agree in colour.
    pub colour_must_agree: bool,
    /// Serials that must not meet (half with rim, or half with half).
    pub forbidden: Vec<(String, String)>,
    /// Use parts with doubtful readings all the same.
    pub include_doubtful: bool,
    /// Whether and how rims may be recut.
    pub recut: Option<Recut>,
    /// Whether to say what more rims would bring.
    pub more_rims: Option<MoreRims>,
    /// Last digit of the scale in g; without it the most digits seen in the lot count.
    pub scale_step_g: Option<Decimal>,
}

impl PartsGiven {
    /// The plain question: these halves and rims, these limits, nothing else asked.
    #[must_use]
    pub fn new(
        halves: Vec<LotPart>,
        rims: Vec<LotPart>,
        mass_within_g: Decimal,
        piece_mass_g: Decimal,
        piece_within_g: Decimal,
    ) -> Self {
        Self {
            halves,
            rims,
            mass_within_g,
            piece_mass_g,
            piece_within_g,
            fit_window: None,
            colour_must_agree: false,
            forbidden: Vec::new(),
            include_doubtful: false,
            recut: None,
            more_rims: None,
            scale_step_g: None,
        }
    }
}

/// How far a long run has come; handed to the caller, who may ask it to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Share of the work done, 0 to 1.
    pub share: f64,
    /// What is being done, in a few words.
    pub doing: &'static str,
    /// Most sets found so far.
    pub sets: usize,
}

/// Why a question cannot be answered: what was read, what was expected, what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// No limit at all.
    #[error(
        "nothing was said to agree: set at least one of mass within, unbalance within, offset within"
    )]
    NothingAsked,
    /// A limit of zero or less.
    #[error(
        "{what} is {read}, but a limit must be above zero: give the largest difference that is allowed, such as {example}"
    )]
    NotPositive {
        /// Which limit.
        what: &'static str,
        /// What was read.
        read: String,
        /// A limit that would be taken.
        example: &'static str,
    },
    /// The window's ends are the wrong way round.
    #[error("{what} runs from {least} to {most}: the first must be the smaller, exchange them")]
    UpsideDown {
        /// Which window.
        what: &'static str,
        /// Its lower end as read.
        least: String,
        /// Its upper end as read.
        most: String,
    },
    /// The same serial twice in one question.
    #[error(
        "serial {serial} is there twice: every part needs its own serial, mend one of them and read the lot again"
    )]
    Twice {
        /// The serial.
        serial: String,
    },
    /// A number of clock marks that no joint has.
    #[error("{read} clock marks: a keyed joint has 2 to 360 marks")]
    Marks {
        /// What was read.
        read: u32,
    },
    /// A keyed joint needs the unbalance, its limit and its angle.
    #[error(
        "a keyed joint is asked for without a limit for the unbalance: give unbalance within, such as 0.5 g·mm"
    )]
    KeyedWithoutUnbalance,
    /// Readings and limits of so many digits that whole numbers run over.
    #[error(
        "{what} has more digits than can be reckoned exactly: round it to the scale's last digit"
    )]
    TooFine {
        /// Which number.
        what: &'static str,
    },
    /// More parts than the solver's numbering holds.
    #[error("{read} parts are more than the {most} that one question may have: pair tray by tray")]
    TooMany {
        /// How many were read.
        read: usize,
        /// How many are allowed.
        most: usize,
    },
}

/// More parts than this are refused: costs and duals stay well inside 64 bits below it.
pub const MOST_PARTS: usize = 1_000_000;

/// Refuses a limit that is zero or less.
pub(super) fn above_zero(
    what: &'static str,
    unit: &str,
    limit: Decimal,
    example: &'static str,
) -> Result<(), Refusal> {
    if limit.units > 0 {
        return Ok(());
    }
    Err(Refusal::NotPositive {
        what,
        read: format!("{limit} {unit}"),
        example,
    })
}

/// Refuses a lot in which one serial stands twice.
pub(super) fn no_serial_twice<'a>(parts: impl Iterator<Item = &'a LotPart>) -> Result<(), Refusal> {
    let mut seen = BTreeSet::new();
    for part in parts {
        if !seen.insert(part.serial.as_str()) {
            return Err(Refusal::Twice {
                serial: part.serial.clone(),
            });
        }
    }
    Ok(())
}

/// Refuses more parts than one question may have.
pub(super) fn not_too_many(count: usize) -> Result<(), Refusal> {
    if count > MOST_PARTS {
        return Err(Refusal::TooMany {
            read: count,
            most: MOST_PARTS,
        });
    }
    Ok(())
}

impl DressedGiven {
    /// Checks everything that can be said before a single part is compared.
    ///
    /// # Errors
    /// The first [`Refusal`] found.
    pub fn check(&self) -> Result<(), Refusal> {
        let Limits {
            mass_within_g: mass,
            unbalance_within_g_mm: unbalance,
            offset_within_mm: offset,
        } = self.limits;
        if mass.is_none() && unbalance.is_none() && offset.is_none() {
            return Err(Refusal::NothingAsked);
        }
        if let Some(limit) = mass {
            above_zero("mass within", "g", limit, "0.1 g")?;
        }
        if let Some(limit) = unbalance {
            above_zero("unbalance within", "g·mm", limit, "0.3 g·mm")?;
        }
        if let Some(limit) = offset {
            above_zero("offset within", "mm", limit, "0.03 mm")?;
        }
        if let Joint::Keyed { marks } = self.joint {
            if !(2..=360).contains(&marks) {
                return Err(Refusal::Marks { read: marks });
            }
            if unbalance.is_none() {
                return Err(Refusal::KeyedWithoutUnbalance);
            }
        }
        not_too_many(self.parts.len())?;
        no_serial_twice(self.parts.iter())
    }
}

impl PartsGiven {
    /// Checks everything that can be said before a single part is compared.
    ///
    /// # Errors
    /// The first [`Refusal`] found.
    pub fn check(&self) -> Result<(), Refusal> {
        above_zero("mass within", "g", self.mass_within_g, "0.1 g")?;
        above_zero("piece mass", "g", self.piece_mass_g, "57.60 g")?;
        above_zero("piece within", "g", self.piece_within_g, "0.1 g")?;
        if let Some(window) = self.fit_window
            && window.at_least_mm.to_f64() > window.at_most_mm.to_f64()
        {
            return Err(Refusal::UpsideDown {
                what: "the fit window",
                least: format!("{} mm", window.at_least_mm),
                most: format!("{} mm", window.at_most_mm),
            });
        }
        if let Some(recut) = self.recut {
            above_zero("the lathe's step", "mm", recut.step_mm, "0.01 mm")?;
            above_zero(
                "the most face that may come off",
                "mm",
                recut.most_face_mm,
                "0.25 mm",
            )?;
            if !(recut.gram_per_mm.is_finite() && recut.gram_per_mm > 0.0) {
                return Err(Refusal::NotPositive {
                    what: "the mass of one millimetre of face",
                    read: format!("{} g/mm", recut.gram_per_mm),
                    example: "2.25 g/mm",
                });
            }
        }
        not_too_many(self.halves.len().saturating_add(self.rims.len()))?;
        no_serial_twice(self.halves.iter().chain(&self.rims))
    }
}
