//! How a correction is made: what is drilled, milled or put on, and where that is allowed.

use whirlwright_kit::revolve::{Segment, oriented};

use super::refusal::Refusal;
use crate::part::Outline;
pub use crate::part::balance_wishes::Depths;
use crate::part::job::{Job, Side};

/// The section that is drilled, where it sits in the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkSection {
    /// Name of the piece.
    pub piece: String,
    /// Its side.
    pub side: Side,
    /// Its density.
    pub density_g_cm3: f64,
    /// Where that density comes from.
    pub why: String,
    /// Its closed loops, the material on their left.
    pub loops: Vec<Vec<Segment>>,
}

impl WorkSection {
    /// The section of a piece of a job on one side.
    ///
    /// # Errors
    /// No such piece, or none on that side.
    pub fn of_job(job: &Job, piece: &str, side: Side) -> Result<Self, Refusal> {
        let found = job.pieces.iter().find(|p| p.name == piece);
        let Some(found) = found else {
            let known: Vec<&str> = job.pieces.iter().map(|p| p.name.as_str()).collect();
            return Err(Refusal::NoSuchPiece {
                piece: piece.to_owned(),
                known: known.join(", "),
            });
        };
        let mirrored = found.side == Side::Both && side == Side::Left;
        if found.side != Side::Both && found.side != side {
            return Err(Refusal::NotOnThatSide {
                piece: piece.to_owned(),
                side: side.word(),
                sits: found.side.word(),
            });
        }
        let segments = |o: &Outline| {
            o.loops
                .iter()
                .map(|l| l.segments.clone())
                .collect::<Vec<_>>()
        };
        let loops = if mirrored {
            let mirrored = Outline::read(&found.outline.mirrored_path);
            segments(&mirrored.map_err(|fault| Refusal::NoSection {
                piece: piece.to_owned(),
                what: fault.what,
            })?)
        } else {
            segments(&found.outline)
        };
        Ok(Self {
            piece: piece.to_owned(),
            side,
            density_g_cm3: found.material.density_g_cm3,
            why: found.material.why.clone(),
            loops: oriented(&loops),
        })
    }
}

/// What is done at a place.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// A hole along the axle, drilled from the outer face.
    AxialHole {
        /// The drills at hand.
        diameters_mm: Vec<f64>,
        /// Distance of the hole's axis from the axle.
        radius_mm: f64,
        /// Angle of the drill's point; 180 for an end mill.
        point_angle_deg: f64,
        /// Depths at full diameter, from the face where the hole's axis meets it.
        depths: Depths,
    },
    /// A hole towards the axle, drilled from the outside.
    RadialHole {
        /// The drills at hand.
        diameters_mm: Vec<f64>,
        /// Where the hole's axis stands along the axle.
        x_mm: f64,
        /// Angle of the drill's point; 180 for an end mill.
        point_angle_deg: f64,
        /// Depths at full diameter, from the outside where the hole's axis meets it.
        depths: Depths,
    },
    /// A pocket milled into the outside, of one width and one angle.
    Pocket {
        /// Its width along the axle.
        width_mm: f64,
        /// Its middle along the axle.
        x_mm: f64,
        /// The angle it spans.
        span_deg: f64,
        /// Depths from the outside at its middle.
        depths: Depths,
    },
    /// A pin pressed flush into a flat hole along the axle, of heavier stuff than the part.
    Pin {
        /// Diameter of hole and pin.
        diameter_mm: f64,
        /// Distance of its axis from the axle.
        radius_mm: f64,
        /// Density of the pin.
        density_g_cm3: f64,
        /// Lengths of the pins at hand.
        depths: Depths,
    },
    /// Screws or weights of known mass put into ready places.
    Weight {
        /// The masses at hand.
        masses_g: Vec<f64>,
        /// Distance of their centre from the axle.
        radius_mm: f64,
        /// Where their centre stands along the axle.
        x_mm: f64,
    },
}

/// What may be done in one plane.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneWork {
    /// The plane, by its number from 0.
    pub plane: usize,
    /// What is done.
    pub way: Way,
    /// The section it is done to; none for weights put on.
    pub section: Option<WorkSection>,
    /// How many places there are round the axle, equally spaced.
    pub places: u32,
    /// Where the first of them is.
    pub first_deg: f64,
    /// Places that are taken or forbidden, by number from 0.
    pub closed: Vec<u32>,
    /// How many holes there may be in this plane.
    pub most_holes: u32,
}

/// The work on one or two planes.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// The planes; at most two.
    pub planes: Vec<PlaneWork>,
    /// The wall that must be left everywhere.
    pub least_wall_mm: f64,
    /// Weight of the rim's wobble against the seat's orbit, both in µm.
    pub wobble_weight: f64,
}
