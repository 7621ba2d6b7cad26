//! What kinds of parts, and where they come from, are called.

use crate::part::Kind;

impl Kind {
    /// Every kind, in the order in which answers list them.
    pub const ALL: [Self; 4] = [Self::Half, Self::Rim, Self::Dressed, Self::Other];

    /// One of them.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Half => "half",
            Self::Rim => "rim",
            Self::Dressed => "dressed half",
            Self::Other => "part",
        }
    }

    /// Several of them.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Half => "halves",
            Self::Rim => "rims",
            Self::Dressed => "dressed halves",
            Self::Other => "parts",
        }
    }

    /// What its origin is called.
    #[must_use]
    pub fn origin_word(self) -> &'static str {
        match self {
            Self::Half | Self::Dressed => "cavity",
            Self::Rim => "insert",
            Self::Other => "pack",
        }
    }

    /// What several origins are called.
    #[must_use]
    pub fn origin_words(self) -> &'static str {
        match self {
            Self::Half | Self::Dressed => "cavities",
            Self::Rim => "inserts",
            Self::Other => "packs",
        }
    }

    /// What its fitting diameter is called.
    #[must_use]
    pub fn fit_word(self) -> &'static str {
        match self {
            Self::Half => "spigot",
            Self::Rim => "bore",
            Self::Dressed | Self::Other => "fitting diameter",
        }
    }
}
