//! What comes in: what is known of a recording before it is heard, and why one is refused.

use serde::{Deserialize, Serialize};

/// What is known of a recording before it is heard. Everything but name and format may be unknown.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RecordingGiven {
    /// What the recording is called, for the answer.
    pub name: String,
    /// Frames a second.
    pub rate_hz: f64,
    /// Channels in a frame: 1 or 2.
    pub channels: usize,
    /// How many frames the file's header claims; more than were heard means a file cut off.
    pub claimed_frames: Option<u64>,
    /// Marks (or blades, or reflecting strips) that pass in one turn.
    pub pulses_per_turn: usize,
    /// The channel with the mark's pulses, counted from 1; found by itself when not stated.
    pub mark_channel: Option<usize>,
    /// The channel with the vibration, counted from 1; found by itself when not stated.
    pub vibration_channel: Option<usize>,
    /// What full scale means on the vibration channel; without it only relative levels can be told.
    pub full_scale_m_per_s2: Option<f64>,
    /// The slowest speed looked for; the shelf's when not stated.
    pub slowest_rpm: Option<f64>,
    /// The fastest speed looked for; the shelf's when not stated.
    pub fastest_rpm: Option<f64>,
    /// Transverse over polar inertia of the piece, from its design: gives the order of a free wobble.
    pub inertia_ratio: Option<f64>,
    /// The orders of the bearing, from its geometry.
    pub bearing: Option<BearingOrders>,
}

impl RecordingGiven {
    /// A recording of which nothing is known but its name and format; one mark a turn.
    #[must_use]
    pub fn new(name: &str, rate_hz: f64, channels: usize) -> Self {
        Self {
            name: name.to_owned(),
            rate_hz,
            channels,
            claimed_frames: None,
            pulses_per_turn: 1,
            mark_channel: None,
            vibration_channel: None,
            full_scale_m_per_s2: None,
            slowest_rpm: None,
            fastest_rpm: None,
            inertia_ratio: None,
            bearing: None,
        }
    }
}

/// How often a part of the bearing makes itself heard in one turn (outer ring held by the string).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BearingOrders {
    /// Turns of the cage in one turn of the inner ring.
    pub cage_order: f64,
    /// Balls that pass a point of the outer race.
    pub outer_race_order: f64,
    /// Balls that pass a point of the inner race.
    pub inner_race_order: f64,
    /// Turns of a ball about itself.
    pub ball_order: f64,
}

impl BearingOrders {
    /// From the number of balls, their diameter, the pitch diameter and the contact angle.
    ///
    /// With g = D cos a / d the cage makes (1 − g)/2, a point of the outer race meets z(1 − g)/2 and
    /// of the inner race z(1 + g)/2 balls, and a ball turns d(1 − g²)/(2 D) times: rolling without
    /// slip, outer ring at rest (from memory; the same kinematics as the bearing station's).
    #[must_use]
    pub fn of(balls: usize, ball_mm: f64, pitch_mm: f64, contact_angle_deg: f64) -> Self {
        let g = ball_mm * contact_angle_deg.to_radians().cos() / pitch_mm;
        let z = balls as f64;
        Self {
            cage_order: (1.0 - g) / 2.0,
            outer_race_order: z * (1.0 - g) / 2.0,
            inner_race_order: z * (1.0 + g) / 2.0,
            ball_order: pitch_mm / ball_mm * (1.0 - g * g) / 2.0,
        }
    }
}

/// Why a recording gives no answer: what was heard, what is needed, what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RecordingRefusal {
    /// The question itself cannot be used.
    #[error("{0}")]
    Question(String),
    /// Nothing, or nothing but silence.
    #[error(
        "{name} is silent: no sample is larger than {peak_share:.1e} of full scale; check the plug, \
         the input and its gain, and record again"
    )]
    Silent {
        /// The recording's name.
        name: String,
        /// The largest sample as a share of full scale.
        peak_share: f64,
    },
    /// Too short to say anything.
    #[error(
        "{name} lasts {heard_s:.2} s; at least {needed_s} s are needed: record the whole sleep"
    )]
    TooShort {
        /// The recording's name.
        name: String,
        /// How long it is.
        heard_s: f64,
        /// How long it has to be.
        needed_s: f64,
    },
    /// Clipped so heavily that the shape is gone.
    #[error(
        "{share:.0} % of {name} is clipped (at full scale), and what is left gives no steady tone: \
         turn the gain down and record again"
    )]
    Clipped {
        /// The recording's name.
        name: String,
        /// Share of samples at full scale, in per cent.
        share: f64,
    },
    /// Noise, talk or music: nothing that turns.
    #[error(
        "no steady tone found in {name}: {why}; put the pick-up nearer, mark one spot of the rim for a \
         light sensor, or state the speed range"
    )]
    NoSteadyTone {
        /// The recording's name.
        name: String,
        /// What was seen instead.
        why: String,
    },
    /// Something turns, but whether at this speed, at half or at twice of it is open.
    #[error(
        "{name} is not enough to tell the speed: {why}; state the pulses per turn or the speed range"
    )]
    NotEnough {
        /// The recording's name.
        name: String,
        /// What is ambiguous.
        why: String,
    },
}
