//! The `[[piece.feature]]` blocks: holes, pockets, lumps.

use whirlwright_workshop::part::Dimension::{Angle, Density, Length, Mass};
use whirlwright_workshop::part::job::{Feature, FeatureShape, FeatureWeight};
use whirlwright_workshop::shelf;

use super::block::{Block, Faults};

/// What a feature is.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Hole,
    Pocket,
    Lump,
}

/// Its form.
#[derive(Clone, Copy)]
enum Form {
    Axial,
    Radial,
    Sector,
    Box,
    Ball,
    Point,
}

/// Reads one feature.
pub(super) fn feature(block: Block<'_>, faults: &Faults) -> Option<Feature> {
    const MOST: u32 = 360;
    let kinds = [
        ("hole", Kind::Hole),
        ("pocket", Kind::Pocket),
        ("lump", Kind::Lump),
    ];
    if !block.has("kind") {
        faults.missing(
            block.span.clone(),
            format!(
                "{} has no `kind`; one of hole, pocket, lump was expected",
                block.name
            ),
        );
    }
    let kind = block.choice("kind", &kinds);
    let name = block.text("name").map(|s| s.text.to_owned());
    let count = if block.has("count") {
        block.whole("count", 1, MOST)
    } else {
        Some(1)
    };
    let _ = block.value("count");
    let shape = kind
        .and_then(|kind| form(&block, kind, faults))
        .and_then(|form| shape(&block, form));
    let weight = kind.and_then(|kind| weight(&block, kind, faults));
    if kind.is_some() {
        block.finish();
    }
    let kind = kind?;
    let word = kinds
        .iter()
        .find(|(_, k)| *k == kind)
        .map_or("feature", |(word, _)| word);
    let name = name.unwrap_or_else(|| word.to_owned());
    Some(Feature {
        name,
        shape: shape?,
        count: count?,
        weight: weight?,
    })
}

fn form(block: &Block<'_>, kind: Kind, faults: &Faults) -> Option<Form> {
    let (key, words): (&str, &[(&str, Form)]) = match kind {
        Kind::Hole => (
            "direction",
            &[("axial", Form::Axial), ("radial", Form::Radial)],
        ),
        Kind::Pocket => ("shape", &[("sector", Form::Sector), ("box", Form::Box)]),
        Kind::Lump => (
            "shape",
            &[
                ("point", Form::Point),
                ("ball", Form::Ball),
                ("box", Form::Box),
                ("sector", Form::Sector),
                ("axial", Form::Axial),
                ("radial", Form::Radial),
            ],
        ),
    };
    if !block.has(key) {
        let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        faults.missing(
            block.span.clone(),
            format!(
                "{} has no `{key}`; one of {} was expected",
                block.name,
                list.join(", ")
            ),
        );
    }
    // The key must be a constant for the list of known keys.
    if key == "direction" {
        block.choice("direction", words)
    } else {
        block.choice("shape", words)
    }
}

fn shape(block: &Block<'_>, form: Form) -> Option<FeatureShape> {
    let angle_deg = || {
        if block.has("angle") {
            block.needed("angle", Angle)
        } else {
            block.value("angle").map_or(Some(0.0), |_| None)
        }
    };
    let size = |key| {
        let present = block.has(key);
        if present {
            block.positive(key, Length).map(|(q, _)| q.value)
        } else {
            block.needed(key, Length)
        }
    };
    let range = |low, high| {
        let (low, high) = (block.needed(low, Length), block.needed(high, Length));
        Some((low?, high?))
    };
    match form {
        Form::Axial => {
            let (d, r, a, x) = (
                size("diameter"),
                block.needed("radius", Length),
                angle_deg(),
                range("x_from", "x_to"),
            );
            Some(FeatureShape::AxialCylinder {
                diameter_mm: d?,
                radius_mm: r?,
                angle_deg: a?,
                x_mm: x?,
            })
        }
        Form::Radial => {
            let (d, x, a, r) = (
                size("diameter"),
                block.needed("x", Length),
                angle_deg(),
                range("radius_from", "radius_to"),
            );
            Some(FeatureShape::RadialCylinder {
                diameter_mm: d?,
                x_mm: x?,
                angle_deg: a?,
                radius_mm: r?,
            })
        }
        Form::Sector => {
            let (r, x, a) = (
                range("radius_from", "radius_to"),
                range("x_from", "x_to"),
                angle_deg(),
            );
            let span_deg = block.needed("span", Angle).map(|s| s.clamp(0.0, 360.0));
            Some(FeatureShape::RingSector {
                radius_mm: r?,
                x_mm: x?,
                angle_deg: a?,
                span_deg: span_deg?,
            })
        }
        Form::Box => {
            let (x, r, w, a) = (
                range("x_from", "x_to"),
                range("radius_from", "radius_to"),
                size("width"),
                angle_deg(),
            );
            Some(FeatureShape::Box {
                x_mm: x?,
                radius_mm: r?,
                width_mm: w?,
                angle_deg: a?,
            })
        }
        Form::Ball => {
            let (d, x, r, a) = (
                size("diameter"),
                block.needed("x", Length),
                block.needed("radius", Length),
                angle_deg(),
            );
            Some(FeatureShape::Ball {
                diameter_mm: d?,
                x_mm: x?,
                radius_mm: r?,
                angle_deg: a?,
            })
        }
        Form::Point => {
            let (x, r, a) = (
                block.needed("x", Length),
                block.needed("radius", Length),
                angle_deg(),
            );
            Some(FeatureShape::Point {
                x_mm: x?,
                radius_mm: r?,
                angle_deg: a?,
            })
        }
    }
}

/// Holes and pockets take the piece's material away; lumps add a mass, a density or a material.
fn weight(block: &Block<'_>, kind: Kind, faults: &Faults) -> Option<FeatureWeight> {
    if kind != Kind::Lump {
        return Some(FeatureWeight::Removed);
    }
    let mass = block.positive("mass", Mass);
    let density = block.positive("density", Density);
    let material = block.text("material");
    let said = [
        block.has("mass"),
        block.has("density"),
        block.has("material"),
    ];
    if said.iter().filter(|s| **s).count() != 1 {
        faults.missing(
            block.span.clone(),
            format!(
                "{}: one of `mass`, `density`, `material` was expected for a lump",
                block.name
            ),
        );
        return None;
    }
    if let Some(said) = material {
        let found = shelf::material(said.text);
        if found.is_none() {
            faults.add(
                said.span,
                format!(
                    "`{}` is not a material of the shelf; give a density",
                    said.text
                ),
            );
        }
        return found.map(|m| FeatureWeight::AddedDensity(m.density_g_cm3));
    }
    let mass = mass.map(|(q, _)| FeatureWeight::AddedMass(q.value));
    mass.or(density.map(|(q, _)| FeatureWeight::AddedDensity(q.value)))
}
