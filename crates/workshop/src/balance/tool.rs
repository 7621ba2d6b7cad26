//! What a tool takes away: true mass and true centre of a hole in the actual section, its point counted.
//!
//! The volume is cut into lines along the tool's axis: along each the material of the section is known
//! exactly (where the line meets the border), the tool's bottom too; only the sum over the hole's circle is
//! done by Gauss's rule.

use std::f64::consts::PI;

use whirlwright_kit::gauss::legendre;
use whirlwright_kit::revolve::{Run, runs};

use super::given::{Refusal, WorkSection};
use super::wall::wall_left;
use crate::part::job::Side;

/// cm³ in one mm³.
const CUBIC_CM: f64 = 1e-3;
/// Places along the radius of a hole, in each of its two halves, and round half its circle, in each quarter.
/// A hole into a plane or round face is met to a part in 10¹⁰; corners in the section cost some digits.
const ALONG: usize = 12;

/// What one setting of a tool does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Removed {
    pub diameter_mm: f64,
    pub depth_mm: f64,
    /// How much deeper the point goes.
    pub point_mm: f64,
    pub mass_g: f64,
    /// Centre of what is taken away: distance from the axle, and along it.
    pub centre_radius_mm: f64,
    pub centre_x_mm: f64,
    /// Where the tool enters: distance from the axle, and along it.
    pub mouth_radius_mm: f64,
    pub mouth_x_mm: f64,
    pub wall_mm: f64,
}

/// How a hole lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Lie {
    /// Along the axle, at this distance from it.
    Axial(f64),
    /// Towards the axle, at this place along it.
    Radial(f64),
}

/// A line along the tool's axis.
struct Line {
    /// Its share of the circle, mm².
    weight: f64,
    /// Its distance from the hole's axis.
    off: f64,
    /// Its offset in the plane of the section (from the axle, or along it).
    place: f64,
    /// Where it is in material: along the tool's way out of the part, growing.
    material: Vec<(f64, f64)>,
}

/// A hole of one diameter at one place, ready for any depth.
pub(super) struct Bore<'a> {
    section: &'a WorkSection,
    lie: Lie,
    diameter: f64,
    /// Tangent of half the point's angle; infinite for a flat end.
    slope: f64,
    /// 1 where the tool comes from growing x (or from outside), −1 from the other end.
    way: f64,
    mouth: f64,
    /// The border's segment the tool enters by.
    entry: Option<(usize, usize)>,
    lines: Vec<Line>,
}

impl<'a> Bore<'a> {
    /// A hole of a diameter into a section.
    pub(super) fn new(
        section: &'a WorkSection,
        lie: Lie,
        diameter: f64,
        point_angle_deg: f64,
    ) -> Result<Self, Refusal> {
        let runs = runs(&section.loops);
        let way = match (lie, section.side) {
            (Lie::Axial(_), Side::Left) => -1.0,
            _ => 1.0,
        };
        let (axis, words) = match lie {
            Lie::Axial(radius) => (
                across_at_radius(&runs, radius),
                format!("radius {radius} mm"),
            ),
            Lie::Radial(x) => (across_at_x(&runs, x), format!("x = {x} mm")),
        };
        let last = axis
            .iter()
            .max_by(|a, b| (way * a.0).total_cmp(&(way * b.0)));
        let Some(&(mouth, entry)) = last else {
            return Err(Refusal::Work {
                what: format!(
                    "there is nothing of `{}` at {words} to drill into: move the hole into the section",
                    section.piece
                ),
            });
        };
        let half = 0.5 * point_angle_deg.to_radians();
        let mut bore = Self {
            section,
            lie,
            diameter,
            slope: if point_angle_deg >= 180.0 {
                f64::INFINITY
            } else {
                half.tan()
            },
            way,
            mouth: way * mouth,
            entry: Some(entry),
            lines: Vec::new(),
        };
        bore.lines = bore.lines_of(&runs);
        Ok(bore)
    }

    /// Lines over the hole's circle; the two halves across the section mirror each other.
    fn lines_of(&self, runs: &[Run]) -> Vec<Line> {
        let rule = legendre(ALONG);
        let a = 0.5 * self.diameter;
        let mut out = Vec::with_capacity(16 * ALONG * ALONG);
        for ring in 0..2 {
            for quarter in 0..4 {
                for (s, ws) in &rule {
                    for (t, wt) in &rule {
                        let off = 0.5 * a * (f64::from(ring) + 0.5 * (s + 1.0));
                        let angle = PI * (f64::from(quarter) + 0.5 * (t + 1.0)) / 4.0;
                        // Half a circle, counted twice.
                        let weight = 2.0 * ws * wt * off * (0.25 * a) * (PI / 8.0);
                        out.push(self.line(runs, off, angle, weight));
                    }
                }
            }
        }
        out
    }

    fn line(&self, runs: &[Run], off: f64, angle: f64, weight: f64) -> Line {
        let (across, place) = (off * angle.sin(), off * angle.cos());
        let pairs = |places: Vec<f64>, along: &dyn Fn(f64) -> f64| {
            let mut places: Vec<f64> = places.into_iter().map(along).collect();
            places.sort_by(f64::total_cmp);
            places.chunks_exact(2).map(|p| (p[0], p[1])).collect()
        };
        let (place, material) = match self.lie {
            Lie::Axial(radius) => {
                let y = radius + place;
                let met = across_at_radius(runs, y.hypot(across));
                let met = met.into_iter().map(|(x, _)| x).collect();
                (y, pairs(met, &|x| self.way * x))
            }
            Lie::Radial(x) => {
                let x = x + place;
                let met = across_at_x(runs, x).into_iter().map(|(r, _)| r).collect();
                let up = |r: f64| (r * r - across * across).max(0.0).sqrt();
                (x, pairs(met, &up))
            }
        };
        Line {
            weight,
            off,
            place,
            material,
        }
    }

    /// What is taken away at a depth (of the full diameter, from the mouth).
    pub(super) fn at(&self, depth: f64) -> Removed {
        let a = 0.5 * self.diameter;
        let floor = self.mouth - depth;
        let (mut volume, mut along, mut across) = (0.0, 0.0, 0.0);
        for line in &self.lines {
            let bottom = floor - (a - line.off) / self.slope;
            for &(low, high) in &line.material {
                let low = low.max(bottom);
                if high > low {
                    let part = line.weight * (high - low);
                    volume += part;
                    along += part * 0.5 * (high + low);
                    across += part * line.place;
                }
            }
        }
        let (along, across) = if volume > 0.0 {
            (along / volume, across / volume)
        } else {
            (floor, 0.0)
        };
        let (centre_radius_mm, centre_x_mm, mouth_radius_mm, mouth_x_mm) = match self.lie {
            Lie::Axial(radius) => (across, self.way * along, radius, self.way * self.mouth),
            Lie::Radial(x) => (along, across, self.mouth, x),
        };
        Removed {
            diameter_mm: self.diameter,
            depth_mm: depth,
            point_mm: a / self.slope,
            mass_g: volume * self.section.density_g_cm3 * CUBIC_CM,
            centre_radius_mm,
            centre_x_mm,
            mouth_radius_mm,
            mouth_x_mm,
            wall_mm: self.wall(depth),
        }
    }

    /// The thinnest wall round the hole: its outline in the plane of the section against the border, but for
    /// the face it enters by. Away from that plane the hole is nowhere nearer.
    fn wall(&self, depth: f64) -> f64 {
        let a = 0.5 * self.diameter;
        let (floor, tip) = (self.mouth - depth, self.mouth - depth - a / self.slope);
        let place = |across: f64, along: f64| match self.lie {
            Lie::Axial(radius) => (self.way * along, radius + across),
            Lie::Radial(x) => (x + across, along),
        };
        let outline = [
            place(-a, self.mouth),
            place(-a, floor),
            place(0.0, tip),
            place(a, floor),
            place(a, self.mouth),
        ];
        wall_left(&self.section.loops, self.entry, &outline)
    }
}

/// Where the border stands at a radius: x, with the segment (loop, number) it belongs to.
fn across_at_radius(runs: &[Run], radius: f64) -> Vec<(f64, (usize, usize))> {
    runs.iter()
        .filter(|r| r.bounds.low.y <= radius && radius < r.bounds.high.y)
        .map(|r| (r.place_at(radius), (r.in_loop, r.of)))
        .collect()
}

/// Where the border stands at a place along the axle: radius, with its segment.
fn across_at_x(runs: &[Run], x: f64) -> Vec<(f64, (usize, usize))> {
    runs.iter()
        .filter(|r| r.bounds.low.x <= x && x < r.bounds.high.x)
        .map(|r| (r.height_at(x), (r.in_loop, r.of)))
        .collect()
}

/// A pocket milled into the outside: `width` along the axle round `x`, `span` radians, `depth` below the
/// outside at its middle. The rounding its cutter leaves at both ends is not counted.
pub(super) fn pocket(
    section: &WorkSection,
    width: f64,
    x: f64,
    span: f64,
    depth: f64,
) -> Result<Removed, Refusal> {
    let runs = runs(&section.loops);
    let middle = across_at_x(&runs, x);
    let outer = middle.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    let Some(&(mouth, entry)) = outer else {
        return Err(Refusal::Work {
            what: format!(
                "there is nothing of `{}` at x = {x} mm to mill: move the pocket into the section",
                section.piece
            ),
        });
    };
    let floor = mouth - depth;
    let (mut squares, mut cubes, mut along) = (0.0, 0.0, 0.0);
    for (place, weight) in legendre(2 * ALONG) {
        let at = x + 0.5 * width * place;
        let mut met: Vec<f64> = across_at_x(&runs, at).into_iter().map(|(r, _)| r).collect();
        met.sort_by(f64::total_cmp);
        for pair in met.chunks_exact(2) {
            let (low, high) = (pair[0].max(floor), pair[1]);
            if high > low {
                let weight = 0.5 * width * weight;
                let square = weight * 0.5 * (high * high - low * low);
                squares += square;
                along += square * at;
                cubes += weight * (high.powi(3) - low.powi(3)) / 3.0;
            }
        }
    }
    let chord = 2.0 * (0.5 * span).sin();
    let half = 0.5 * width;
    let outline = [
        (x - half, mouth),
        (x - half, floor),
        (x + half, floor),
        (x + half, mouth),
    ];
    let over = |sum: f64, by: f64| if by > 0.0 { sum / by } else { 0.0 };
    Ok(Removed {
        diameter_mm: width,
        depth_mm: depth,
        point_mm: 0.0,
        mass_g: span * squares * section.density_g_cm3 * CUBIC_CM,
        centre_radius_mm: over(chord * cubes, span * squares),
        centre_x_mm: over(along, squares),
        mouth_radius_mm: mouth,
        mouth_x_mm: x,
        wall_mm: wall_left(&section.loops, Some(entry), &outline),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::Outline;

    fn ring(outline: &str, side: Side) -> WorkSection {
        let read = Outline::read(outline).unwrap();
        let loops: Vec<_> = read.loops.iter().map(|l| l.segments.clone()).collect();
        WorkSection {
            piece: "rim".to_owned(),
            side,
            density_g_cm3: 2.70,
            why: "as the case says".to_owned(),
            loops: whirlwright_kit::revolve::oriented(&loops),
        }
    }

    const CHAMFERED: &str = "M 13.5 24 H 21.5 V 28 L 20.5 29 H 13.5 Z";

    #[test]
    fn twin_holes_against_a_count_of_small_boxes() {
        let table: toml::Table = include_str!("../../../../validation/balance/holes.toml")
            .parse()
            .unwrap();
        let section = ring(CHAMFERED, Side::Right);
        for case in table["case"].as_array().unwrap() {
            let text = |key: &str| case["inputs"][key].as_str().unwrap();
            let number = |key: &str| text(key).parse::<f64>().unwrap();
            let at = number("at_mm");
            let lie = if text("kind") == "axial" {
                Lie::Axial(at)
            } else {
                Lie::Radial(at)
            };
            let bore = Bore::new(&section, lie, number("diameter_mm"), number("point_deg"));
            let found = bore.unwrap().at(number("depth_mm"));
            let share: f64 = case["tolerance"].as_str().unwrap().parse().unwrap();
            for (key, ours) in [
                ("mass_g", found.mass_g),
                ("radius_mm", found.centre_radius_mm),
                ("x_mm", found.centre_x_mm),
            ] {
                let printed: f64 = case["value"][key].as_str().unwrap().parse().unwrap();
                assert!(
                    (ours - printed).abs() <= share * printed,
                    "{} {key}: {ours} against {printed}",
                    case["name"]
                );
            }
        }
    }

    #[test]
    fn closed_form_a_flat_face_gives_cylinder_and_cone() {
        let section = ring("M 13.5 24 H 21.5 V 29 H 13.5 Z", Side::Right);
        let (a, depth) = (1.0f64, 3.0);
        let bore = Bore::new(&section, Lie::Axial(26.5), 2.0 * a, 118.0).unwrap();
        let found = bore.at(depth);
        let point = a / 59f64.to_radians().tan();
        let (cylinder, cone) = (PI * a * a * depth, PI * a * a * point / 3.0);
        let mass = (cylinder + cone) * 2.70e-3;
        let x = 21.5 - (cylinder * 0.5 * depth + cone * (depth + 0.25 * point)) / (cylinder + cone);
        // Sums of a thousand roundings; every line is a polynomial that the rule meets.
        assert!((found.mass_g / mass - 1.0).abs() < 1e-11, "{found:?}");
        assert!((found.centre_radius_mm - 26.5).abs() < 1e-10);
        assert!((found.centre_x_mm - x).abs() < 1e-10);
        // Walls: 1.5 mm to the bore and to the outside, 8 − 3 − point mm below.
        assert!((found.wall_mm - 1.5).abs() < 1e-12, "{}", found.wall_mm);
    }

    #[test]
    fn law_the_left_side_is_the_right_one_in_a_mirror() {
        let right = ring(CHAMFERED, Side::Right);
        let left = ring("M -13.5 24 H -21.5 V 28 L -20.5 29 H -13.5 Z", Side::Left);
        for radius in [25.5, 27.2] {
            let one = Bore::new(&right, Lie::Axial(radius), 2.0, 118.0)
                .unwrap()
                .at(2.5);
            let two = Bore::new(&left, Lie::Axial(radius), 2.0, 118.0)
                .unwrap()
                .at(2.5);
            // Roundings of sums over a thousand lines.
            assert!((one.mass_g / two.mass_g - 1.0).abs() < 1e-12);
            assert!((one.centre_x_mm + two.centre_x_mm).abs() < 1e-11);
            assert!((one.wall_mm - two.wall_mm).abs() < 1e-11);
        }
    }

    #[test]
    fn closed_form_a_pocket_of_the_whole_turn_is_a_ring() {
        let section = ring("M 13.5 24 H 21.5 V 29 H 13.5 Z", Side::Right);
        let found = pocket(&section, 3.0, 17.0, 2.0 * PI, 1.5).unwrap();
        let mass = PI * (29f64.powi(2) - 27.5f64.powi(2)) * 3.0 * 2.70e-3;
        assert!((found.mass_g / mass - 1.0).abs() < 1e-12);
        // A whole turn has its centre on the axle, but for a rounding of sin pi.
        assert!(found.centre_radius_mm.abs() < 1e-12);
        // 2 mm to the inner face; 3.5 mm are left under it.
        assert!((found.wall_mm - 2.0).abs() < 1e-12);
    }
}
