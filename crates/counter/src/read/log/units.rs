//! Whether the unit of the times can be the right one: a doubt that is said, never mended in silence.
//!
//! Whether the unit of the speeds can be, the fit of the log asks.

use whirlwright_paper::rounding;
use whirlwright_workshop::part::SpinLog;
use whirlwright_workshop::shelf::known;

use super::header::speed_factor;
use crate::read::table::finding::Finding;

/// What speaks against the unit of a log's times.
pub(super) fn doubt(log: &SpinLog) -> Option<Finding> {
    let (first, last) = (log.times_s.first()?, log.times_s.last()?);
    let longest = known("logs.time.longest").value;
    let lowest = known("logs.speed.lowest").value;
    let rad_s_per_rpm = speed_factor("rpm")?;
    let fastest = log.speeds_rad_s.iter().copied().fold(0.0, f64::max) / rad_s_per_rpm;
    if last - first > longest {
        return Some(Finding {
            field: "time".to_owned(),
            read: format!("a spin of {}", rounding::places(last - first, 0, "s")),
            expected: format!("no more than {}", rounding::places(longest, 0, "s")),
            advice: "Are the times in ms? Put the unit in the header right: time_ms".to_owned(),
            ..Finding::default()
        });
    }
    (fastest < lowest).then(|| Finding {
        field: "speed".to_owned(),
        read: format!(
            "a spin no faster than {}",
            rounding::places(fastest, 0, "rpm")
        ),
        expected: format!("more than {}", rounding::places(lowest, 0, "rpm")),
        advice: "Put the unit in the header right; if pulses are in ms, it is pulse_ms".to_owned(),
        ..Finding::default()
    })
}
