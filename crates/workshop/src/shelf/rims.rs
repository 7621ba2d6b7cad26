//! What is taken for granted of rims and their fits, from `shelf/rims.toml`.

use std::sync::OnceLock;

use crate::part::Range;

/// Taken for granted of a press fit where the job does not say it.
#[derive(Debug, Clone, PartialEq)]
pub struct FitDefaults {
    /// Friction between ring and body.
    pub friction_coefficient: Range,
    /// The same in words.
    pub friction_why: String,
    /// Coldest, usual and hottest temperature.
    pub temperature_degc: Range,
    /// The same in words.
    pub temperature_why: String,
    /// Temperature at which parts are measured.
    pub measured_at_degc: f64,
    /// Fastest speed of turning.
    pub speed_rpm: f64,
    /// Years a fit must hold.
    pub years_count: f64,
    /// Room for slipping a hot ring on, on the diameter.
    pub slip_on_mm: f64,
}

/// Taken for granted of turning where the job does not say it.
#[derive(Debug, Clone, PartialEq)]
pub struct TurningDefaults {
    /// How far a rim's mass may be off.
    pub mass_within_g: f64,
    /// Standard deviation of the scale's readings.
    pub scale_sd_g: f64,
    /// Standard deviation of a cut's depth.
    pub cut_sd_mm: f64,
    /// How far the mass of a cut may be off what the drawing says, as a share of it.
    pub mass_of_cut_share: f64,
    /// Smallest step a lathe is set by.
    pub step_mm: f64,
    /// Run-out of a turned surface to the bore, full indicator movement.
    pub runout_mm: f64,
    /// Most that is taken off an outside diameter.
    pub most_outside_mm: f64,
}

/// What is taken for granted of a press fit.
#[must_use]
pub fn fit_defaults() -> &'static FitDefaults {
    static READ: OnceLock<FitDefaults> = OnceLock::new();
    READ.get_or_init(|| {
        let file = file();
        let range = |name: &str| Range {
            low: number(&file, "fit", name, "low"),
            likely: number(&file, "fit", name, "value"),
            high: number(&file, "fit", name, "high"),
        };
        let one = |name: &str| number(&file, "fit", name, "value");
        let words = |name: &str, what: &str, unit: &str| {
            let range = range(name);
            format!(
                "{what} {} to {}{unit}: {}, {}",
                range.low,
                range.high,
                text(&file, "fit", name, "note"),
                text(&file, "fit", name, "tag")
            )
        };
        FitDefaults {
            friction_coefficient: range("friction"),
            friction_why: words("friction", "friction", ""),
            temperature_degc: range("temperature"),
            temperature_why: words("temperature", "temperatures from", " °C"),
            measured_at_degc: one("measured_at"),
            speed_rpm: one("speed"),
            years_count: one("years"),
            slip_on_mm: one("slip_on"),
        }
    })
}

/// What is taken for granted of turning.
#[must_use]
pub fn turning_defaults() -> &'static TurningDefaults {
    static READ: OnceLock<TurningDefaults> = OnceLock::new();
    READ.get_or_init(|| {
        /// A percent as a share.
        const PERCENT: f64 = 0.01;
        let file = file();
        let one = |name: &str| number(&file, "turning", name, "value");
        TurningDefaults {
            mass_within_g: one("mass_within"),
            scale_sd_g: one("scale_sd"),
            cut_sd_mm: one("cut_sd"),
            mass_of_cut_share: one("mass_of_cut") * PERCENT,
            step_mm: one("step"),
            runout_mm: one("runout"),
            most_outside_mm: one("most_outside"),
        }
    })
}

/// The file; it is part of the program, and a test reads every row.
fn file() -> toml::Table {
    toml::from_str(include_str!("../../../../shelf/rims.toml")).expect("a shelf file is TOML")
}

fn text(file: &toml::Table, block: &str, name: &str, key: &str) -> String {
    let row = file.get(block).and_then(|b| b.get(name));
    let cell = row.and_then(|r| r.get(key)).and_then(toml::Value::as_str);
    cell.unwrap_or_default().to_owned()
}

fn number(file: &toml::Table, block: &str, name: &str, key: &str) -> f64 {
    let text = text(file, block, name, key);
    text.parse().expect("a value of the shelf is a number")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_what_is_taken_for_granted_is_read_whole() {
        let (fit, turning) = (fit_defaults(), turning_defaults());
        assert!(fit.friction_coefficient.is_in_order() && fit.friction_coefficient.low > 0.0);
        assert!(fit.temperature_degc.is_in_order() && fit.friction_why.contains("practice"));
        assert!(turning.scale_sd_g < turning.mass_within_g && turning.mass_of_cut_share < 1.0);
    }
}
