//! Laws of the mesh.

use super::*;
use crate::revolve::{Arc, Point, Segment};

fn line(a: (f64, f64), b: (f64, f64)) -> Segment {
    Segment::Line(Point::new(a.0, a.1), Point::new(b.0, b.1))
}

/// A rectangle with its four sides labelled 0 low, 1 right, 2 high, 3 left.
fn rectangle(region: u32, low: (f64, f64), high: (f64, f64)) -> Body {
    let corners = [low, (high.0, low.1), high, (low.0, high.1)];
    let side = |k: usize| Side {
        curve: line(corners[k], corners[(k + 1) % 4]),
        label: k as u32,
        size_mm: None,
    };
    Body {
        region,
        loops: vec![(0..4).map(side).collect()],
    }
}

fn circle(middle: (f64, f64), radius: f64, label: u32) -> Vec<Side> {
    let (left, right) = (
        Point::new(middle.0 - radius, middle.1),
        Point::new(middle.0 + radius, middle.1),
    );
    let arc = |a, b| {
        let arc = Arc::from_ends(a, b, (radius, radius), 0.0, false, true).expect("a half circle");
        Side {
            curve: Segment::Arc(arc),
            label,
            size_mm: None,
        }
    };
    vec![arc(left, right), arc(right, left)]
}

/// Every inner edge has a triangle on each side, every border edge one.
fn is_whole(mesh: &Mesh) {
    let mut edges = std::collections::BTreeMap::new();
    for t in &mesh.triangles {
        for k in 0..3 {
            let (a, b) = (t[k], t[(k + 1) % 3]);
            let entry = edges.entry((a.min(b), a.max(b))).or_insert((0, t[3 + k]));
            entry.0 += 1;
            assert_eq!(entry.1, t[3 + k], "an edge with two middle nodes");
        }
    }
    let once = edges.values().filter(|(count, _)| *count == 1).count();
    assert!(edges.values().all(|(count, _)| *count <= 2));
    let shared = mesh.borders.len() - once;
    assert_eq!(shared % 2, 0, "a shared edge stands once for each body");
}

#[test]
fn law_a_plate_with_a_hollow_keeps_its_area_and_its_labels() {
    let mut plate = rectangle(7, (0.0, 5.0), (12.0, 11.0));
    plate.loops.push(circle((6.0, 8.0), 1.5, 9));
    let exact = 72.0 - std::f64::consts::PI * 2.25;
    let mut before = f64::INFINITY;
    for size in [0.6, 0.3, 0.15] {
        let mesh = mesh(std::slice::from_ref(&plate), &Wanted::of_size_mm(size)).expect("a mesh");
        is_whole(&mesh);
        assert!(
            mesh.least_angle_deg() > 24.0,
            "{} deg",
            mesh.least_angle_deg()
        );
        let off = (mesh.area_mm2(7) - exact).abs();
        // A parabola leaves a circle with the fourth power of the edge: a sixteenth a halving, 8 leaves room.
        assert!(off < before / 8.0 && off < 1e-3, "{off} after {before}");
        before = off.max(1e-9);
        let round = mesh.nodes_on(9);
        let far = round
            .iter()
            .map(|n| mesh.nodes[*n as usize].distance(Point::new(6.0, 8.0)));
        assert!(far.map(|d| (d - 1.5).abs()).fold(0.0, f64::max) < 1e-12);
        let low: f64 = mesh
            .border(0)
            .map(|b| mesh.nodes[b.nodes[1] as usize].x - mesh.nodes[b.nodes[0] as usize].x)
            .sum();
        assert!(
            (low - 12.0).abs() < 1e-12,
            "the way round has the material on its left"
        );
        assert!(mesh.longest_edge_mm() < 2.0 * size);
    }
}

#[test]
fn law_bodies_given_together_share_nodes_and_bodies_beside_do_not() {
    let bodies = [
        rectangle(1, (0.0, 1.0), (4.0, 2.0)),
        rectangle(2, (1.0, 2.0), (3.0, 4.0)),
    ];
    let wanted = Wanted::of_size_mm(0.4);
    let joined = mesh(&bodies, &wanted).expect("a mesh");
    is_whole(&joined);
    assert!((joined.area_mm2(1) - 4.0).abs() < 1e-12 && (joined.area_mm2(2) - 4.0).abs() < 1e-12);
    let on = |mesh: &Mesh, region, label| {
        let edges = mesh.border(label).filter(|b| b.region == region);
        let mut nodes: Vec<u32> = edges.flat_map(|b| b.nodes).collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes
    };
    let (low, high) = (on(&joined, 1, 2), on(&joined, 2, 0));
    assert!(high.len() > 5 && high.iter().all(|node| low.contains(node)));
    let apart: Vec<Mesh> = bodies
        .iter()
        .map(|b| mesh(std::slice::from_ref(b), &wanted).expect("a mesh"))
        .collect();
    let beside = apart[0].clone().beside(&apart[1]);
    is_whole(&beside);
    assert!(
        on(&beside, 2, 0)
            .iter()
            .all(|node| !on(&beside, 1, 2).contains(node))
    );
}

#[test]
fn law_a_finer_side_is_finer_and_grows_gently() {
    let mut plate = rectangle(0, (0.0, 0.0), (20.0, 10.0));
    plate.loops[0][0].size_mm = Some(0.1);
    let wanted = Wanted::of_size_mm(1.0);
    let graded = mesh(std::slice::from_ref(&plate), &wanted).expect("a mesh");
    is_whole(&graded);
    assert!(graded.border(0).count() >= 190 && graded.border(2).count() <= 22);
    assert!(
        graded.least_angle_deg() > 24.0,
        "{}",
        graded.least_angle_deg()
    );
    let everywhere = mesh(
        &[rectangle(0, (0.0, 0.0), (20.0, 10.0))],
        &Wanted::of_size_mm(0.1),
    );
    assert!(graded.triangles.len() * 8 < everywhere.expect("a mesh").triangles.len());
}

#[test]
fn law_the_same_question_gives_the_same_mesh() {
    let mut plate = rectangle(3, (0.0, 2.0), (9.0, 7.0));
    plate.loops.push(circle((4.0, 4.5), 1.0, 5));
    let ask = || mesh(std::slice::from_ref(&plate), &Wanted::of_size_mm(0.3)).expect("a mesh");
    assert_eq!(ask(), ask());
}

/// Slanted straight sides: the rounding of their vertices makes no slivers, whatever the angle.
#[test]
fn law_slanted_sides_make_no_slivers() {
    for turn in 1..60 {
        let (sin, cos) = (f64::from(turn) * 0.1).sin_cos();
        let corners = [(-3.0, -2.0), (4.0, -2.0), (5.0, 3.0), (-3.0, 2.0)];
        let place = |k: usize| {
            let (x, y) = corners[k % 4];
            (x * cos - y * sin, 20.0 + x * sin + y * cos)
        };
        let side = |k: usize| Side {
            curve: line(place(k), place(k + 1)),
            label: 0,
            size_mm: None,
        };
        let body = Body {
            region: 1,
            loops: vec![(0..4).map(side).collect()],
        };
        let mesh = mesh(&[body], &Wanted::of_size_mm(0.53)).expect("a mesh");
        assert!(
            mesh.least_angle_deg() > 24.0,
            "{turn}: {}",
            mesh.least_angle_deg()
        );
        is_whole(&mesh);
    }
}

#[test]
fn law_what_cannot_be_meshed_is_named() {
    let wanted = Wanted::of_size_mm(0.5);
    let mut open = rectangle(4, (0.0, 0.0), (2.0, 2.0));
    open.loops[0].pop();
    assert_eq!(
        mesh(&[open], &wanted),
        Err(MeshError::Open {
            region: 4,
            in_loop: 0
        })
    );
    assert_eq!(mesh(&[], &wanted), Err(MeshError::Empty));
    let plate = [rectangle(0, (0.0, 0.0), (2.0, 2.0))];
    assert_eq!(
        mesh(&plate, &Wanted::of_size_mm(0.0)),
        Err(MeshError::Size(0.0))
    );
    assert!(matches!(
        mesh(&plate, &Wanted::of_size_mm(1e-6)),
        Err(MeshError::TooMany { .. })
    ));
    let cross = [plate[0].clone(), rectangle(1, (1.0, 1.0), (3.0, 3.0))];
    assert!(matches!(
        mesh(&cross, &wanted),
        Err(MeshError::Crossing { .. })
    ));
    let flat = [rectangle(0, (0.0, 0.0), (2.0, 0.0))];
    assert!(mesh(&flat, &wanted).is_err());
}
