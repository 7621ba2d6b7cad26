//! What leaves: speed against time, orders, eccentricity, and what had to be repaired.

use serde::{Deserialize, Serialize};

use crate::part::spin_log::{NotALog, SpinLog};

/// What a recording says about the piece that was spinning.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RecordingBody {
    /// What the recording is called.
    pub name: String,
    /// How long it was listened to.
    pub heard_s: f64,
    /// Whether the speed comes from pulses or from a tone.
    pub speed_from: SpeedFrom,
    /// The channel of the mark or the tone, counted from 1.
    pub mark_channel: usize,
    /// The channel of the vibration, counted from 1; none when pulses are all there is.
    pub vibration_channel: Option<usize>,
    /// Where the steady part begins.
    pub begin_s: f64,
    /// Where the steady part ends.
    pub end_s: f64,
    /// Speed at its beginning.
    pub begin_speed_rpm: f64,
    /// Speed at its end.
    pub end_speed_rpm: f64,
    /// Turns in it.
    pub turn_count: f64,
    /// Standard deviation of a speed of the track (median over it).
    pub speed_sd_rpm: f64,
    /// Speed against time, ascending, evenly spaced.
    pub track: Vec<TrackPoint>,
    /// What was found at the orders that mean something; empty when there is no vibration channel.
    pub orders: Vec<OrderLine>,
    /// Level against order and time, for the picture.
    pub map: OrderMap,
    /// Radius of the orbit of the spin axis; only from a vibration channel of known scale.
    pub eccentricity_um: Option<f64>,
    /// Its standard deviation, from the scatter between windows.
    pub eccentricity_um_sd: Option<f64>,
    /// Lead of the acceleration over the middle of the mark, in the sense of rotation, −180 to 180°;
    /// only with a mark.
    pub angle_deg: Option<f64>,
    /// Its standard deviation.
    pub angle_deg_sd: Option<f64>,
    /// What had to be repaired.
    pub repairs: Repairs,
    /// What was taken otherwise than stated, left out, or noticed, in words.
    pub remarks: Vec<String>,
}

impl RecordingBody {
    /// The track as a log of speeds, for the fit of the losses.
    ///
    /// # Errors
    /// A track that is no spin-down: too few readings, or a speed that does not fall.
    pub fn log(&self) -> Result<SpinLog, NotALog> {
        let times_s: Vec<f64> = self.track.iter().map(|point| point.time_s).collect();
        let speeds_rad_s: Vec<f64> = self
            .track
            .iter()
            .map(|point| point.speed_rpm * std::f64::consts::TAU / 60.0)
            .collect();
        let sd = self.speed_sd_rpm * std::f64::consts::TAU / 60.0;
        SpinLog::from_speeds(self.name.as_str(), &times_s, &speeds_rad_s, Some(sd))
    }
}

/// Where the speed comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpeedFrom {
    /// From pulses of a mark: the angle is known too.
    Pulses,
    /// From a tone taken as once per turn: the speed alone.
    Tone,
}

/// Speed at a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TrackPoint {
    /// Time from the beginning of the recording.
    pub time_s: f64,
    /// Speed.
    pub speed_rpm: f64,
}

/// What was found at one order (so many times per turn).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OrderLine {
    /// How many times per turn.
    pub order: f64,
    /// What makes it: unbalance, ovality, free wobble, cage, …
    pub name: String,
    /// Amplitude (root mean square over the windows) as a fraction of full scale.
    pub amplitude_fraction: f64,
    /// The same as an acceleration, where the scale is known.
    pub amplitude_m_per_s2: Option<f64>,
    /// Amplitude that noise alone would give in one window, as a fraction of full scale.
    pub noise_fraction: f64,
    /// Phase against the mark at whole orders, where there is one, −180 to 180°.
    pub phase_deg: Option<f64>,
    /// Share of the vibration's power, 0 to 1.
    pub share: f64,
    /// Whether it stands out of the noise.
    pub found: bool,
}

/// Levels on a grid of order and time, of fixed size whatever the recording's length.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct OrderMap {
    /// Middle of every column.
    pub times_s: Vec<f64>,
    /// Order of the first row.
    pub first_order: f64,
    /// From row to row.
    pub step_order: f64,
    /// Level below the loudest place of the map, in decibels (0 or less), one list a column.
    pub columns_level: Vec<Vec<f32>>,
}

/// What had to be repaired before the speed could be told.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Repairs {
    /// Pulses that were used.
    pub pulse_count: usize,
    /// Pulses that should have been there and were not.
    pub missed_count: usize,
    /// Pulses that should not have been there.
    pub doubled_count: usize,
    /// Share of samples at full scale, 0 to 1.
    pub clipped_share: f64,
    /// Seconds that the file's header claims and the file does not hold.
    pub cut_off_s: f64,
    /// Seconds left out before and after the steady part.
    pub left_out_s: f64,
}
