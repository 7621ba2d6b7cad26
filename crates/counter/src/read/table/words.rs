//! Header words: what a column holds, and in which unit.

use whirlwright_workshop::measuring::units::{Dimension, Unit};
use whirlwright_workshop::part::{Kind, Measure};

/// What a column holds.
#[derive(Debug, Clone)]
pub enum Holds {
    /// The serial of the part.
    Serial,
    /// Cavity, insert, pack or batch.
    Origin,
    /// A measured number.
    Number {
        /// Which number.
        measure: Measure,
        /// In which unit the text is.
        unit: &'static Unit,
    },
    /// Colour.
    Colour,
    /// Tray.
    Tray,
    /// Place in the tray.
    Place,
    /// When it was weighed.
    WeighedAt,
    /// Who weighed it.
    Operator,
    /// Which scale.
    Scale,
    /// A word that is known and kept as it is: shot, order, note, or a number of another kind.
    Note,
    /// A word that is not known; kept as a note and listed.
    Unknown,
    /// Left out by the person (`-`).
    LeftOut,
}

/// Why a header word cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadWord {
    /// What is wrong with it.
    pub read: String,
    /// What to write.
    pub advice: String,
}

/// Words of columns that are no numbers.
const PLAIN: [(&str, Holds); 23] = [
    ("serial", Holds::Serial),
    ("serial_number", Holds::Serial),
    ("id", Holds::Serial),
    ("cavity", Holds::Origin),
    ("insert", Holds::Origin),
    ("pack", Holds::Origin),
    ("batch", Holds::Origin),
    ("origin", Holds::Origin),
    ("colour", Holds::Colour),
    ("color", Holds::Colour),
    ("tray", Holds::Tray),
    ("place", Holds::Place),
    ("weighed_at", Holds::WeighedAt),
    ("measured_at", Holds::WeighedAt),
    ("time", Holds::WeighedAt),
    ("operator", Holds::Operator),
    ("scale", Holds::Scale),
    ("instrument", Holds::Scale),
    ("shot", Holds::Note),
    ("order", Holds::Note),
    ("note", Holds::Note),
    ("notes", Holds::Note),
    ("-", Holds::LeftOut),
];

/// Words of numbers, the longer before the shorter that begin alike.
const NUMBERS: [(&str, Dimension, Option<Measure>); 9] = [
    (
        "unbalance_angle",
        Dimension::Angle,
        Some(Measure::UnbalanceAngleDeg),
    ),
    (
        "unbalance",
        Dimension::Unbalance,
        Some(Measure::UnbalanceGMm),
    ),
    ("mass", Dimension::Mass, Some(Measure::MassG)),
    ("weight", Dimension::Mass, Some(Measure::MassG)),
    ("offset", Dimension::Length, Some(Measure::OffsetMm)),
    ("spigot", Dimension::Length, Some(Measure::FitMm)),
    ("bore", Dimension::Length, Some(Measure::FitMm)),
    ("fit", Dimension::Length, Some(Measure::FitMm)),
    ("seat", Dimension::Length, None),
];

/// What a header word says, for one kind of parts.
///
/// Case does not matter; spaces count as underscores; a unit follows as `_g`, ` [g]` or ` (g)`.
///
/// # Errors
/// A number's word without a unit, or with a unit that is not one of its own.
pub fn meaning(word: &str, kind: Kind) -> Result<Holds, BadWord> {
    let word = word.trim().to_lowercase();
    let plain = word.replace([' ', '-'], "_");
    let plain = if word == "-" { "-" } else { plain.as_str() };
    if let Some((_, holds)) = PLAIN.iter().find(|(known, _)| *known == plain) {
        return Ok(holds.clone());
    }
    let number = NUMBERS.iter().find(|(known, ..)| plain.starts_with(known));
    let Some((known, dimension, measure)) = number else {
        return Ok(Holds::Unknown);
    };
    let rest = word.get(known.len()..).unwrap_or_default().trim();
    let Some(unit) = stated_unit(rest, known, *dimension)? else {
        return Ok(Holds::Unknown);
    };
    let fits_kind = match (*known, kind) {
        ("spigot", kind) => kind != Kind::Rim,
        ("bore", kind) => kind != Kind::Half,
        _ => true,
    };
    match measure {
        Some(measure) if fits_kind => Ok(Holds::Number {
            measure: *measure,
            unit,
        }),
        _ => Ok(Holds::Note),
    }
}

/// The unit after a number's word; none if what follows is not meant as a unit.
fn stated_unit(
    rest: &str,
    known: &str,
    dimension: Dimension,
) -> Result<Option<&'static Unit>, BadWord> {
    let bracketed = [('[', ']'), ('(', ')')].iter().find_map(|(open, close)| {
        rest.trim_start_matches('_')
            .strip_prefix(*open)?
            .strip_suffix(*close)
    });
    let text = bracketed
        .unwrap_or(rest)
        .trim_start_matches(['_', ',', '/'])
        .trim();
    if let Some(unit) = dimension.unit(text) {
        return Ok(Some(unit));
    }
    let names: Vec<&str> = dimension.units().map(Unit::name).collect();
    if text.is_empty() {
        let key = key_of(known, dimension);
        let other = names
            .iter()
            .find(|name| !key.ends_with(*name))
            .unwrap_or(&"");
        return Err(BadWord {
            read: format!("{known} without a unit"),
            advice: format!("write {key} or {known} [{other}]"),
        });
    }
    if bracketed.is_some() {
        return Err(BadWord {
            read: format!("{known} in a unit that is not known: {text}"),
            advice: format!(
                "write {} (known units: {})",
                key_of(known, dimension),
                names.join(", ")
            ),
        });
    }
    Ok(None)
}

fn key_of(known: &str, dimension: Dimension) -> String {
    let unit = match dimension {
        Dimension::Mass => "g",
        Dimension::Length => "mm",
        Dimension::Unbalance => "g_mm",
        Dimension::Angle => "deg",
    };
    format!("{known}_{unit}")
}

/// The known word nearest to one that is not known; none if nothing is near.
#[must_use]
pub fn nearest(word: &str) -> Option<&'static str> {
    /// A word is near when it is this much alike (Jaro and Winkler's measure, 1 is the same).
    const ALIKE: f64 = 0.85;
    let word = word.trim().to_lowercase();
    let keys = [
        "mass_g",
        "spigot_mm",
        "bore_mm",
        "unbalance_g_mm",
        "unbalance_angle_deg",
        "offset_mm",
    ];
    let plain = PLAIN
        .iter()
        .map(|(known, _)| *known)
        .filter(|known| *known != "-");
    plain
        .chain(keys)
        .map(|known| (strsim::jaro_winkler(&word, known), known))
        .filter(|(alike, _)| *alike >= ALIKE)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, known)| known)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit_of(word: &str) -> Option<(Measure, String)> {
        match meaning(word, Kind::Half) {
            Ok(Holds::Number { measure, unit }) => Some((measure, unit.name().to_owned())),
            _ => None,
        }
    }

    #[test]
    fn reads_units_in_every_way_they_are_written() {
        for word in [
            "mass_g", "mass [g]", "Mass (g)", "MASS G", "mass_[g]", "weight_g",
        ] {
            assert_eq!(
                unit_of(word),
                Some((Measure::MassG, "g".to_owned())),
                "{word}"
            );
        }
        for word in [
            "unbalance_g_mm",
            "unbalance [g·mm]",
            "Unbalance (g mm)",
            "unbalance_gmm",
        ] {
            assert_eq!(
                unit_of(word),
                Some((Measure::UnbalanceGMm, "g_mm".to_owned())),
                "{word}"
            );
        }
        assert_eq!(
            unit_of("mass [oz]"),
            Some((Measure::MassG, "oz".to_owned()))
        );
        assert_eq!(
            unit_of("unbalance_angle_deg").map(|found| found.0),
            Some(Measure::UnbalanceAngleDeg)
        );
        assert_eq!(
            unit_of("spigot [in]"),
            Some((Measure::FitMm, "in".to_owned()))
        );
    }

    #[test]
    fn refuses_a_number_without_a_unit_or_in_an_unknown_one() {
        for (word, said) in [
            ("mass", "mass without a unit"),
            ("spigot", "spigot without a unit"),
            ("mass [stone]", "not known: stone"),
            ("unbalance (g)", "not known: g"),
        ] {
            let refused = meaning(word, Kind::Half).expect_err(word);
            assert!(refused.read.contains(said), "{word}: {}", refused.read);
        }
        let advice = meaning("mass", Kind::Half).expect_err("no unit").advice;
        assert_eq!(advice, "write mass_g or mass [kg]");
    }

    #[test]
    fn reads_what_it_does_not_know_as_a_note() {
        assert!(matches!(
            meaning("mass_target", Kind::Half),
            Ok(Holds::Unknown)
        ));
        assert!(matches!(meaning("moon", Kind::Half), Ok(Holds::Unknown)));
        assert!(matches!(meaning("bore_mm", Kind::Half), Ok(Holds::Note)));
        assert_eq!(nearest("serail"), Some("serial"));
        assert_eq!(nearest("mass_gr"), Some("mass_g"));
        assert_eq!(nearest("moon"), None);
    }
}
