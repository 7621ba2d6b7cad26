//! Holes, pockets and lumps: what is not round about the axle, with its full tensor.

use crate::part::MassProperties;
use crate::part::job::{Feature, FeatureShape, FeatureWeight};
use crate::part::mass_properties::Tensor;

/// cm³ in one mm³.
const CUBIC_CM: f64 = 1e-3;

/// A feature as a body of its own (negative where it takes material away), and its volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FeatureBody {
    /// Mass properties of all its repetitions together.
    pub mass: MassProperties,
    /// Volume added (or, negative, taken away), in mm³.
    pub volume_mm3: f64,
}

/// Volume, centre (along the axle, upward) and second moments per volume about that centre, of
/// the shape standing at angle 0.
struct Solid {
    volume_mm3: f64,
    x_mm: f64,
    y_mm: f64,
    /// `∫ (x − x̄)² dV / V` and the same for y and z; the shapes are symmetric, so there are no
    /// products.
    spread_mm2: [f64; 3],
}

/// The body of a feature of a piece of the given density.
pub(super) fn body(feature: &Feature, density_g_cm3: f64) -> FeatureBody {
    let (solid, angle_deg) = solid(&feature.shape);
    let density = |g_cm3: f64| solid.volume_mm3 * g_cm3 * CUBIC_CM;
    let (mass_g, sign) = match feature.weight {
        FeatureWeight::Removed => (density(density_g_cm3), -1.0),
        FeatureWeight::AddedDensity(own) => (density(own), 1.0),
        FeatureWeight::AddedMass(mass_g) => (mass_g, 1.0),
    };
    let [sx, sy, sz] = solid.spread_mm2;
    let one = MassProperties {
        mass_g,
        centre_mm: [solid.x_mm, solid.y_mm, 0.0],
        inertia_g_mm2: Tensor {
            xx: mass_g * (sy + sz),
            yy: mass_g * (sx + sz),
            zz: mass_g * (sx + sy),
            ..Tensor::default()
        },
    };
    let one = if sign < 0.0 { one.taken_away() } else { one };
    let count = feature.count.max(1);
    let turn = |n: u32| (angle_deg + 360.0 * f64::from(n) / f64::from(count)).to_radians();
    let all: Vec<MassProperties> = (0..count).map(|n| one.turned(turn(n))).collect();
    let volume_mm3 = sign * solid.volume_mm3 * f64::from(count);
    FeatureBody {
        mass: MassProperties::sum(&all),
        volume_mm3,
    }
}

/// The middle of a feature: along the axle and as radius.
pub(super) fn middle_mm(shape: &FeatureShape) -> (f64, f64) {
    let (solid, _) = solid(shape);
    (solid.x_mm, solid.y_mm)
}

fn solid(shape: &FeatureShape) -> (Solid, f64) {
    match *shape {
        FeatureShape::AxialCylinder {
            diameter_mm,
            radius_mm,
            angle_deg,
            x_mm,
        } => {
            let (length, round) = (span(x_mm), diameter_mm * diameter_mm / 16.0);
            let volume_mm3 = std::f64::consts::PI * diameter_mm * diameter_mm / 4.0 * length;
            let spread_mm2 = [length * length / 12.0, round, round];
            (
                Solid {
                    volume_mm3,
                    x_mm: middle(x_mm),
                    y_mm: radius_mm,
                    spread_mm2,
                },
                angle_deg,
            )
        }
        FeatureShape::RadialCylinder {
            diameter_mm,
            x_mm,
            angle_deg,
            radius_mm,
        } => {
            let (length, round) = (span(radius_mm), diameter_mm * diameter_mm / 16.0);
            let volume_mm3 = std::f64::consts::PI * diameter_mm * diameter_mm / 4.0 * length;
            let spread_mm2 = [round, length * length / 12.0, round];
            (
                Solid {
                    volume_mm3,
                    x_mm,
                    y_mm: middle(radius_mm),
                    spread_mm2,
                },
                angle_deg,
            )
        }
        FeatureShape::RingSector {
            radius_mm,
            x_mm,
            angle_deg,
            span_deg,
        } => (sector(radius_mm, x_mm, span_deg.to_radians()), angle_deg),
        FeatureShape::Box {
            x_mm,
            radius_mm,
            width_mm,
            angle_deg,
        } => {
            let sides = [span(x_mm), span(radius_mm), width_mm];
            let spread_mm2 = sides.map(|side| side * side / 12.0);
            let volume_mm3 = sides.iter().product();
            let (x_mm, y_mm) = (middle(x_mm), middle(radius_mm));
            (
                Solid {
                    volume_mm3,
                    x_mm,
                    y_mm,
                    spread_mm2,
                },
                angle_deg,
            )
        }
        FeatureShape::Ball {
            diameter_mm,
            x_mm,
            radius_mm,
            angle_deg,
        } => {
            let volume_mm3 = std::f64::consts::PI * diameter_mm.powi(3) / 6.0;
            let spread_mm2 = [diameter_mm * diameter_mm / 20.0; 3];
            (
                Solid {
                    volume_mm3,
                    x_mm,
                    y_mm: radius_mm,
                    spread_mm2,
                },
                angle_deg,
            )
        }
        FeatureShape::Point {
            x_mm,
            radius_mm,
            angle_deg,
        } => {
            let spread_mm2 = [0.0; 3];
            (
                Solid {
                    volume_mm3: 0.0,
                    x_mm,
                    y_mm: radius_mm,
                    spread_mm2,
                },
                angle_deg,
            )
        }
    }
}

fn span((a, b): (f64, f64)) -> f64 {
    (b - a).abs()
}

fn middle((a, b): (f64, f64)) -> f64 {
    0.5 * (a + b)
}

/// A sector of a ring, `angle` radians wide, its middle upward.
fn sector(radius_mm: (f64, f64), x_mm: (f64, f64), angle: f64) -> Solid {
    let (inner, outer) = (radius_mm.0.min(radius_mm.1), radius_mm.0.max(radius_mm.1));
    let length = span(x_mm);
    let squares = inner * inner + outer * outer;
    let volume_mm3 = 0.5 * angle * (outer - inner) * (outer + inner) * length;
    // sin(a)/a of the half and the whole angle; 1 for a sector of no width.
    let ratio = |a: f64| if a == 0.0 { 1.0 } else { a.sin() / a };
    let mean_radius = 2.0 / 3.0 * (squares + inner * outer) / (inner + outer);
    let y_mm = mean_radius * ratio(0.5 * angle);
    let (along, across) = (
        0.25 * squares * (1.0 + ratio(angle)),
        0.25 * squares * (1.0 - ratio(angle)),
    );
    let spread_mm2 = [length * length / 12.0, along - y_mm * y_mm, across];
    Solid {
        volume_mm3,
        x_mm: middle(x_mm),
        y_mm,
        spread_mm2,
    }
}
