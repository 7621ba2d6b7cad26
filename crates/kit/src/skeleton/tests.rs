//! Laws of the middle line.

use proptest::prelude::*;

use super::*;
use crate::revolve::{Arc, Point};

fn polygon(corners: &[(f64, f64)]) -> Vec<Segment> {
    let place = |k: usize| {
        let (x, y) = corners[k % corners.len()];
        Point::new(x, y)
    };
    (0..corners.len())
        .map(|k| Segment::Line(place(k), place(k + 1)))
        .collect()
}

fn circle(middle: (f64, f64), radius: f64) -> Vec<Segment> {
    let (left, right) = (
        Point::new(middle.0 - radius, middle.1),
        Point::new(middle.0 + radius, middle.1),
    );
    let arc = |a, b| {
        let arc = Arc::from_ends(a, b, (radius, radius), 0.0, false, true).expect("a half circle");
        Segment::Arc(arc)
    };
    vec![arc(left, right), arc(right, left)]
}

fn drawn(loops: &[Vec<Segment>], step: f64) -> Skeleton {
    skeleton(loops, &Wanted::of_step_mm(step)).expect("a middle line")
}

fn cells_area(of: &Skeleton) -> f64 {
    of.cells.iter().map(Cell::area_mm2).sum()
}

/// Thickness times way over the walls, and the pieces that are no walls.
fn area_by_width(of: &Skeleton) -> f64 {
    let mut area: f64 = of
        .cells
        .iter()
        .filter(|c| !c.is_wall)
        .map(Cell::area_mm2)
        .sum();
    for branch in &of.branches {
        let [from, to] = branch.wall_mm;
        let steps = 400;
        let each = (to - from) / f64::from(steps);
        for k in 0..steps {
            area += each * branch.at(from + (f64::from(k) + 0.5) * each).width_mm;
        }
    }
    area
}

#[test]
fn closed_form_a_straight_wall_has_its_middle_its_length_and_its_thickness() {
    for turn in [0.0, 0.4, 1.1, 2.0] {
        let (sin, cos) = f64::sin_cos(turn);
        let corners = [(0.0, 0.0), (20.0, 0.0), (20.0, 2.0), (0.0, 2.0)];
        let place = |(x, y): (f64, f64)| (x * cos - y * sin, x * sin + y * cos);
        let of = drawn(&[polygon(&corners.map(place))], 0.2);
        assert_eq!((of.branches.len(), of.nodes.len()), (1, 2), "{turn}");
        let branch = &of.branches[0];
        // A step of the cut outline is a tenth of the thickness: its square is a hundredth.
        assert!(
            (branch.length_mm() - 20.0).abs() < 0.02,
            "{}",
            branch.length_mm()
        );
        for point in &branch.points {
            let across = point.place.y * cos - point.place.x * sin;
            assert!((across - 1.0).abs() < 0.01, "{turn}: {across}");
            assert!(
                (point.width_mm - 2.0).abs() < 0.02,
                "{turn}: {}",
                point.width_mm
            );
        }
        assert!((cells_area(&of) - 40.0).abs() < 1e-9);
    }
}

#[test]
fn closed_form_a_bent_wall_and_a_closed_one_follow_their_circles() {
    let at = |r: f64, a: f64| Point::new(r * a.cos(), r * a.sin());
    let turn = std::f64::consts::FRAC_PI_2;
    let arc = |r: f64, from: f64, to: f64| {
        let arc = Arc::from_ends(at(r, from), at(r, to), (r, r), 0.0, false, to > from);
        Segment::Arc(arc.expect("an arc"))
    };
    let strip = vec![
        arc(11.0, 0.0, turn),
        Segment::Line(at(11.0, turn), at(9.0, turn)),
        arc(9.0, turn, 0.0),
        Segment::Line(at(9.0, 0.0), at(11.0, 0.0)),
    ];
    let of = drawn(&[strip], 0.1);
    assert_eq!(of.branches.len(), 1);
    // Each end stands where it should to half a piece of the cut outline.
    assert!((of.branches[0].length_mm() - 10.0 * turn).abs() < 0.1);
    for point in &of.branches[0].points {
        // An end is drawn straight on over half a thickness, the way the line had over a thickness before: off the
        // circle by 1 times 3 over two radii.
        let near_end = point
            .along_mm
            .min(of.branches[0].length_mm() - point.along_mm)
            < 1.5;
        let off = point.place.distance(Point::default()) - 10.0;
        assert!(off.abs() < if near_end { 0.17 } else { 0.01 }, "{off}");
        let thin = point.width_mm - 2.0;
        assert!(thin.abs() < if near_end { 0.2 } else { 0.02 }, "{thin}");
    }
    let ring = drawn(&[circle((3.0, 20.0), 11.0), circle((3.0, 20.0), 9.0)], 0.1);
    assert_eq!((ring.branches.len(), ring.nodes.len()), (1, 1));
    assert_eq!(ring.nodes[0].branches_count, 2);
    assert!((ring.branches[0].length_mm() - 20.0 * std::f64::consts::PI).abs() < 0.1);
}

/// A wall that thins from 4 to 1 over 20: place and thickness come nearer with the step.
#[test]
fn order_a_tapered_wall_thins_evenly_and_nears_its_form_with_the_step() {
    let wedge = polygon(&[(0.0, 8.0), (20.0, 9.5), (20.0, 10.5), (0.0, 12.0)]);
    let mut before = f64::INFINITY;
    for step in [0.4, 0.2, 0.1, 0.05] {
        let of = drawn(std::slice::from_ref(&wedge), step);
        assert_eq!(of.branches.len(), 1);
        let mut points = of.branches[0].points.clone();
        if points[0].place.x > 10.0 {
            points.reverse();
        }
        let inside: Vec<_> = points
            .iter()
            .filter(|p| p.place.x > 3.0 && p.place.x < 18.0)
            .collect();
        // Thins all along; over a step by what the smoothing leaves of the zigzag.
        assert!(
            inside
                .windows(2)
                .all(|w| w[1].width_mm < w[0].width_mm + 1e-3 * step)
        );
        let off = inside
            .iter()
            .map(|p| {
                let exact = 4.0 - 0.15 * p.place.x;
                (p.width_mm - exact).abs().max((p.place.y - 10.0).abs())
            })
            .fold(0.0, f64::max);
        // Down to what the smoothing leaves, half a thousandth of the thickness.
        assert!(
            off < (before / 1.8).max(2e-3) && off < 0.03,
            "{off} after {before} at {step}"
        );
        before = off;
    }
    assert!(before < 2e-3, "{before}");
}

#[test]
fn law_three_walls_that_meet_are_three_branches_at_one_junction() {
    let tee = polygon(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0, 2.0),
        (11.0, 2.0),
        (11.0, 9.0),
        (9.5, 9.0),
        (9.5, 2.0),
        (0.0, 2.0),
    ]);
    let of = drawn(&[tee], 0.1);
    assert_eq!((of.branches.len(), of.nodes.len()), (3, 4));
    let junctions: Vec<_> = of.nodes.iter().filter(|n| n.branches_count == 3).collect();
    assert_eq!(junctions.len(), 1);
    assert!(junctions[0].place.distance(Point::new(10.25, 1.2)) < 0.3);
    assert!((area_by_width(&of) / cells_area(&of) - 1.0).abs() < 0.005);
    // A low step on a wall is no wall.
    let bump = polygon(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0, 2.0),
        (11.0, 2.0),
        (11.0, 3.2),
        (9.5, 3.2),
        (9.5, 2.0),
        (0.0, 2.0),
    ]);
    let of = drawn(&[bump], 0.1);
    assert_eq!(of.branches.len(), 1);
    assert!((cells_area(&of) - 41.8).abs() < 1e-9);
}

#[test]
fn law_a_round_bead_on_a_wall_is_met_in_its_middle() {
    let arc = Arc::from_ends(
        Point::new(4.0, 18.0),
        Point::new(2.0, 18.0),
        (4.0, 4.0),
        0.0,
        true,
        true,
    );
    let mut bead = vec![Segment::Arc(arc.expect("an arc"))];
    let corners = [(2.0, 18.0), (2.0, 4.0), (4.0, 4.0), (4.0, 18.0)];
    bead.extend(
        corners
            .windows(2)
            .map(|w| Segment::Line(Point::new(w[0].0, w[0].1), Point::new(w[1].0, w[1].1))),
    );
    let of = drawn(&[bead], 0.1);
    assert_eq!(of.branches.len(), 1);
    let points = &of.branches[0].points;
    assert!(points.iter().all(|p| (p.place.x - 3.0).abs() < 0.05));
    let top = points.iter().map(|p| p.place.y).fold(0.0, f64::max);
    // The circle's top: its centre is sqrt(15) above the bead's foot.
    assert!((top - (18.0 + 15.0_f64.sqrt() + 4.0)).abs() < 0.05, "{top}");
    let middle = 18.0 + 15.0_f64.sqrt();
    for point in points.iter().filter(|p| (p.place.y - middle).abs() < 2.5) {
        let exact = 2.0 * (16.0 - (point.place.y - middle).powi(2)).sqrt();
        // A step beside the place looked at.
        assert!(
            (point.width_mm - exact).abs() < 0.2,
            "{} for {exact}",
            point.width_mm
        );
    }
}

#[test]
fn law_every_piece_is_on_a_branch_and_a_hollow_makes_a_loop() {
    let frame = [
        polygon(&[(0.0, 1.0), (12.0, 1.0), (12.0, 9.0), (0.0, 9.0)]),
        polygon(&[(1.5, 2.5), (1.5, 7.5), (5.0, 7.5), (5.0, 2.5)]),
        polygon(&[(6.5, 2.5), (6.5, 7.5), (10.5, 7.5), (10.5, 2.5)]),
    ];
    let of = drawn(&frame, 0.1);
    // Two windows: two junctions and three lines between them; corners are no walls.
    assert_eq!((of.branches.len(), of.nodes.len()), (3, 2));
    assert!(of.nodes.iter().all(|n| n.branches_count == 3));
    let exact = 12.0 * 8.0 - 3.5 * 5.0 - 4.0 * 5.0;
    assert!((cells_area(&of) - exact).abs() < 1e-9);
    assert!(
        (area_by_width(&of) / exact - 1.0).abs() < 0.005,
        "{} of {exact}",
        area_by_width(&of)
    );
    for cell in &of.cells {
        assert!(cell.from_mm >= 0.0 && cell.to_mm <= of.branches[cell.branch].length_mm() + 1e-9);
    }
}

#[test]
fn law_what_has_no_middle_line_is_named() {
    let square = [polygon(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)])];
    for step in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let asked = skeleton(&square, &Wanted::of_step_mm(step));
        assert!(
            matches!(asked, Err(SkeletonError::Wish { .. })),
            "{asked:?}"
        );
    }
    assert!(skeleton(&[], &Wanted::of_step_mm(0.1)).is_err());
    let mut open = square[0].clone();
    open.pop();
    assert!(skeleton(&[open], &Wanted::of_step_mm(0.1)).is_err());
    // A stout block on a wall is one, too, when it is longer than that circle.
    let block = polygon(&[
        (0.0, 0.0),
        (8.0, 0.0),
        (8.0, 4.0),
        (2.0, 4.0),
        (2.0, 16.0),
        (0.0, 16.0),
    ]);
    let of = drawn(&[block], 0.1);
    assert!(
        of.branches
            .iter()
            .flat_map(|b| &b.points)
            .any(|p| p.place.x > 7.9)
    );
    // A blob has one line across it.
    assert_eq!(drawn(&square, 0.1).branches.len(), 1);
    assert_eq!(drawn(&[circle((0.0, 4.0), 3.0)], 0.1).branches.len(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Turned, moved or mirrored, the line turns, moves and mirrors with the outline.
    #[test]
    fn law_the_line_goes_with_the_outline(turn in 0.0_f64..6.0, mirror: bool, off in -5.0_f64..5.0) {
        let corners = [
            (0.0, 0.0), (14.0, 0.0), (14.0, 1.6), (6.0, 1.9), (5.0, 8.0), (3.2, 8.0), (3.6, 1.8), (0.0, 1.4),
        ];
        let (sin, cos) = turn.sin_cos();
        let there = |p: Point| {
            let x = if mirror { -p.x } else { p.x };
            Point::new(off + x * cos - p.y * sin, x * sin + p.y * cos)
        };
        let moved = corners.map(|(x, y)| {
            let p = there(Point::new(x, y));
            (p.x, p.y)
        });
        let (here, gone) = (drawn(&[polygon(&corners)], 0.1), drawn(&[polygon(&moved)], 0.1));
        prop_assert_eq!(here.branches.len(), gone.branches.len());
        prop_assert!((cells_area(&here) / cells_area(&gone) - 1.0).abs() < 1e-9);
        let all: Vec<MiddlePoint> = gone.branches.iter().flat_map(|b| b.points.clone()).collect();
        for point in here.branches.iter().flat_map(|b| &b.points) {
            let to = there(point.place);
            let near = all.iter().map(|p| p.place.distance(to)).fold(f64::INFINITY, f64::min);
            // Where four cuts lie on one circle either diagonal may be taken: half a step.
            prop_assert!(near < 0.06, "{near} at {to:?}");
        }
    }

    /// Whatever the outline, every piece of it is counted once and no line leaves the section's box.
    #[test]
    fn law_any_star_is_shared_out_whole(radii in prop::collection::vec(0.5_f64..6.0, 4..14)) {
        let count = radii.len();
        let corner = |(k, r): (usize, &f64)| {
            let (sin, cos) = (std::f64::consts::TAU * k as f64 / count as f64).sin_cos();
            (10.0 + r * cos, 10.0 + r * sin)
        };
        let corners: Vec<(f64, f64)> = radii.iter().enumerate().map(corner).collect();
        let next = |k: usize| corners[(k + 1) % count];
        let twice: f64 = (0..count).map(|k| corners[k].0 * next(k).1 - next(k).0 * corners[k].1).sum();
        let of = drawn(&[polygon(&corners)], 0.25);
        prop_assert!((cells_area(&of) / (0.5 * twice) - 1.0).abs() < 1e-9);
        prop_assert!(!of.branches.is_empty());
        for point in of.branches.iter().flat_map(|b| &b.points) {
            prop_assert!(point.width_mm >= 0.0 && point.width_mm.is_finite());
            prop_assert!((point.place.x - 10.0).abs() < 6.5 && (point.place.y - 10.0).abs() < 6.5);
        }
    }
}
