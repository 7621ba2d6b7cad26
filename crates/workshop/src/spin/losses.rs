//! Everything that slows a sleeping piece, as a sum of named laws.

use serde::{Deserialize, Serialize};

use super::faces::Faces;
use super::oil::Oil;
use super::rim::Rim;
use super::speed::Speed;

/// What takes the energy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LossName {
    /// The bearing without lubricant: cage, rolling, dust.
    BearingDry,
    /// What the lubricant in the bearing adds.
    BearingOil,
    /// Air on the outer faces.
    Faces,
    /// Air on the rim.
    Rim,
    /// Air on the flare of the gap.
    Gap,
    /// The string rubbing on a wall.
    String,
    /// Terms of a fit that belong to no one thing.
    Fitted,
}

impl LossName {
    /// Whether it is of the bearing.
    #[must_use]
    pub fn is_bearing(self) -> bool {
        matches!(self, Self::BearingDry | Self::BearingOil)
    }

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::BearingDry => "dry bearing",
            Self::BearingOil => "oil in the bearing",
            Self::Faces => "air on the faces",
            Self::Rim => "air on the rim",
            Self::Gap => "air in the gap",
            Self::String => "string rub",
            Self::Fitted => "fitted term",
        }
    }
}

/// How a loss goes with the speed: the torque at a factor of 1.
#[derive(Debug, Clone, PartialEq)]
pub enum Law {
    /// The same at every speed; the coefficient in N·m.
    Constant {
        /// In N·m.
        coefficient: f64,
    },
    /// With the speed.
    Linear {
        /// In N·m·s.
        coefficient: f64,
    },
    /// With the power 1.5 of the speed: laminar faces.
    ThreeHalves {
        /// In N·m·s^1.5.
        coefficient: f64,
    },
    /// With the square of the speed.
    Square {
        /// In N·m·s².
        coefficient: f64,
    },
    /// Lubricant in a ball bearing.
    Oil(Oil),
    /// Faces, laminar or in transition.
    Faces(Faces),
    /// Rim bands.
    Rim(Rim),
}

impl Law {
    /// The torque at a speed and a factor of 1.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        match self {
            Self::Constant { coefficient } => *coefficient,
            Self::Linear { coefficient } => coefficient * speed.rad_per_s,
            Self::ThreeHalves { coefficient } => coefficient * speed.rad_per_s * speed.root,
            Self::Square { coefficient } => coefficient * speed.rad_per_s * speed.rad_per_s,
            Self::Oil(oil) => oil.torque_n_m(speed),
            Self::Faces(faces) => faces.torque_n_m(speed),
            Self::Rim(rim) => rim.torque_n_m(speed),
        }
    }
}

/// One loss: a law and how much of it there is.
#[derive(Debug, Clone, PartialEq)]
pub struct Loss {
    /// What it is.
    pub name: LossName,
    /// How much of the law; every law is straight in its factor.
    pub factor: f64,
    /// The law.
    pub law: Law,
}

impl Loss {
    /// The torque at a speed.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        self.factor * self.law.torque_n_m(speed)
    }

    /// The derivative of the torque by the factor: the torque at a factor of 1, in N·m.
    #[must_use]
    pub fn per_factor_n_m(&self, speed: Speed) -> f64 {
        self.law.torque_n_m(speed)
    }
}

/// All losses of a piece.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Losses {
    /// The losses, each once.
    pub all: Vec<Loss>,
}

/// Coefficients of a sum that is a polynomial in the root of the speed, in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Polynomial {
    pub constant: f64,
    pub linear: f64,
    pub three_halves: f64,
    pub square: f64,
}

impl Losses {
    /// The torque of all together at a speed.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        self.all.iter().map(|loss| loss.torque_n_m(speed)).sum()
    }

    /// The torque of all together at a speed of turning.
    #[must_use]
    pub fn torque_at_n_m(&self, rad_per_s: f64) -> f64 {
        self.torque_n_m(Speed::new(rad_per_s))
    }

    /// The same losses with one of them scaled.
    #[must_use]
    pub fn scaled(&self, name: LossName, by: f64) -> Self {
        let mut scaled = self.clone();
        for loss in scaled.all.iter_mut().filter(|loss| loss.name == name) {
            loss.factor *= by;
        }
        scaled
    }

    /// The lowest speed above `above` at which the torque bends: a quadrature begins anew there.
    pub(super) fn first_kink_rad_per_s(&self, above_rad_per_s: f64) -> f64 {
        let mut first = f64::INFINITY;
        let mut take = |kink: f64| {
            // A bend at the very beginning is behind us.
            if kink > above_rad_per_s * (1.0 + 1e-12) {
                first = first.min(kink);
            }
        };
        for loss in self.all.iter().filter(|loss| loss.factor != 0.0) {
            match &loss.law {
                Law::Faces(faces) => take(faces.onset_rad_per_s()),
                Law::Rim(rim) => rim.kinks_rad_per_s().for_each(&mut take),
                Law::Oil(oil) => oil.kinks_rad_per_s().into_iter().for_each(&mut take),
                _ => {}
            }
        }
        first
    }

    /// The sum as a polynomial in the root of the speed up to `fastest`, where every law allows it.
    pub(super) fn polynomial(&self, fastest_rad_per_s: f64) -> Option<Polynomial> {
        let mut sum = Polynomial::default();
        for Loss { factor, law, .. } in self.all.iter().filter(|loss| loss.factor != 0.0) {
            match law {
                Law::Constant { coefficient } => sum.constant += factor * coefficient,
                Law::Linear { coefficient } => sum.linear += factor * coefficient,
                Law::ThreeHalves { coefficient } => sum.three_halves += factor * coefficient,
                Law::Square { coefficient } => sum.square += factor * coefficient,
                Law::Faces(faces) if fastest_rad_per_s <= faces.onset_rad_per_s() => {
                    sum.three_halves += factor * faces.laminar_coefficient();
                }
                Law::Rim(rim) if rim.is_empty() => {}
                Law::Oil(_) | Law::Faces(_) | Law::Rim(_) => return None,
            }
        }
        Some(sum)
    }
}
