//! What a reading of each kind of part may sensibly be, so that a slip is seen before it is stored.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::part::{Decimal, Kind};

#[derive(Deserialize)]
struct Shelf {
    half: ShelfKind,
    rim: ShelfKind,
    doubt: ShelfDoubt,
}

#[derive(Deserialize)]
struct ShelfKind {
    mass_g: ShelfWindow,
    fit_mm: ShelfWindow,
}

#[derive(Deserialize)]
struct ShelfWindow {
    low: ShelfValue,
    high: ShelfValue,
}

#[derive(Deserialize)]
struct ShelfDoubt {
    robust_distance: ShelfValue,
    least_count: ShelfValue,
}

#[derive(Deserialize)]
struct ShelfValue {
    value: Decimal,
}

static SHELF: LazyLock<Shelf> = LazyLock::new(|| {
    // Compiled in and read by a test, so a person never meets this.
    toml::from_str(include_str!("../../../../shelf/windows.toml"))
        .expect("shelf/windows.toml is read")
});

/// What the shelf says of a window's origin.
pub const PRACTICE: &str = "common practice, no source";

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

    /// The window in words: `5 to 30 g`.
    #[must_use]
    pub fn words(&self, unit: &str) -> String {
        format!("{} to {} {unit}", self.low, self.high)
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

/// When a reading is doubted: how far from the middle of its origin, in robust standard deviations.
#[must_use]
pub fn doubt_distance() -> f64 {
    SHELF.doubt.robust_distance.value.to_f64()
}

/// How many parts an origin must have before its own spread is believed.
#[must_use]
pub fn doubt_least_count() -> usize {
    SHELF.doubt.least_count.value.units.unsigned_abs() as usize
}

fn of_shelf(window: &ShelfWindow) -> Option<Window> {
    let source = PRACTICE.to_owned();
    Some(Window {
        low: window.low.value,
        high: window.high.value,
        source,
    })
}

impl Windows {
    /// The windows of the shelf: common practice, no source; cavities are not known.
    #[must_use]
    pub fn practice() -> Self {
        let kind = |kind: &ShelfKind| KindWindow {
            mass_g: of_shelf(&kind.mass_g),
            fit_mm: of_shelf(&kind.fit_mm),
            origins: Vec::new(),
        };
        Self {
            half: kind(&SHELF.half),
            rim: kind(&SHELF.rim),
            ..Self::default()
        }
    }

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
