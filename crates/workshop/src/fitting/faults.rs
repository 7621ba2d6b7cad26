//! Why a question about a fit cannot be answered: what was read, what was expected, what to do.

use crate::part::NotLimits;
use crate::part::figures::{fixed, whole};

/// A question that has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// Nobody said which piece is pressed on which.
    #[error(
        "the job does not say what is pressed on what: give `ring_piece` and `body_piece` in [fit], or `presses_on` in the piece that is pressed on"
    )]
    NoPress,
    /// A piece that is not in the job.
    #[error(
        "`ring_piece` or `body_piece` of [fit] names `{name}`, and the job has no piece of that name"
    )]
    NoPiece {
        /// The name.
        name: String,
    },
    /// No limits for a surface.
    #[error(
        "the job does not say the limits of {of}: give `fit` in [fit], such as \"48 H7/s6\", or `hole` and `shaft`"
    )]
    NoLimits {
        /// Hole or shaft.
        of: &'static str,
    },
    /// Limits that cannot be read.
    #[error("{of}: {why}")]
    Limits {
        /// Hole or shaft.
        of: &'static str,
        /// What is wrong with them.
        why: NotLimits,
    },
    /// The drawing gives no seat.
    #[error(
        "the drawing shows no seat of `{ring}` on `{body}`: a bore of the ring over the outside of the body was expected, both within 1 mm of the nominal radius and level within a tenth; draw them, or give ring_outside, body_inside and length in [fit]"
    )]
    NoSeat {
        /// The ring.
        ring: String,
        /// The body.
        body: String,
    },
    /// Two nominal sizes.
    #[error(
        "the hole is of {} mm and the shaft of {} mm: both must be within {most_mm} mm of each other to be one fit",
        fixed(*hole_mm, 3),
        fixed(*shaft_mm, 3)
    )]
    TwoSizes {
        /// Nominal size of the hole.
        hole_mm: f64,
        /// Nominal size of the shaft.
        shaft_mm: f64,
        /// How far they may be apart.
        most_mm: f64,
    },
    /// Sizes that stand against the drawing.
    #[error(
        "the job gives ring_outside, body_inside or length in [fit], and those go before the drawing"
    )]
    WallsSaid,
    /// The sections cannot be pressed by finite elements.
    #[error("the sections of ring and body cannot be solved: {why}")]
    Section {
        /// What the mesh or the solver says.
        why: String,
    },
    /// A ring without a wall.
    #[error(
        "the ring is {} mm outside and its bore is {} mm: the outside must be the larger",
        fixed(*outside_mm, 3),
        fixed(*bore_mm, 3)
    )]
    RingInsideOut {
        /// Outside diameter.
        outside_mm: f64,
        /// Bore.
        bore_mm: f64,
    },
    /// A body without a wall.
    #[error(
        "the body is hollow to {} mm and its seat is {} mm: 0 or more was expected, and a wall of more than 0; give body_inside = \"0 mm\" for a solid body",
        fixed(*inside_mm, 3),
        fixed(*seat_mm, 3)
    )]
    BodyInsideOut {
        /// Inside diameter.
        inside_mm: f64,
        /// Seat.
        seat_mm: f64,
    },
    /// No press at all.
    #[error(
        "the largest interference is {} µm: this is a clearance fit and holds nothing; make the shaft larger or the hole smaller, or ask what the clearance does to the balance with --clearance",
        fixed(*most_um, 1)
    )]
    Clearance {
        /// The largest interference on the diameter.
        most_um: f64,
    },
    /// A temperature at which the material must not be used.
    #[error(
        "{} °C is asked, and {piece} is used from {} to {} °C: take a temperature in that range, or another material",
        whole(*asked_degc),
        whole(*least_degc),
        whole(*most_degc)
    )]
    Temperature {
        /// The piece.
        piece: String,
        /// What was asked.
        asked_degc: f64,
        /// Least of its range.
        least_degc: f64,
        /// Most of its range.
        most_degc: f64,
    },
    /// A number that must be above zero.
    #[error("{what} is {}: more than 0 was expected", whole(*read))]
    NotPositive {
        /// Which number.
        what: String,
        /// What was read, in the unit of its name.
        read: f64,
    },
    /// A number that must not be below zero.
    #[error("{what} is {}: 0 or more was expected", whole(*read))]
    Negative {
        /// Which number.
        what: &'static str,
        /// What was read, in the unit of its name.
        read: f64,
    },
    /// A range whose ends are the wrong way round.
    #[error("{what} runs from {} to {}: the smaller value was expected first", whole(*low), whole(*high))]
    UpsideDown {
        /// Which range.
        what: &'static str,
        /// Its lower end as read, in the unit of its name.
        low: f64,
        /// Its upper end as read, in the same unit.
        high: f64,
    },
    /// Poisson's ratio out of its range.
    #[error("Poisson's ratio of {piece} is {read}: 0 to less than 0.5 was expected")]
    Poisson {
        /// The piece.
        piece: String,
        /// What was read; it has no unit.
        read: f64,
    },
    /// A material nobody knows.
    #[error(
        "neither the shelf nor the job knows the {what} of `{piece}`: name a material of the shelf, or give it in [fit.ring] or [fit.body]"
    )]
    NoMechanics {
        /// The piece.
        piece: String,
        /// Which figure.
        what: &'static str,
    },
}
