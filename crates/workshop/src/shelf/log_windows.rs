//! What is believed of a spin-down's log, from `shelf/spin_log.toml`.

use std::sync::OnceLock;

use toml::Table;

use super::sourced::{Sourced, sourced};

/// Windows and limits of logs.
#[derive(Debug, Clone, PartialEq)]
pub struct LogWindows {
    /// The slowest start that is believed of a throw, rpm.
    pub least_start_rpm: Sourced,
    /// The fastest, rpm.
    pub most_start_rpm: Sourced,
    /// Where a sleep ends unless said otherwise, rpm.
    pub ends_at_rpm: Sourced,
    /// Relative standard deviation up to which a term is well known.
    pub well_known_share: Sourced,
    /// Relative standard deviation above which a term is not reported.
    pub refused_share: Sourced,
    /// Probability below which chance is no longer believed.
    pub chance_probability: Sourced,
    /// Free spin of a clean bearing flicked by finger, s.
    pub clean_spin_s: Sourced,
    /// Free spin below which it wants cleaning, s.
    pub dirty_spin_s: Sourced,
    /// Largest dry torque of a clean bearing, µN·m.
    pub clean_torque_un_m: Sourced,
}

/// The windows.
#[must_use]
pub fn log_windows() -> &'static LogWindows {
    static WINDOWS: OnceLock<LogWindows> = OnceLock::new();
    WINDOWS.get_or_init(|| {
        let table: Table = toml::from_str(include_str!("../../../../shelf/spin_log.toml"))
            .expect("a shelf file is TOML");
        let of = |place: &str| sourced(&table, place);
        LogWindows {
            least_start_rpm: of("throw.least_start"),
            most_start_rpm: of("throw.most_start"),
            ends_at_rpm: of("throw.ends_at"),
            well_known_share: of("fit.well_known"),
            refused_share: of("fit.refused"),
            chance_probability: of("fit.chance"),
            clean_spin_s: of("flick.clean"),
            dirty_spin_s: of("flick.dirty"),
            clean_torque_un_m: of("flick.clean_torque"),
        }
    })
}
