//! Why weighings tell nothing.

use whirlwright_kit::least_squares::NotFitted;

/// Why nothing can be told from the weighings.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoWeights {
    /// Too few hold times.
    #[error(
        "{read} hold times were weighed; {least} at least are needed, from well before the gate freezes to after it"
    )]
    TooFew {
        /// How many there are.
        read: usize,
        /// How many are needed.
        least: usize,
    },
    /// A weighing that cannot be.
    #[error(
        "a half of {mass_g} g with a hold of {hold_s} s cannot be; masses and times above 0 are expected"
    )]
    Impossible {
        /// Mass.
        mass_g: f64,
        /// Hold time.
        hold_s: f64,
    },
    /// Cavities with unlike numbers of weighings at a hold time, so that means do not compare.
    #[error(
        "at a hold of {hold_s} s cavity {cavity} was not weighed; every cavity is needed at every hold time"
    )]
    CavityMissing {
        /// Which.
        cavity: String,
        /// When.
        hold_s: f64,
    },
    /// The shot of a hold time stays short.
    #[error("the reckoned shot stays short with a hold of {hold_s} s: {why}")]
    Short {
        /// When.
        hold_s: f64,
        /// Why.
        why: String,
    },
    /// The fit did not end.
    #[error("the weighings fit no reckoning: {0}")]
    NotFitted(#[from] NotFitted),
    /// It was stopped.
    #[error("stopped")]
    Stopped,
}
