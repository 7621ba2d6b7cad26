//! Polar plots and views of the rim made up for the tests and the samples.

use whirlwright_paper::picture::{CutWork, Edge, Polar, RimView, Stands, Turn, Vector, Work};
use whirlwright_workshop::part::job::FeatureShape;

fn vector(stands: Stands, label: &str, size: f64, angle_deg: f64, within: f64) -> Vector {
    Vector {
        stands,
        label: label.to_owned(),
        size,
        angle_deg,
        within: (within > 0.0).then_some(within),
    }
}

/// Two planes: one with a limit near what was found, one with a limit far below it.
pub fn planes() -> Vec<Polar> {
    let plane = |heading: &str, grows, found: f64, at: f64, limit| Polar {
        heading: heading.to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "scribed line".to_owned(),
        unit: "g·mm".to_owned(),
        grows,
        spins: Some(Turn::Counterclockwise),
        limit: Some(limit),
        vectors: vec![
            vector(Stands::Reading, "reading", found * 1.02, at + 1.5, 0.0),
            vector(Stands::Reading, "reading", found * 0.97, at - 2.0, 0.0),
            vector(Stands::Found, "found", found, at, found * 0.03),
            vector(
                Stands::Correction,
                "the holes act as",
                found * 0.96,
                at + 181.0,
                0.0,
            ),
            vector(
                Stands::Left,
                "left after it",
                found * 0.045,
                at + 70.0,
                found * 0.03,
            ),
        ],
    };
    vec![
        plane("Left plane", Turn::Clockwise, 0.62, 236.2, 0.38),
        plane("Right plane", Turn::Counterclockwise, 2.9, 121.8, 0.38),
    ]
}

/// One plane without a limit.
pub fn single() -> Vec<Polar> {
    let mut planes = planes();
    planes.truncate(1);
    planes[0].limit = None;
    planes
}

fn shapes() -> [FeatureShape; 4] {
    [
        FeatureShape::AxialCylinder {
            diameter_mm: 2.0,
            radius_mm: 26.5,
            angle_deg: 225.0,
            x_mm: (-21.5, -18.3),
        },
        FeatureShape::AxialCylinder {
            diameter_mm: 1.5,
            radius_mm: 26.5,
            angle_deg: 255.0,
            x_mm: (-21.5, -19.1),
        },
        FeatureShape::RingSector {
            radius_mm: (26.0, 28.0),
            x_mm: (-21.5, -20.5),
            angle_deg: 40.0,
            span_deg: 24.0,
        },
        FeatureShape::RadialCylinder {
            diameter_mm: 2.0,
            x_mm: -17.5,
            angle_deg: 130.0,
            radius_mm: (25.0, 29.0),
        },
    ]
}

/// A rim with two holes, a pocket and a pin.
pub fn rim() -> RimView {
    let works = shapes().into_iter().enumerate().map(|(n, shape)| Work {
        number: n + 1,
        shape,
        comes_off: n != 3,
        words: [
            "drill Ø 2.0 mm, 3.2 mm deep, at 225°, radius 26.50 mm",
            "drill Ø 1.5 mm, 2.4 mm deep, at 255°, radius 26.50 mm",
            "mill a pocket 2 mm wide and 1 mm deep over 24°, its middle at 40°",
            "press in a steel pin of 2 mm at 130°",
        ][n]
            .to_owned(),
    });
    let edge = |radius_mm, what: &str| Edge {
        radius_mm,
        what: what.to_owned(),
    };
    RimView {
        heading: "Left rim".to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "scribed line".to_owned(),
        grows: Turn::Clockwise,
        edges: vec![edge(29.0, "rim"), edge(24.0, "rim"), edge(5.3, "hub")],
        places: Some((26.5, 24, 0.0)),
        works: works.collect(),
    }
}

/// The same works in the cut.
pub fn cuts() -> Vec<CutWork> {
    let cut = |n: usize, words: &str| CutWork {
        heading: format!("Number {}", n + 1),
        outline: "M -13.5 24 L -21.5 24 L -21.5 29 L -13.5 29 Z".to_owned(),
        shape: shapes()[n],
        words: words.to_owned(),
    };
    vec![
        cut(0, "hole 3.20 mm deep, wall 4.80 mm left"),
        cut(1, "hole 2.40 mm deep, wall 5.60 mm left"),
        cut(2, "pocket 1.00 mm deep, wall 1.00 mm left"),
        cut(3, "pin of steel"),
    ]
}
