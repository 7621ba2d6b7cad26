//! What a recording must be, from the shelf.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::part::Decimal;

/// Below this share of full scale there is nothing but silence.
pub(super) const SILENCE_FRACTION: f64 = 5e-5;

#[derive(Deserialize)]
struct Shelf {
    shortest: Value,
    longest: Value,
    slowest: Value,
    fastest: Value,
}

#[derive(Deserialize)]
struct Value {
    value: Decimal,
}

static SHELF: LazyLock<Shelf> = LazyLock::new(|| {
    // Compiled in and read by a test, so a person never meets this.
    toml::from_str(include_str!("../../../../../shelf/recording.toml"))
        .expect("shelf/recording.toml is read")
});

/// A recording must last so long.
#[must_use]
pub(super) fn shortest_s() -> f64 {
    SHELF.shortest.value.to_f64()
}

/// A recording is listened to for so long.
#[must_use]
pub(super) fn longest_s() -> f64 {
    SHELF.longest.value.to_f64()
}

/// The slowest speed that is looked for.
#[must_use]
pub(super) fn slowest_rpm() -> f64 {
    SHELF.slowest.value.to_f64()
}

/// The fastest speed that is looked for.
#[must_use]
pub(super) fn fastest_rpm() -> f64 {
    SHELF.fastest.value.to_f64()
}
