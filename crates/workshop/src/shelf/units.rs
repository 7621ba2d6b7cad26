//! Units and the spellings of them that are accepted; the one table is in `shelf/units*.toml`.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::part::Decimal;

/// What a value measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dimension {
    /// Length; base unit mm.
    Length,
    /// Mass; base unit g.
    Mass,
    /// Density; base unit g/cm³.
    Density,
    /// Angle; base unit deg.
    Angle,
    /// Temperature on a scale; base unit degC.
    Temperature,
    /// Force; base unit N.
    Force,
    /// Pressure and stress; base unit MPa.
    Pressure,
    /// Unbalance, mass times length; base unit g·mm.
    Unbalance,
    /// Moment of inertia; base unit g·mm².
    Inertia,
    /// Speed of turning; base unit rpm.
    AngularSpeed,
    /// Time; base unit s.
    Time,
    /// A share; base unit 1.
    Share,
    /// Speed along a path; base unit m/s.
    Speed,
    /// Torque of friction or drag; base unit µN·m.
    Torque,
    /// Torsional stiffness; base unit µN·m/rad.
    TorsionalStiffness,
    /// Kinematic viscosity; base unit cSt, which is mm²/s.
    KinematicViscosity,
    /// Acceleration; base unit m/s².
    Acceleration,
    /// Heat passed for each area and degree; base unit W/(m²·K).
    HeatTransfer,
}

impl Dimension {
    /// Every dimension.
    pub const ALL: [Self; 18] = [
        Self::Length,
        Self::Mass,
        Self::Density,
        Self::Angle,
        Self::Temperature,
        Self::Force,
        Self::Pressure,
        Self::Unbalance,
        Self::Inertia,
        Self::AngularSpeed,
        Self::Time,
        Self::Share,
        Self::Speed,
        Self::Torque,
        Self::TorsionalStiffness,
        Self::KinematicViscosity,
        Self::Acceleration,
        Self::HeatTransfer,
    ];

    /// What it is called in a sentence, with its article.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Mass => "a mass",
            Self::Density => "a density",
            Self::Angle => "an angle",
            Self::Temperature => "a temperature",
            Self::Force => "a force",
            Self::Pressure => "a pressure",
            Self::Unbalance => "an unbalance (mass times length)",
            Self::Inertia => "a moment of inertia",
            Self::AngularSpeed => "a speed of turning",
            Self::Time => "a time",
            Self::Share => "a share",
            Self::Speed => "a speed",
            Self::Torque => "a torque",
            Self::TorsionalStiffness => "a torsional stiffness (torque for a radian)",
            Self::KinematicViscosity => "a kinematic viscosity",
            Self::Acceleration => "an acceleration",
            Self::HeatTransfer => "a heat transfer (heat for each area and degree)",
        }
    }

    /// A value of it, as a file would write it.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            Self::Length => "\"58 mm\"",
            Self::Mass => "\"0.1 g\"",
            Self::Density => "\"1.13 g/cm3\"",
            Self::Angle => "\"30 deg\"",
            Self::Temperature => "\"265 degC\"",
            Self::Force => "\"65 tf\"",
            Self::Pressure => "\"80 MPa\"",
            Self::Unbalance => "\"0.3 g·mm\"",
            Self::Inertia => "\"28000 g·mm2\"",
            Self::AngularSpeed => "\"5000 rpm\"",
            Self::Time => "\"1.5 s\"",
            Self::Share => "\"3 %\"",
            Self::Speed => "\"10 m/s\"",
            Self::Torque => "\"5 uN·m\"",
            Self::TorsionalStiffness => "\"2 uN·m/rad\"",
            Self::KinematicViscosity => "\"10 cSt\"",
            Self::Acceleration => "\"50 m/s2\"",
            Self::HeatTransfer => "\"2500 W/(m2·K)\"",
        }
    }

    /// The words of this dimension, one spelling a unit, for a sentence.
    #[must_use]
    pub fn known_units(self) -> String {
        let of_this = units().iter().filter(|u| u.dimension == self);
        of_this
            .map(|u| u.words[0].as_str())
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// A unit with its spellings and its exact factor to the base unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// What it measures.
    pub dimension: Dimension,
    /// Accepted spellings, the usual one first.
    pub words: Vec<String>,
    /// Base units in one of it.
    pub factor: Factor,
    /// Added to the number before the factor (temperature scales); 0 for all others.
    pub offset: Decimal,
}

/// A factor as it is printed, and as a float.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    /// All digits, as a whole number of `10^-places`.
    pub units: i128,
    /// How many digits stand behind the point.
    pub places: u8,
    /// The nearest float.
    pub float: f64,
    /// Whether the digits are the factor itself and not a rounding of it.
    pub exact: bool,
}

#[derive(Deserialize)]
struct Row {
    words: Vec<String>,
    value: String,
    #[serde(default)]
    offset: Option<Decimal>,
    #[serde(default)]
    rounded: bool,
}

const FILES: [&str; 2] = [
    include_str!("../../../../shelf/units.toml"),
    include_str!("../../../../shelf/units_job.toml"),
];

/// Every unit, in the order of the files.
#[must_use]
pub fn units() -> &'static [Unit] {
    static UNITS: OnceLock<Vec<Unit>> = OnceLock::new();
    UNITS.get_or_init(|| FILES.iter().flat_map(|text| read(text)).collect())
}

/// The unit a word stands for.
#[must_use]
pub fn unit(word: &str) -> Option<&'static Unit> {
    units().iter().find(|u| u.words.iter().any(|w| w == word))
}

/// Reads one file of units; the file is part of the program, and a test reads every row.
fn read(text: &str) -> Vec<Unit> {
    let table: toml::Table = toml::from_str(text).expect("a shelf file is TOML");
    let mut found = Vec::new();
    for (dimension, rows) in table {
        let dimension = toml::Value::String(dimension)
            .try_into()
            .expect("a known dimension heads a unit");
        let rows: toml::Table = rows.try_into().expect("units stand in tables");
        for (_, row) in rows {
            let row: Row = row.try_into().expect("a unit has words and a value");
            let factor = factor(&row.value, !row.rounded).expect("a factor is a decimal number");
            let offset = row.offset.unwrap_or(Decimal {
                units: 0,
                places: 0,
            });
            found.push(Unit {
                dimension,
                words: row.words,
                factor,
                offset,
            });
        }
    }
    found
}

fn factor(text: &str, exact: bool) -> Option<Factor> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    Some(Factor {
        units: format!("{whole}{fraction}").parse().ok()?,
        places: u8::try_from(fraction.len()).ok()?,
        float: text.parse().ok()?,
        exact,
    })
}
