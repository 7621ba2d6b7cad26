//! The two rings at a moment of their life, and what has changed by then.

use super::annulus::Annulus;
use super::given::{Given, Stiffness};
use super::press::{Change, Press};
use crate::part::Range;

impl Given {
    /// The two rings as they are after so many hours.
    #[must_use]
    pub fn press(&self, stiffness: Stiffness, hours: f64) -> Press {
        let seat = 0.5 * self.fit.hole.middle_mm();
        Press {
            ring: Annulus {
                inner_mm: seat,
                outer_mm: 0.5 * self.ring_outside_mm,
                elastic: self.ring.elastic(stiffness, hours),
            },
            body: Annulus {
                inner_mm: 0.5 * self.body_inside_mm,
                outer_mm: seat,
                elastic: self.body.elastic(stiffness, hours),
            },
        }
    }

    /// What a temperature, the driest or wettest state and a speed change.
    #[must_use]
    pub fn change(&self, temperature_degc: f64, wet: bool, speed_rpm: f64) -> Change {
        let water = |share: &Range| if wet { share.high } else { share.low };
        Change {
            warmer_k: temperature_degc - self.measured_at_degc,
            ring_moisture_share: water(&self.ring.moisture_share),
            body_moisture_share: water(&self.body.moisture_share),
            speed_rad_s: speed_rpm * std::f64::consts::PI / 30.0,
        }
    }
}
