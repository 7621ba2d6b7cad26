//! What a reading of each kind of part may sensibly be, so that a slip is seen before it is stored.

use serde::{Deserialize, Serialize};

use crate::part::{Decimal, Kind};

/// From where to where a reading is believed; both ends belong to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Window {
    /// The least believable reading, in the quantity's own unit (g or mm).
    pub low: Decimal,
    /// The greatest believable reading, in the quantity's own unit (g or mm).
    pub high: Decimal,
    /// Who says so: `common practice, no source`, or the job file.
    pub source: String,
}

impl Window {
    /// Whether a reading lies inside; both ends belong to the window.
    #[must_use]
    pub fn holds(&self, reading: f64) -> bool {
        self.low.to_f64() <= reading && reading <= self.high.to_f64()
    }
}

/// What is known beforehand about one kind of part.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct KindWindow {
    /// Believable mass, in grams; none means only the parts themselves are compared.
    pub mass_g: Option<Window>,
    /// Believable fitting diameter (spigot of a half, bore of a rim), in mm.
    pub fit_mm: Option<Window>,
    /// The cavities, inserts or packs that exist; empty means they are not known.
    #[serde(default)]
    pub origins: Vec<String>,
}

/// What is known beforehand about every kind of part.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Windows {
    /// Moulded halves.
    #[serde(default)]
    pub half: KindWindow,
    /// Turned rims.
    #[serde(default)]
    pub rim: KindWindow,
    /// Halves with their rims.
    #[serde(default)]
    pub dressed: KindWindow,
    /// Any other small parts.
    #[serde(default)]
    pub other: KindWindow,
}

impl Windows {
    /// What is known of one kind.
    #[must_use]
    pub fn of(&self, kind: Kind) -> &KindWindow {
        match kind {
            Kind::Half => &self.half,
            Kind::Rim => &self.rim,
            Kind::Dressed => &self.dressed,
            Kind::Other => &self.other,
        }
    }

    /// What is known of one kind, to be overridden by the job's own limits.
    pub fn of_mut(&mut self, kind: Kind) -> &mut KindWindow {
        match kind {
            Kind::Half => &mut self.half,
            Kind::Rim => &mut self.rim,
            Kind::Dressed => &mut self.dressed,
            Kind::Other => &mut self.other,
        }
    }
}
