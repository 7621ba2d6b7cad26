//! How a loss goes with the speed, for a fit: shapes that are 1 at a reference speed, and losses of a
//! known design.

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::losses::{Loss, Losses};
use super::speed::Speed;

/// What a term of a fit may stand for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Term {
    /// The same at every speed: dry friction of the bearing, string rub.
    Constant,
    /// With the speed: a thick lubricant.
    Linear,
    /// With the speed to the power 1.5: laminar air on the faces.
    ThreeHalves,
    /// With the square of the speed: turbulent air.
    Square,
    /// A loss of the known design, with its own law.
    Known,
}

impl Term {
    /// The power of the speed, for those that are one.
    #[must_use]
    pub(super) fn power(self) -> Option<f64> {
        match self {
            Self::Constant => Some(0.0),
            Self::Linear => Some(1.0),
            Self::ThreeHalves => Some(1.5),
            Self::Square => Some(2.0),
            Self::Known => None,
        }
    }

    /// What it is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Constant => "constant torque (dry bearing, string rub)",
            Self::Linear => "torque with the speed (thick lubricant)",
            Self::ThreeHalves => "torque with the speed to the power 1.5 (air, laminar)",
            Self::Square => "torque with the square of the speed (air, turbulent)",
            Self::Known => "loss of the design",
        }
    }
}

/// Torque of a loss in N·m at a speed in rad/s.
pub type Torque = Arc<dyn Fn(f64) -> f64 + Send + Sync>;

/// A loss of a known design: its law as the prediction has it, at a factor of 1.
#[derive(Clone)]
pub struct KnownLoss {
    /// What it is called.
    pub name: String,
    /// Its torque in N·m at a speed in rad/s, by the design's own law.
    pub torque: Torque,
}

impl KnownLoss {
    /// The losses of a prediction, each with the factor the prediction gives it.
    #[must_use]
    pub fn all_of(losses: &Losses) -> Vec<Self> {
        let one = |loss: &Loss| {
            let loss = loss.clone();
            Self {
                name: loss.name.word().to_owned(),
                torque: Arc::new(move |speed_rad_s| loss.torque_n_m(Speed::new(speed_rad_s))),
            }
        };
        losses.all.iter().map(one).collect()
    }
}

impl fmt::Debug for KnownLoss {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("KnownLoss")
            .field("name", &self.name)
            .finish_non_exhaustive()
    }
}

/// The shape of one term: its slowing at a speed is the term's coefficient times this.
#[derive(Clone)]
pub(super) enum Shape {
    /// A power of the speed by the reference speed.
    Power { power: f64, reference: f64 },
    /// A law divided by its own value at the reference speed.
    Law { torque: Torque, scale: f64 },
}

impl Shape {
    pub(super) fn of(term: Term, reference_rad_s: f64) -> Option<Self> {
        Some(Self::Power {
            power: term.power()?,
            reference: reference_rad_s,
        })
    }

    /// The shape of a known loss; none where its torque is not a positive number at the reference.
    pub(super) fn known(loss: &KnownLoss, reference_rad_s: f64) -> Option<Self> {
        let at_reference = (loss.torque)(reference_rad_s);
        (at_reference.is_finite() && at_reference > 0.0).then(|| Self::Law {
            torque: Arc::clone(&loss.torque),
            scale: 1.0 / at_reference,
        })
    }

    #[inline]
    pub(super) fn at(&self, speed_rad_s: f64) -> f64 {
        match self {
            Self::Power { power, reference } => {
                let x = (speed_rad_s / reference).max(0.0);
                if *power == 0.0 {
                    1.0
                } else if *power == 1.5 {
                    x * x.sqrt()
                } else if *power == 1.0 {
                    x
                } else {
                    x * x
                }
            }
            Self::Law { torque, scale } => scale * torque(speed_rad_s),
        }
    }
}
