//! How often a turn the cage, the races and the balls come by.

use serde::{Deserialize, Serialize};

/// Orders: how many times a turn of the piece something happens, without slip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Orders {
    /// `γ = D cos α / d_m`.
    pub gamma_ratio: f64,
    /// The cage goes round.
    pub cage_order: f64,
    /// A place of the outer race, held by the string, is passed by a ball.
    pub outer_race_order: f64,
    /// A place of the inner race, turning with the piece, is passed by a ball.
    pub inner_race_order: f64,
    /// A ball turns about itself.
    pub ball_order: f64,
}

impl Orders {
    /// The orders of a bearing whose outer ring stands still.
    ///
    /// `γ` must be below 1, which a bearing that fits together keeps.
    #[must_use]
    pub fn of(balls: u32, ball_mm: f64, pitch_mm: f64, contact_angle_deg: f64) -> Self {
        let gamma = ball_mm * contact_angle_deg.to_radians().cos() / pitch_mm;
        let half_balls = 0.5 * f64::from(balls);
        Self {
            gamma_ratio: gamma,
            cage_order: 0.5 * (1.0 - gamma),
            outer_race_order: half_balls * (1.0 - gamma),
            inner_race_order: half_balls * (1.0 + gamma),
            ball_order: 0.5 * pitch_mm / ball_mm * (1.0 - gamma * gamma),
        }
    }
}
