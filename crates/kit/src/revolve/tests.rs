//! Solids of known moments, and laws that must hold for every outline.

use std::f64::consts::PI;

use proptest::prelude::*;

use super::*;

/// Roundings of the boundary sums: a few hundred at one part in 2^53 each.
const ROUNDING: f64 = 200.0 * f64::EPSILON;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn lines(places: &[(f64, f64)]) -> Vec<Segment> {
    let next = places.iter().cycle().skip(1);
    places
        .iter()
        .zip(next)
        .map(|(a, b)| Segment::Line(p(a.0, a.1), p(b.0, b.1)))
        .collect()
}

fn arc(from: Point, to: Point, r: (f64, f64), turn: f64, large: bool, positive: bool) -> Segment {
    Segment::Arc(Arc::from_ends(from, to, r, turn, large, positive).unwrap())
}

fn agrees(name: &str, ours: f64, exact: f64, scale: f64, roundings: f64) {
    let off = (ours - exact).abs();
    assert!(
        off <= roundings * scale.abs(),
        "{name}: {ours} against {exact}, off by {off:e}"
    );
}

fn all_agree(ours: &Moments, exact: &Moments, roundings: f64, size: f64) {
    agrees("volume", ours.volume, exact.volume, exact.volume, roundings);
    agrees("centre", ours.centre, exact.centre, size, roundings);
    agrees(
        "axial",
        ours.axial,
        exact.axial,
        exact.volume * size * size,
        roundings,
    );
    agrees("polar", ours.polar, exact.polar, exact.polar, roundings);
}

/// A full ellipsoid of half axes `a` (along the axis) and `b`, as one upper arc and the axis.
fn ellipsoid(a: f64, b: f64, x: f64) -> Vec<Segment> {
    let (left, right) = (p(x - a, 0.0), p(x + a, 0.0));
    vec![
        Segment::Line(left, right),
        arc(right, left, (a, b), 0.0, false, true),
    ]
}

#[test]
fn closed_form_ellipsoids_and_spheres() {
    for (a, b, x) in [(3.0, 3.0, 0.0), (5.0, 2.0, 7.0), (0.1, 4.0, -3.0)] {
        let volume = 4.0 / 3.0 * PI * a * b * b;
        let exact = Moments {
            area: PI * a * b / 2.0,
            volume,
            centre: x,
            axial: volume * a * a / 5.0,
            polar: volume * 2.0 * b * b / 5.0,
        };
        all_agree(&moments(&ellipsoid(a, b, x)), &exact, ROUNDING, a.max(b));
    }
}

#[test]
fn closed_form_tori_round_and_elliptic_and_turned() {
    let (big, x) = (20.0, 4.0);
    for (a, b, turn) in [
        (3.0, 3.0, 0.0),
        (3.0, 1.0, 0.0),
        (3.0, 1.0, 0.5),
        (1.0, 3.0, -1.2),
    ] {
        // Start and end of the two halves lie on the turned ellipse's long axis.
        let reach = p(a * f64::cos(turn), a * f64::sin(turn));
        let (s, e) = (p(x, big) + reach, p(x, big) - reach);
        let outline = [
            arc(s, e, (a, b), turn, false, true),
            arc(e, s, (a, b), turn, false, true),
        ];
        let area = PI * a * b;
        let (c, n) = (f64::cos(turn).powi(2), f64::sin(turn).powi(2));
        // Second moments of the ellipse about its own middle, along x and along y.
        let (ixx, iyy) = (
            area * (a * a * c + b * b * n) / 4.0,
            area * (a * a * n + b * b * c) / 4.0,
        );
        // A turned ellipse leans: its outer side, which weighs more, stands beside its inner one.
        let ixy = area * (a * a - b * b) / 4.0 * f64::sin(turn) * f64::cos(turn);
        let lean = ixy / (big * area);
        let exact = Moments {
            area,
            volume: 2.0 * PI * big * area,
            centre: x + lean,
            axial: 2.0 * PI * big * (ixx - area * lean * lean),
            polar: 2.0 * PI * (big.powi(3) * area + 3.0 * big * iyy),
        };
        all_agree(&moments(&outline), &exact, ROUNDING, 3.0);
    }
}

#[test]
fn closed_form_cone_frustum_and_hollow_cylinder() {
    // Cone, tip at the left: centroid at 3/4 of the height, axial 3/80 V h², polar 3/10 V r².
    let (h, r) = (8.0, 3.0);
    let v = PI * r * r * h / 3.0;
    let cone = moments(&lines(&[(0.0, 0.0), (h, 0.0), (h, r)]));
    let exact = Moments {
        area: h * r / 2.0,
        volume: v,
        centre: 0.75 * h,
        axial: v * h * h * 3.0 / 80.0,
        polar: v * r * r * 0.3,
    };
    all_agree(&cone, &exact, ROUNDING, h);
    // Frustum of radii p and q: the formulas of the handbooks.
    let (p1, q1) = (2.0f64, 5.0f64);
    let frustum = moments(&lines(&[(0.0, 0.0), (h, 0.0), (h, q1), (0.0, p1)]));
    let s = p1 * p1 + p1 * q1 + q1 * q1;
    agrees("volume", frustum.volume, PI * h * s / 3.0, 100.0, ROUNDING);
    let centre = h / 4.0 * (p1 * p1 + 2.0 * p1 * q1 + 3.0 * q1 * q1) / s;
    agrees("centre", frustum.centre, centre, h, ROUNDING);
    let polar = PI * h / 10.0 * (q1.powi(5) - p1.powi(5)) / (q1 - p1);
    agrees("polar", frustum.polar, polar, polar, ROUNDING);
    // Hollow cylinder.
    let ring = moments(&lines(&[
        (10.0, 24.0),
        (18.0, 24.0),
        (18.0, 29.0),
        (10.0, 29.0),
    ]));
    let v = PI * (29.0f64.powi(2) - 24.0f64.powi(2)) * 8.0;
    let exact = Moments {
        area: 40.0,
        volume: v,
        centre: 14.0,
        axial: v * 64.0 / 12.0,
        polar: v * (29.0f64.powi(2) + 24.0f64.powi(2)) / 2.0,
    };
    all_agree(&ring, &exact, ROUNDING, 8.0);
}

#[test]
fn closed_form_bezier_solids() {
    // y = x²/ h under a quadratic curve: paraboloid-like horn, V = π ∫ y² dx and so on by hand.
    let h = 2.0;
    let horn = [
        Segment::Line(p(0.0, 0.0), p(h, 0.0)),
        Segment::Line(p(h, 0.0), p(h, h)),
        Segment::Quad(p(h, h), p(h / 2.0, 0.0), p(0.0, 0.0)),
    ];
    let m = moments(&horn);
    agrees("volume", m.volume, PI * h.powi(3) / 5.0, 10.0, ROUNDING);
    agrees("centre", m.centre, 5.0 / 6.0 * h, h, ROUNDING);
    agrees("polar", m.polar, PI / 2.0 * h.powi(5) / 9.0, 10.0, ROUNDING);
    let second = PI * h.powi(5) / 7.0;
    agrees(
        "axial",
        m.axial,
        second - m.volume * (5.0 / 6.0 * h).powi(2),
        10.0,
        ROUNDING,
    );
    // y = x³ under a cubic: all integrals are of powers of x.
    let horn = [
        Segment::Line(p(0.0, 0.0), p(1.0, 0.0)),
        Segment::Line(p(1.0, 0.0), p(1.0, 1.0)),
        Segment::Cubic(
            p(1.0, 1.0),
            p(2.0 / 3.0, 0.0),
            p(1.0 / 3.0, 0.0),
            p(0.0, 0.0),
        ),
    ];
    let m = moments(&horn);
    agrees("volume", m.volume, PI / 7.0, 1.0, ROUNDING);
    agrees("centre", m.centre, 7.0 / 8.0, 1.0, ROUNDING);
    agrees("polar", m.polar, PI / 2.0 / 13.0, 1.0, ROUNDING);
    agrees(
        "axial",
        m.axial,
        PI * (1.0 / 9.0 - 7.0 / 64.0),
        1.0,
        ROUNDING,
    );
}

#[test]
fn law_a_quadratic_raised_to_a_cubic_has_the_same_moments() {
    let quad = (p(5.0, 3.0), p(9.0, 8.0), p(4.0, 9.0));
    let raised = Segment::Cubic(
        quad.0,
        quad.0.toward(quad.1, 2.0 / 3.0),
        quad.2.toward(quad.1, 2.0 / 3.0),
        quad.2,
    );
    let close = Segment::Line(quad.2, quad.0);
    let (a, b) = (
        moments(&[Segment::Quad(quad.0, quad.1, quad.2), close]),
        moments(&[raised, close]),
    );
    all_agree(&a, &b, ROUNDING, 9.0);
}

#[test]
fn order_a_nearly_straight_arc_loses_no_digits() {
    // The arc of radius R over a chord c adds a sliver of area c³/(12 R) (first term; the next is
    // smaller by 3c²/(40 R²)); its centre stands R away, and R rises to a thousand kilometres.
    let (c, y) = (10.0, 5.0);
    for power in 3..=9 {
        let radius = 10f64.powi(power);
        let from = p(c, y);
        let outline = [
            arc(from, p(0.0, y), (radius, radius), 0.0, false, true),
            Segment::Line(p(0.0, y), from),
        ];
        let area = moments(&outline).area;
        let series = c.powi(3) / (12.0 * radius) * (1.0 + 3.0 * c * c / (40.0 * radius * radius));
        // The sliver stands on a fan of triangles of size c·c/R about its own middle.
        let slack = 1e-15 * c * c + series * (c / radius).powi(4);
        assert!(
            (area - series).abs() <= slack,
            "R = {radius}: {area:e} against {series:e}"
        );
    }
}

#[test]
fn order_cubics_for_a_quarter_circle_err_by_the_known_share() {
    // The usual cubic (handle 4/3 (√2 − 1)) meets the circle at its ends and middle and bulges
    // between; the area of the quarter is too large by this share, from the exact polynomial area
    // ½ + 3/5 k − 3/20 k² of the quarter.
    let k = 4.0 / 3.0 * (2.0f64.sqrt() - 1.0);
    let expected = (0.5 + 0.6 * k - 0.15 * k * k) / (PI / 4.0) - 1.0;
    let quarter = [
        Segment::Cubic(p(1.0, 10.0), p(1.0, 10.0 + k), p(k, 11.0), p(0.0, 11.0)),
        Segment::Line(p(0.0, 11.0), p(0.0, 10.0)),
        Segment::Line(p(0.0, 10.0), p(1.0, 10.0)),
    ];
    let exact = [
        arc(p(1.0, 10.0), p(0.0, 11.0), (1.0, 1.0), 0.0, false, true),
        quarter[1],
        quarter[2],
    ];
    let share = moments(&quarter).area / moments(&exact).area - 1.0;
    assert!(
        (share - expected).abs() < 100.0 * f64::EPSILON,
        "{share:e} against {expected:e}"
    );
}

/// A star-shaped outline of lines, arcs and curves above the axis.
fn any_outline() -> impl Strategy<Value = Vec<Segment>> {
    let spoke = (2.0f64..9.0, 0u8..4, 0.5f64..3.0, any::<bool>(), 0.2f64..0.8);
    proptest::collection::vec(spoke, 3..24).prop_map(|spokes| {
        let count = spokes.len();
        let place = |n: usize| {
            let angle = 2.0 * PI * (n % count) as f64 / count as f64;
            p(
                3.0 + spokes[n % count].0 * angle.cos(),
                15.0 + spokes[n % count].0 * angle.sin(),
            )
        };
        let segment = |n: usize| {
            let (_, kind, size, flag, share) = spokes[n];
            let (a, b) = (place(n), place(n + 1));
            let off = a.toward(b, share) + p(size * 0.1, -size * 0.2);
            match kind {
                0 => Segment::Line(a, b),
                1 => Segment::Quad(a, off, b),
                2 => Segment::Cubic(a, off, a.toward(b, share) + p(-size * 0.2, 0.1), b),
                _ => arc(a, b, (6.0 * size, 9.0), share, false, flag),
            }
        };
        (0..count).map(segment).collect()
    })
}

proptest! {
    #[test]
    fn law_walking_backward_changes_the_sign_alone(outline in any_outline()) {
        let forth = moments(&outline);
        let back: Vec<_> = outline.iter().rev().map(Segment::reversed).collect();
        let back = moments(&back);
        let size = 30.0 * 30.0 * 30.0 * 30.0;
        agrees("volume", -back.volume, forth.volume, size, ROUNDING);
        agrees("polar", -back.polar, forth.polar, size * 900.0, ROUNDING);
    }

    #[test]
    fn law_splitting_a_segment_changes_nothing(outline in any_outline(), at in 0.05f64..0.95) {
        let split: Vec<_> = outline.iter().flat_map(|s| [s.part(0.0, at), s.part(at, 1.0)]).collect();
        let (whole, parts) = (moments(&outline), moments(&split));
        prop_assume!(whole.volume.abs() > 100.0);
        all_agree(&parts, &whole, 40.0 * ROUNDING, 30.0);
    }

    #[test]
    fn law_a_shift_along_the_axis_moves_the_centre_alone(outline in any_outline(), by in -1e4f64..1e4) {
        let moved: Vec<_> = outline.iter().map(|s| shifted(s, by)).collect();
        let (here, there) = (moments(&outline), moments(&moved));
        prop_assume!(here.volume.abs() > 100.0);
        // Coordinates of 10 000 keep 30 with 300 times coarser last digits.
        let coarse = 400.0 * ROUNDING;
        agrees("volume", there.volume, here.volume, here.volume, coarse);
        agrees("centre", there.centre, here.centre + by, 1e4, coarse);
        agrees("axial", there.axial, here.axial, here.volume * 900.0, coarse);
        agrees("polar", there.polar, here.polar, here.polar, coarse);
    }

    #[test]
    fn law_a_mirror_keeps_everything_but_the_centre(outline in any_outline()) {
        let mirrored: Vec<_> = outline.iter().rev().map(|s| s.mirrored().reversed()).collect();
        let (a, b) = (moments(&outline), moments(&mirrored));
        prop_assume!(a.volume.abs() > 100.0);
        let b = Moments { centre: -b.centre, ..b };
        all_agree(&b, &a, 10.0 * ROUNDING, 30.0);
    }

    #[test]
    fn law_moments_scale_by_the_third_and_fifth_power(outline in any_outline(), power in -6i32..6) {
        // By a power of two: every rounding scales with it, so the law holds to the last digit.
        let by = 2f64.powi(power);
        let scaled: Vec<_> = outline.iter().map(|s| scaled(s, by)).collect();
        let (a, b) = (moments(&outline), moments(&scaled));
        prop_assert_eq!(b.volume, a.volume * by.powi(3));
        prop_assert_eq!(b.polar, a.polar * by.powi(5));
        prop_assert_eq!(b.axial, a.axial * by.powi(5));
    }

    #[test]
    fn twin_a_fine_polygon_agrees_to_its_own_order(outline in any_outline()) {
        let polygon = |steps: usize| -> Vec<Segment> {
            let cut = |s: &Segment| -> Vec<Segment> {
                let at = |n: usize| s.at(n as f64 / steps as f64);
                (0..steps).map(|n| Segment::Line(at(n), at(n + 1))).collect()
            };
            outline.iter().flat_map(cut).collect()
        };
        let exact = moments(&outline);
        let (coarse, fine) = (moments(&polygon(64)), moments(&polygon(128)));
        // Chords err by the square of the step: the finer polygon is four times nearer.
        for (e, c, f) in [
            (exact.volume, coarse.volume, fine.volume),
            (exact.polar, coarse.polar, fine.polar),
            (exact.axial, coarse.axial, fine.axial),
        ] {
            let (far, near) = ((c - e).abs(), (f - e).abs());
            let slack = 1e-11 * e.abs().max(far);
            prop_assert!(near <= far / 3.5 + far * 0.05 + slack, "{near:e} after {far:e}");
        }
    }
}

fn mapped(s: &Segment, f: impl Fn(Point) -> Point, vector: impl Fn(Point) -> Point) -> Segment {
    match *s {
        Segment::Line(a, b) => Segment::Line(f(a), f(b)),
        Segment::Quad(a, b, c) => Segment::Quad(f(a), f(b), f(c)),
        Segment::Cubic(a, b, c, d) => Segment::Cubic(f(a), f(b), f(c), f(d)),
        Segment::Arc(arc) => Segment::Arc(Arc {
            from: f(arc.from),
            to: f(arc.to),
            middle: f(arc.middle),
            inward: vector(arc.inward),
            along: vector(arc.along),
            half_sweep: arc.half_sweep,
        }),
    }
}

fn shifted(s: &Segment, by: f64) -> Segment {
    mapped(s, |a| a + p(by, 0.0), |v| v)
}

fn scaled(s: &Segment, by: f64) -> Segment {
    mapped(s, |a| a * by, |v| v * by)
}

#[test]
fn law_an_arc_meets_its_two_ends_and_its_ellipse() {
    for large in [false, true] {
        for positive in [false, true] {
            let (from, to) = (p(2.0, 5.0), p(4.0, 8.0));
            let Segment::Arc(a) = arc(from, to, (4.0, 2.5), 0.7, large, positive) else {
                unreachable!()
            };
            let h = 1e-9;
            assert!(a.at(h).distance(from) < 1e-7 && a.at(1.0 - h).distance(to) < 1e-7);
            assert_eq!(a.half_sweep > PI / 2.0, large);
            assert_eq!(a.turns_left(), positive);
            for n in 0..=10 {
                let d = a.at(f64::from(n) / 10.0) - a.centre();
                let (u, v) = (
                    d.x * 0.7f64.cos() + d.y * 0.7f64.sin(),
                    d.y * 0.7f64.cos() - d.x * 0.7f64.sin(),
                );
                assert!(((u / 4.0).powi(2) + (v / 2.5).powi(2) - 1.0).abs() < 1e-14);
            }
        }
    }
}

#[test]
fn law_crossings_are_found_and_joints_are_not() {
    let crossing = [lines(&[(0.0, 1.0), (4.0, 5.0), (4.0, 1.0), (0.0, 5.0)])];
    let met = meetings(&runs(&crossing), 1e-7);
    assert_eq!(met.len(), 1);
    assert!(met[0].at.distance(p(2.0, 3.0)) < 1e-9);
    let plain = [
        Segment::Line(p(0.0, 1.0), p(4.0, 1.0)),
        arc(p(4.0, 1.0), p(4.0, 3.0), (1.0, 1.0), 0.0, false, true),
        Segment::Quad(p(4.0, 3.0), p(2.0, 2.0), p(0.0, 3.0)),
        Segment::Cubic(p(0.0, 3.0), p(1.0, 2.5), p(-1.0, 1.5), p(0.0, 1.0)),
    ];
    assert_eq!(meetings(&runs(&[plain.to_vec()]), 1e-7), []);
    // A bump that just reaches the opposite line touches; one that stops a micrometre short does not.
    for (height, count) in [(2.0, 1), (1.999, 0)] {
        let bump = vec![
            arc(p(2.0, 1.0), p(6.0, 1.0), (2.0, height), 0.0, false, false),
            Segment::Line(p(6.0, 1.0), p(9.0, 1.0)),
            Segment::Line(p(9.0, 1.0), p(9.0, 3.0)),
            Segment::Line(p(9.0, 3.0), p(0.0, 3.0)),
            Segment::Line(p(0.0, 3.0), p(0.0, 1.0)),
            Segment::Line(p(0.0, 1.0), p(2.0, 1.0)),
        ];
        let met = meetings(&runs(&[bump]), 1e-7);
        // The bump is two runs that share its top, so a touch may be seen by both.
        assert_eq!(met.is_empty(), count == 0, "{met:?}");
    }
}

#[test]
fn law_a_path_that_runs_back_along_itself_meets_itself() {
    let back = [lines(&[
        (0.0, 1.0),
        (4.0, 1.0),
        (4.0, 3.0),
        (4.0, 1.0),
        (0.0, 1.0),
        (0.0, 3.0),
    ])];
    assert!(!meetings(&runs(&back), 1e-7).is_empty());
    let spike = [lines(&[(0.0, 1.0), (9.0, 1.0), (5.0, 1.0), (0.0, 4.0)])];
    assert!(!meetings(&runs(&spike), 1e-7).is_empty());
}

fn wall(loops: &[Vec<Segment>]) -> Option<f64> {
    let loops = oriented(loops);
    least_wall(&loops, &runs(&loops), 1e-3).map(|w| w.thickness)
}

#[test]
fn closed_form_walls_of_simple_sections() {
    let close = |found: Option<f64>, exact: f64| {
        let found = found.unwrap();
        assert!((found - exact).abs() < 1e-12, "{found} against {exact}");
    };
    // An L of arms 2 and 3 wide; a box; a box with a corner taken off.
    close(
        wall(&[lines(&[
            (0.0, 5.0),
            (9.0, 5.0),
            (9.0, 7.0),
            (3.0, 7.0),
            (3.0, 12.0),
            (0.0, 12.0),
        ])]),
        2.0,
    );
    close(
        wall(&[lines(&[(0.0, 5.0), (9.0, 5.0), (9.0, 8.0), (0.0, 8.0)])]),
        3.0,
    );
    close(
        wall(&[lines(&[
            (0.0, 5.0),
            (9.0, 5.0),
            (9.0, 7.8),
            (8.8, 8.0),
            (0.0, 8.0),
        ])]),
        3.0,
    );
    // A round hole 1.5 from the edge, and two round grooves 0.8 apart.
    let hole = vec![
        arc(p(5.0, 9.0), p(3.0, 9.0), (1.0, 1.0), 0.0, false, true),
        arc(p(3.0, 9.0), p(5.0, 9.0), (1.0, 1.0), 0.0, false, true),
    ];
    close(
        wall(&[
            lines(&[(0.0, 6.5), (9.0, 6.5), (9.0, 20.0), (0.0, 20.0)]),
            hole.clone(),
        ]),
        1.5,
    );
    let grooves = vec![
        Segment::Line(p(0.0, 5.0), p(4.0, 5.0)),
        arc(p(4.0, 5.0), p(6.0, 5.0), (1.0, 1.0), 0.0, false, false),
        Segment::Line(p(6.0, 5.0), p(10.0, 5.0)),
        Segment::Line(p(10.0, 5.0), p(10.0, 7.8)),
        Segment::Line(p(10.0, 7.8), p(6.0, 7.8)),
        arc(p(6.0, 7.8), p(4.0, 7.8), (1.0, 1.0), 0.0, false, false),
        Segment::Line(p(4.0, 7.8), p(0.0, 7.8)),
        Segment::Line(p(0.0, 7.8), p(0.0, 5.0)),
    ];
    close(wall(&[grooves]), 0.8);
    // A disc on the axis: the axis is no wall, so the way through is its width.
    close(
        wall(&[lines(&[(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0)])]),
        4.0,
    );
}

#[test]
fn law_the_wall_does_not_depend_on_the_way_the_loops_are_walked() {
    let outer = lines(&[(0.0, 5.0), (9.0, 5.0), (9.0, 12.0), (0.0, 12.0)]);
    let inner = lines(&[(1.0, 6.5), (7.0, 6.5), (7.0, 11.2), (1.0, 11.2)]);
    let back = |l: &Vec<Segment>| l.iter().rev().map(Segment::reversed).collect::<Vec<_>>();
    for loops in [
        [outer.clone(), inner.clone()],
        [back(&outer), inner.clone()],
        [back(&inner), back(&outer)],
    ] {
        assert!((wall(&loops).unwrap() - 0.8).abs() < 1e-12);
        let all: Vec<_> = oriented(&loops).concat();
        assert!((moments(&all).area - (63.0 - 6.0 * 4.7)).abs() < 1e-12);
    }
}

#[test]
fn closed_form_overlaps_of_a_press_fit() {
    let ring = runs(&[lines(&[
        (5.0, 24.0),
        (13.0, 24.0),
        (13.0, 29.0),
        (5.0, 29.0),
    ])]);
    let post = runs(&[lines(&[
        (4.0, 20.0),
        (14.0, 20.0),
        (14.0, 24.045),
        (4.0, 24.045),
    ])]);
    let pressed = overlap(&ring, &post, 1e-6).unwrap();
    assert!((pressed.depth - 0.045).abs() < 1e-9, "{pressed:?}");
    let touching = runs(&[lines(&[
        (4.0, 20.0),
        (14.0, 20.0),
        (14.0, 24.0),
        (4.0, 24.0),
    ])]);
    assert_eq!(overlap(&ring, &touching, 1e-6), None);
    let beside = runs(&[lines(&[(13.0, 24.0), (15.0, 24.0), (15.0, 26.0)])]);
    assert_eq!(overlap(&ring, &beside, 1e-6), None);
}
