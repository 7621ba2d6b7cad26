//! Hatching: the parallel lines by which a cut shows its material.

use kurbo::{Affine, BezPath, Point, flatten};

/// How one material is hatched.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hatch {
    /// Angle of the lines from the horizontal, in degrees.
    pub angle_deg: f64,
    /// Distance of the lines.
    pub spacing: f64,
}

/// Hatches told apart by angle and spacing; they repeat after the sixth, where labels must tell.
#[must_use]
pub fn of_category(n: usize) -> Hatch {
    let (angle_deg, spacing) = [
        (45.0, 7.0),
        (135.0, 7.0),
        (45.0, 4.0),
        (90.0, 5.0),
        (0.0, 5.0),
        (135.0, 4.0),
    ][n % 6];
    Hatch { angle_deg, spacing }
}

/// The pieces of parallel lines that lie inside an outline (inside by the even-odd rule).
#[must_use]
pub fn lines(outline: &BezPath, hatch: Hatch) -> BezPath {
    let mut path = BezPath::new();
    // Turned so that the lines lie level; half a spacing of offset keeps them off the corners.
    let turn = Affine::rotate(-hatch.angle_deg.to_radians());
    let back = turn.inverse();
    let edges = edges(&(turn * outline));
    let Some((low, high)) = extent(&edges) else {
        return path;
    };
    if hatch.spacing.is_nan() || hatch.spacing <= 0.0 {
        return path;
    }
    let first = (low / hatch.spacing).floor() as i64;
    let last = (high / hatch.spacing).ceil() as i64;
    for n in first..=last {
        let y = (n as f64 + 0.5) * hatch.spacing;
        let mut crossings: Vec<f64> = edges.iter().filter_map(|edge| crossing(*edge, y)).collect();
        crossings.sort_by(f64::total_cmp);
        for ends in crossings.chunks_exact(2) {
            path.move_to(back * Point::new(ends[0], y));
            path.line_to(back * Point::new(ends[1], y));
        }
    }
    path
}

fn edges(outline: &BezPath) -> Vec<(Point, Point)> {
    let mut edges = Vec::new();
    let (mut start, mut here) = (Point::ORIGIN, Point::ORIGIN);
    flatten(outline, 0.1, |element| match element {
        kurbo::PathEl::MoveTo(p) => (start, here) = (p, p),
        kurbo::PathEl::LineTo(p) => {
            edges.push((here, p));
            here = p;
        }
        kurbo::PathEl::ClosePath => {
            edges.push((here, start));
            here = start;
        }
        // Flattening leaves no curves.
        kurbo::PathEl::QuadTo(..) | kurbo::PathEl::CurveTo(..) => {}
    });
    edges
}

fn extent(edges: &[(Point, Point)]) -> Option<(f64, f64)> {
    let heights = || {
        edges
            .iter()
            .flat_map(|(a, b)| [a.y, b.y])
            .filter(|y| y.is_finite())
    };
    let low = heights().reduce(f64::min)?;
    let high = heights().reduce(f64::max)?;
    Some((low, high))
}

/// Where an edge crosses a level line; the lower end counts, the upper does not, so that a corner
/// on the line is counted once.
fn crossing((a, b): (Point, Point), y: f64) -> Option<f64> {
    ((a.y <= y) != (b.y <= y)).then(|| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Circle, PathEl, Rect, Shape};

    fn length(path: &BezPath) -> f64 {
        path.segments()
            .map(|s| kurbo::ParamCurveArclen::arclen(&s, 1e-6))
            .sum()
    }

    #[test]
    fn closed_form_hatching_a_rectangle_covers_it_evenly() {
        let outline = Rect::new(0.0, 0.0, 100.0, 30.0).to_path(0.1);
        let level = lines(
            &outline,
            Hatch {
                angle_deg: 0.0,
                spacing: 5.0,
            },
        );
        // Six whole lines of 100 at y = 2.5, 7.5 … 27.5.
        assert!((length(&level) - 600.0).abs() < 1e-9, "{}", length(&level));
    }

    #[test]
    fn law_a_hole_stays_free() {
        let mut outline = Circle::new((0.0, 0.0), 50.0).to_path(0.01);
        outline.extend(Circle::new((0.0, 0.0), 40.0).to_path(0.01));
        for angle_deg in [0.0, 45.0, 90.0, 135.0] {
            let path = lines(
                &outline,
                Hatch {
                    angle_deg,
                    spacing: 4.0,
                },
            );
            assert!(path.elements().len() > 20);
            for segment in path.segments() {
                let middle = kurbo::ParamCurve::eval(&segment, 0.5).to_vec2().hypot();
                assert!(middle > 39.0 && middle < 50.1, "{angle_deg}: {middle}");
            }
        }
    }

    #[test]
    fn law_nothing_and_nonsense_give_no_lines() {
        assert_eq!(lines(&BezPath::new(), of_category(0)).elements().len(), 0);
        let far = Circle::new((f64::NAN, 0.0), 5.0).to_path(0.1);
        let drawn = lines(&far, of_category(1));
        assert!(
            drawn
                .elements()
                .iter()
                .all(|e| !matches!(e, PathEl::CurveTo(..)))
        );
    }
}
