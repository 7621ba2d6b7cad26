//! Why a question about a turned piece cannot be answered: what was read, what was expected.

use crate::part::NotLimits;
use crate::part::figures::whole;

/// A question that has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// Nobody said which piece is turned.
    #[error("the job does not say which piece is turned: give `piece` in [turning] or [recut]")]
    NoTurnedPiece,
    /// A piece that is not in the job.
    #[error("there is no piece `{name}` in the job; `piece` of [turning] or [recut] names a piece")]
    NoPiece {
        /// The name.
        name: String,
    },
    /// A dimension that is not on the drawing.
    #[error("`{name}` is no dimension of `{piece}`; its dimensions are {known}")]
    NoDimension {
        /// What was named.
        name: String,
        /// The piece.
        piece: String,
        /// The names there are.
        known: String,
    },
    /// The drawing has no straight run.
    #[error(
        "`{piece}` has no straight face and no cylinder: there is no dimension to turn it to; draw the turned surfaces as straight lines"
    )]
    NoStraightRun {
        /// The piece.
        piece: String,
    },
    /// A cut of the fit.
    #[error(
        "`{name}` is the fit of `{piece}` on the half: a bore is never cut for the mass; name a face or an outside"
    )]
    BoreIsFit {
        /// The dimension.
        name: String,
        /// The piece.
        piece: String,
    },
    /// Limits that cannot be read.
    #[error("the limits of `{name}`: {why}")]
    Limits {
        /// The dimension.
        name: String,
        /// What is wrong with them.
        why: NotLimits,
    },
    /// A number that must be above zero.
    #[error("{what} is {}: more than 0 was expected", whole(*read))]
    NotPositive {
        /// Which number.
        what: &'static str,
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
    /// A mass that no such piece has.
    #[error(
        "{serial} weighs {read_g} g, and the drawing {drawn_g:.2} g: that is no such piece, or the wrong unit; weigh it again"
    )]
    NotThisPiece {
        /// The serial, or `the rim`.
        serial: String,
        /// What was read.
        read_g: f64,
        /// What the drawing says.
        drawn_g: f64,
    },
    /// Nothing in the tray.
    #[error("the tray is empty: at least one rim with its mass was expected")]
    EmptyTray,
    /// Nothing may be cut.
    #[error(
        "nothing of `{piece}` may be cut: name dimensions in `cut` of [turning], and give most_face or least_width in [recut]"
    )]
    NothingToCut {
        /// The piece.
        piece: String,
    },
}
