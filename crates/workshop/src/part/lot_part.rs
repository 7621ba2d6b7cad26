//! One part of a lot with what has been measured on it.

use serde::{Deserialize, Serialize};

use super::Decimal;

/// What kind of part it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A moulded half.
    Half,
    /// A turned rim.
    Rim,
    /// A half with its rim.
    Dressed,
    /// Any other small part that is weighed and matched.
    Other,
}

/// One part with its readings as they were shown; what was not measured is `None`, never 0.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LotPart {
    /// The serial, as written on the part or its tray place.
    pub serial: String,
    /// What kind of part.
    pub kind: Kind,
    /// Mass in grams.
    pub mass_g: Option<Decimal>,
    /// Static unbalance, size, in g·mm.
    pub unbalance_g_mm: Option<Decimal>,
    /// Angle of the unbalance from the part's own mark, in degrees, turning as seen from outside.
    pub unbalance_angle_deg: Option<Decimal>,
    /// Axial offset of the centre of mass from where the design has it, in mm.
    pub offset_mm: Option<Decimal>,
    /// The diameter that fits the partner, in mm: a half's spigot or a rim's bore.
    pub fit_mm: Option<Decimal>,
    /// Mould cavity of a half, insert or batch of a rim, pack of any other part.
    pub origin: Option<String>,
    /// Colour, where parts of one piece must agree.
    pub colour: Option<String>,
    /// The tray and the place in it; without them the order of the file is the order of the tray.
    pub tray: Option<String>,
    /// Doubts about the readings, in words; a part in doubt is weighed again before it is paired.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub doubts: Vec<String>,
}

impl LotPart {
    /// A part of which only the serial and the kind are known.
    #[must_use]
    pub fn new(serial: impl Into<String>, kind: Kind) -> Self {
        Self {
            serial: serial.into(),
            kind,
            mass_g: None,
            unbalance_g_mm: None,
            unbalance_angle_deg: None,
            offset_mm: None,
            fit_mm: None,
            origin: None,
            colour: None,
            tray: None,
            doubts: Vec::new(),
        }
    }
}
