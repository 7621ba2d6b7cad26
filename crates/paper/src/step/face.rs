//! Faces of a solid of revolution, half a turn each.
//!
//! A segment is walked with the material on its left, so the way out of the solid is on its right:
//! `n = (t_y, −t_x)` for the way `t`. Turning about +x leads from y to z; seen from outside, the
//! face that starts at an edge and turns that way lies left of the edge's way.

use whirlwright_workshop::part::outline::{Arc, Point, Segment};

use super::writer::{Writer, list, number};

/// A corner of the profile, turned by nothing and by half a turn; on the axis both are one.
#[derive(Clone, Copy)]
struct Corner {
    at: Point,
    vertices: [usize; 2],
    /// The half circles from the first to the second vertex and on to the first; none on the axis.
    circles: Option<[usize; 2]>,
}

/// The closed shell that a loop sweeps, its faces looking away from the material.
pub(super) fn shell(writer: &mut Writer, border: &[Segment]) -> usize {
    // A loop of one segment would start and end in one corner: halve it.
    let halved: Vec<Segment>;
    let border = if border.len() == 1 {
        halved = vec![border[0].part(0.0, 0.5), border[0].part(0.5, 1.0)];
        &halved
    } else {
        border
    };
    let corners: Vec<Corner> = border.iter().map(|s| corner(writer, s.start())).collect();
    let mut faces = Vec::with_capacity(2 * border.len());
    for (n, segment) in border.iter().enumerate() {
        let (from, to) = (corners[n], corners[(n + 1) % corners.len()]);
        if from.at.y == 0.0 && to.at.y == 0.0 && matches!(segment, Segment::Line(..)) {
            continue;
        }
        let profiles = [0, 1].map(|half| profile(writer, segment, from, to, half));
        let (surface, same) = surface(writer, segment);
        for half in [0, 1] {
            faces.push(face(writer, from, to, profiles, half, surface, same));
        }
    }
    writer.add(format!("CLOSED_SHELL('',{})", list(&faces)))
}

/// A place of the profile, turned by so many half turns.
fn turned(p: Point, half: usize) -> [f64; 3] {
    [p.x, if half == 0 { p.y } else { -p.y }, 0.0]
}

fn corner(writer: &mut Writer, at: Point) -> Corner {
    let vertex = |writer: &mut Writer, half| {
        let point = writer.point(turned(at, half));
        writer.add(format!("VERTEX_POINT('',#{point})"))
    };
    let first = vertex(writer, 0);
    if at.y == 0.0 {
        return Corner {
            at,
            vertices: [first, first],
            circles: None,
        };
    }
    let second = vertex(writer, 1);
    let placement = writer.placement([at.x, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]);
    let circle = writer.add(format!("CIRCLE('',#{placement},{})", number(at.y)));
    let circles = [(first, second), (second, first)]
        .map(|(a, b)| writer.add(format!("EDGE_CURVE('',#{a},#{b},#{circle},.T.)")));
    Corner {
        at,
        vertices: [first, second],
        circles: Some(circles),
    }
}

/// The edge a segment makes in the plane it is drawn in, or half a turn on.
fn profile(writer: &mut Writer, segment: &Segment, from: Corner, to: Corner, half: usize) -> usize {
    let curve = curve(writer, segment, half);
    writer.add(format!(
        "EDGE_CURVE('',#{},#{},#{curve},.T.)",
        from.vertices[half], to.vertices[half]
    ))
}

fn curve(writer: &mut Writer, segment: &Segment, half: usize) -> usize {
    match *segment {
        Segment::Line(a, b) => {
            let way = b - a;
            let length = way.x.hypot(way.y);
            let at = writer.point(turned(a, half));
            let direction = writer.direction(turned(way * (1.0 / length), half));
            let vector = writer.add(format!("VECTOR('',#{direction},{})", number(length)));
            writer.add(format!("LINE('',#{at},#{vector})"))
        }
        Segment::Quad(a, b, c) => bezier(writer, &[a, b, c], half),
        Segment::Cubic(a, b, c, d) => bezier(writer, &[a, b, c, d], half),
        Segment::Arc(ref arc) => conic(writer, arc, half),
    }
}

fn bezier(writer: &mut Writer, controls: &[Point], half: usize) -> usize {
    let points: Vec<usize> = controls
        .iter()
        .map(|p| writer.point(turned(*p, half)))
        .collect();
    let degree = controls.len() - 1;
    let knots = degree + 1;
    let points = list(&points);
    writer.add(format!(
        "B_SPLINE_CURVE_WITH_KNOTS('',{degree},{points},.UNSPECIFIED.,.F.,.F.,({knots},{knots}),(0.0,1.0),.PIECEWISE_BEZIER_KNOTS.)"
    ))
}

/// The circle or ellipse of an arc, turning the way the arc is walked.
fn conic(writer: &mut Writer, arc: &Arc, half: usize) -> usize {
    let (a, b) = (arc.inward * -1.0, arc.along);
    let dot = |p: Point, q: Point| p.x * q.x + p.y * q.y;
    // The turn from the conjugate to the principal half diameters.
    let turn = match arc.circle_radius() {
        Some(_) => 0.0,
        None => 0.5 * (2.0 * dot(a, b)).atan2(dot(a, a) - dot(b, b)),
    };
    let (sin, cos) = turn.sin_cos();
    let (long, short) = (a * cos + b * sin, b * cos - a * sin);
    let (first, second) = (long.x.hypot(long.y), short.x.hypot(short.y));
    let axis = if arc.turns_left() == (half == 0) {
        1.0
    } else {
        -1.0
    };
    let from = turned(long * (1.0 / first), half);
    let placement = writer.placement(turned(arc.centre(), half), [0.0, 0.0, axis], from);
    match arc.circle_radius() {
        Some(radius) => writer.add(format!("CIRCLE('',#{placement},{})", number(radius))),
        None => writer.add(format!(
            "ELLIPSE('',#{placement},{},{})",
            number(first),
            number(second)
        )),
    }
}

/// The surface a segment sweeps, and whether its own normal looks out of the solid.
fn surface(writer: &mut Writer, segment: &Segment) -> (usize, bool) {
    let Segment::Line(a, b) = *segment else {
        let curve = curve(writer, segment, 0);
        // Turning about −x crosses the way of the curve to the outside.
        let (at, axis) = (writer.point([0.0; 3]), writer.direction([-1.0, 0.0, 0.0]));
        let axis = writer.add(format!("AXIS1_PLACEMENT('',#{at},#{axis})"));
        return (
            writer.add(format!("SURFACE_OF_REVOLUTION('',#{curve},#{axis})")),
            true,
        );
    };
    let way = b - a;
    let up = [0.0, 1.0, 0.0];
    let outward = way.x < 0.0;
    if way.x == 0.0 {
        let placement = writer.placement([a.x, 0.0, 0.0], [way.y.signum(), 0.0, 0.0], up);
        return (writer.add(format!("PLANE('',#{placement})")), true);
    }
    if way.y == 0.0 {
        let placement = writer.placement([a.x, 0.0, 0.0], [1.0, 0.0, 0.0], up);
        return (
            writer.add(format!(
                "CYLINDRICAL_SURFACE('',#{placement},{})",
                number(a.y)
            )),
            outward,
        );
    }
    // A cone opens along its axis, so the axis points where the radius grows.
    let (thin, thick) = if a.y < b.y { (a, b) } else { (b, a) };
    let opens = (thick.x - thin.x).signum();
    let angle = (thick.y - thin.y).atan2((thick.x - thin.x).abs());
    let placement = writer.placement([thin.x, 0.0, 0.0], [opens, 0.0, 0.0], up);
    let (radius, angle) = (number(thin.y), number(angle));
    (
        writer.add(format!("CONICAL_SURFACE('',#{placement},{radius},{angle})")),
        outward,
    )
}

/// One half turn of a segment's face.
fn face(
    writer: &mut Writer,
    from: Corner,
    to: Corner,
    profiles: [usize; 2],
    half: usize,
    surface: usize,
    same: bool,
) -> usize {
    let mut bound = vec![(profiles[half], true)];
    bound.extend(to.circles.map(|c| (c[half], true)));
    bound.push((profiles[1 - half], false));
    bound.extend(from.circles.map(|c| (c[half], false)));
    let flag = |yes: bool| if yes { ".T." } else { ".F." };
    let edges: Vec<usize> = bound
        .into_iter()
        .map(|(edge, forth)| writer.add(format!("ORIENTED_EDGE('',*,*,#{edge},{})", flag(forth))))
        .collect();
    let edges = writer.add(format!("EDGE_LOOP('',{})", list(&edges)));
    let bound = writer.add(format!("FACE_OUTER_BOUND('',#{edges},.T.)"));
    writer.add(format!(
        "ADVANCED_FACE('',(#{bound}),#{surface},{})",
        flag(same)
    ))
}
