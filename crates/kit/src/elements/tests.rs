//! Laws and orders of the elements.

use super::*;
use crate::mesh::{Body, Mesh, Side, Wanted, mesh};
use crate::revolve::{Arc, Point, Segment};

/// A rectangle with its four sides labelled `label` low, + 1 right, + 2 high, + 3 left.
pub fn rectangle(region: u32, label: u32, low: (f64, f64), high: (f64, f64)) -> Body {
    let corners = [low, (high.0, low.1), high, (low.0, high.1)].map(|(x, y)| Point::new(x, y));
    let side = |k: usize| Side {
        curve: Segment::Line(corners[k], corners[(k + 1) % 4]),
        label: label + k as u32,
        size_mm: None,
    };
    Body {
        region,
        loops: vec![(0..4).map(side).collect()],
    }
}

fn of(body: &Body, size_mm: f64) -> Mesh {
    mesh(std::slice::from_ref(body), &Wanted::of_size_mm(size_mm)).expect("a mesh")
}

/// A made-up material.
fn stuff(modulus_mpa: f64, poisson_ratio: f64) -> Material {
    Material {
        modulus_mpa,
        poisson_ratio,
        density_kg_m3: 3000.0,
    }
}

/// A ring with a round hollow and a rounded corner: some elements are curved.
fn odd_ring() -> Mesh {
    let mut body = rectangle(1, 0, (0.0, 3.0), (6.0, 8.0));
    let (left, right) = (Point::new(2.0, 5.5), Point::new(4.0, 5.5));
    let arc = |a, b| {
        let arc = Arc::from_ends(a, b, (1.0, 1.0), 0.0, false, true).expect("a half circle");
        Side {
            curve: Segment::Arc(arc),
            label: 9,
            size_mm: None,
        }
    };
    body.loops.push(vec![arc(left, right), arc(right, left)]);
    of(&body, 0.7)
}

/// Displacements `a + b x` along and `c y` away have even strains: held so on the border, the inside follows.
#[test]
fn law_patch_even_strain_is_met_exactly() {
    let mesh = odd_ring();
    let m = stuff(2000.0, 0.35);
    let elastic = Elastic::new(&mesh, &[(1, m)]).expect("elements");
    let even = |p: Point| [0.01 + 2e-3 * p.x, -1.5e-3 * p.y];
    let mut supports = Vec::new();
    for label in [0, 1, 2, 3, 9] {
        for node in mesh.nodes_on(label) {
            let [u, v] = even(mesh.nodes[node as usize]);
            for (axis, displacement_mm) in [(Axis::Along, u), (Axis::Away, v)] {
                supports.push(Support {
                    node,
                    axis,
                    displacement_mm,
                });
            }
        }
    }
    let held = elastic.hold(&supports, &[]).expect("held");
    let loads = Loads::none(&elastic);
    let solved = held.solve(&loads).expect("solved");
    for (node, place) in mesh.nodes.iter().enumerate() {
        let (got, want) = (solved.at(node as u32), even(*place));
        for k in 0..2 {
            // Displacements are about 0.02: ten digits of them.
            assert!(
                (got[k] - want[k]).abs() < 1e-10 * 0.02,
                "{got:?} {want:?} at {place:?}"
            );
        }
    }
    let stress = StressField::of(&elastic, &loads, &solved);
    let (bulk, shear) = m.lame();
    let whole = bulk * (2e-3 - 3e-3);
    let want = [whole + 4e-3 * shear, whole - 3e-3 * shear];
    for s in stress.corners.iter().flatten() {
        let off = [
            s.along_mpa - want[0],
            s.away_mpa - want[1],
            s.round_mpa - want[1],
            s.shear_mpa,
        ];
        assert!(off.iter().all(|o| o.abs() < 1e-10 * want[0].abs()), "{s:?}");
    }
}

/// A body free to swell evenly does so without stress; a pressure all round presses evenly.
#[test]
fn law_free_swelling_makes_no_stress_and_pressure_all_round_is_even() {
    let mesh = odd_ring();
    let m = stuff(2000.0, 0.35);
    let elastic = Elastic::new(&mesh, &[(1, m)]).expect("elements");
    let corner = mesh.nodes_on(3)[0];
    let pin = Support {
        node: corner,
        axis: Axis::Along,
        displacement_mm: 0.0,
    };
    let held = elastic.hold(&[pin], &[]).expect("held");
    let swollen = Loads::none(&elastic).swelling(&elastic, |_, _| 1e-3);
    let solved = held.solve(&swollen).expect("solved");
    let stress = StressField::of(&elastic, &swollen, &solved);
    let most = stress
        .peak_equivalent(&elastic, 1)
        .expect("a region")
        .stress_mpa;
    // 2 MPa is what it would take to stop it.
    assert!(most < 1e-10 * 2.0, "{most}");
    let mut pressed = Loads::none(&elastic);
    for label in [0, 1, 2, 3, 9] {
        pressed = pressed.pressure(&elastic, label, 5.0).expect("a label");
    }
    let solved = held.solve(&pressed).expect("solved");
    let stress = StressField::of(&elastic, &pressed, &solved);
    for s in stress.corners.iter().flatten() {
        let off = [
            s.along_mpa + 5.0,
            s.away_mpa + 5.0,
            s.round_mpa + 5.0,
            s.shear_mpa,
        ];
        assert!(off.iter().all(|o| o.abs() < 1e-9), "{s:?}");
    }
}

/// Betti: the work of one load on the other's displacements is the same both ways; and half the load's own work is
/// the energy stored; and the reactions carry the load.
#[test]
fn law_energy_is_symmetric_and_is_the_work_of_the_load() {
    let mesh = odd_ring();
    let elastic = Elastic::new(&mesh, &[(1, stuff(3000.0, 0.3))]).expect("elements");
    let supports = Support::on(&mesh, 3, Axis::Along, 0.0);
    let held = elastic.hold(&supports, &[]).expect("held");
    let none = || Loads::none(&elastic);
    let first = none().pressure(&elastic, 1, 3.0).expect("a label");
    let second = none()
        .turning(&elastic, 800.0)
        .pressure(&elastic, 9, 2.0)
        .expect("a label");
    let (u, v) = (
        held.solve(&first).expect("solved"),
        held.solve(&second).expect("solved"),
    );
    let work = |load: &Loads, moved: &Solved| -> f64 {
        load.force
            .iter()
            .zip(&moved.displacements_mm)
            .map(|(f, u)| f * u)
            .sum()
    };
    let (there, back) = (work(&first, &v), work(&second, &u));
    assert!((there - back).abs() < 1e-10 * there.abs(), "{there} {back}");
    let energy = elastic.energy_nmm(&u.displacements_mm);
    assert!((energy - 0.5 * work(&first, &u)).abs() < 1e-10 * energy);
    let reactions = elastic.reactions_n(&u.displacements_mm, &first);
    let along: f64 = mesh
        .nodes_on(3)
        .iter()
        .map(|n| reactions[Axis::Along.of(*n)])
        .sum();
    let area = std::f64::consts::PI * (64.0 - 9.0);
    assert!((along - 3.0 * area).abs() < 1e-9 * 3.0 * area, "{along}");
    let free = (0..mesh.nodes.len() as u32).filter(|n| !mesh.nodes_on(3).contains(n));
    let largest = free
        .map(|n| reactions[Axis::Along.of(n)].abs())
        .fold(0.0, f64::max);
    assert!(largest < 1e-10 * 3.0 * area, "{largest}");
}

/// A tube under pressure inside, held at both ends (plane strain): Lamé. Errors of displacement and stress for a size.
fn tube_errors(size: f64) -> (f64, f64) {
    let (a, b, p, e, v) = (2.0, 5.0, 7.0, 1000.0, 0.3);
    let mesh = of(&rectangle(1, 0, (0.0, a), (3.0, b)), size);
    let elastic = Elastic::new(&mesh, &[(1, stuff(e, v))]).expect("elements");
    let mut supports = Support::on(&mesh, 1, Axis::Along, 0.0);
    supports.extend(Support::on(&mesh, 3, Axis::Along, 0.0));
    let held = elastic.hold(&supports, &[]).expect("held");
    let loads = Loads::none(&elastic)
        .pressure(&elastic, 0, p)
        .expect("a label");
    let solved = held.solve(&loads).expect("solved");
    let c = p * a * a / (b * b - a * a);
    let exact_u = |r: f64| c * (1.0 + v) / e * ((1.0 - 2.0 * v) * r + b * b / r);
    let stress = StressField::of(&elastic, &loads, &solved);
    let (mut u_off, mut s_off, mut volume) = (0.0, 0.0, 0.0);
    for (number, nodes) in mesh.triangles.iter().enumerate() {
        let places = mesh.places(number);
        for (l, weight) in shape::rule() {
            let at = shape::look(&places, l, weight);
            let u: f64 = (0..6).map(|k| at.shape[k] * solved.at(nodes[k])[1]).sum();
            let hoop: f64 = (0..3)
                .map(|k| l[k] * stress.corners[number][k].round_mpa)
                .sum();
            u_off += at.volume * (u - exact_u(at.radius)).powi(2);
            s_off += at.volume * (hoop - c * (1.0 + b * b / (at.radius * at.radius))).powi(2);
            volume += at.volume;
        }
    }
    (f64::sqrt(u_off / volume), f64::sqrt(s_off / volume))
}

#[test]
fn order_tube_displacement_three_and_stress_two() {
    let sizes = [0.5, 0.25, 0.125];
    let errors = sizes.map(tube_errors);
    let order = |k: usize, f: &dyn Fn(usize) -> f64| (f(k) / f(k + 1)).log2();
    for k in 0..2 {
        let (u, s) = (order(k, &|i| errors[i].0), order(k, &|i| errors[i].1));
        // Meshes are not each other's halves: a tenth of an order is theirs.
        assert!(u > 2.8 && s > 1.9, "orders {u} and {s}: {errors:?}");
    }
}

/// Two rings pressed together: regions 1 (inner, label 0..) and 2 (outer, label 10..), drawn touching at `at`.
fn rings(inside: f64, at: f64, outside: f64, long: (f64, f64), size: f64) -> Mesh {
    let inner = of(&rectangle(1, 0, (0.0, inside), (long.0, at)), size);
    let outer = of(&rectangle(2, 10, (0.0, at), (long.1, outside)), size * 0.77);
    inner.beside(&outer)
}

fn pins(mesh: &Mesh) -> Vec<Support> {
    [3, 13]
        .iter()
        .flat_map(|label| Support::on(mesh, *label, Axis::Along, 0.0))
        .collect()
}

#[test]
fn law_press_without_overlap_has_no_pressure_and_a_gap_parts() {
    let mesh = rings(2.0, 3.0, 4.0, (2.0, 2.0), 0.3);
    let elastic = Elastic::new(
        &mesh,
        &[(1, stuff(2000.0, 0.35)), (2, stuff(70_000.0, 0.33))],
    )
    .expect("elements");
    let contact = Contact::new(&mesh, 2, 10).expect("a contact");
    let held = elastic.hold(&pins(&mesh), contact.nodes()).expect("held");
    let loads = Loads::none(&elastic);
    for overlap in [0.0, -0.01] {
        for grip in [Grip::Slip, Grip::Stick] {
            let answer = contact
                .press(&held, &loads, overlap, grip, None)
                .expect("settled");
            assert!(answer.line.iter().all(|p| p.pressure_mpa == 0.0));
            assert!(answer.solved.displacements_mm.iter().all(|u| *u == 0.0));
        }
    }
}

/// Rings of one length, free ends, no friction: plane stress is exact, and so is the mortar but for the elements.
#[test]
fn closed_form_press_of_two_rings_in_plane_stress_is_lame() {
    let (ri, r, ro, overlap) = (20.0, 24.0, 28.0, 0.05);
    let (inner, outer) = (stuff(2000.0, 0.38), stuff(70_000.0, 0.33));
    let q_outer = (ro * ro + r * r) / (ro * ro - r * r) + outer.poisson_ratio;
    let q_inner = (r * r + ri * ri) / (r * r - ri * ri) - inner.poisson_ratio;
    let want = overlap / (r * (q_outer / outer.modulus_mpa + q_inner / inner.modulus_mpa));
    let mesh = rings(ri, r, ro, (3.0, 3.0), 0.9);
    let elastic = Elastic::new(&mesh, &[(1, inner), (2, outer)]).expect("elements");
    let contact = Contact::new(&mesh, 2, 10).expect("a contact");
    let held = elastic.hold(&pins(&mesh), contact.nodes()).expect("held");
    let loads = Loads::none(&elastic);
    let answer = contact
        .press(&held, &loads, overlap, Grip::Slip, None)
        .expect("settled");
    for p in &answer.line {
        assert!((p.pressure_mpa / want - 1.0).abs() < 2e-3, "{p:?} {want}");
    }
    assert!(
        (answer.mean_pressure_mpa() / want - 1.0).abs() < 1e-5,
        "{} {want}",
        answer.mean_pressure_mpa()
    );
    assert!((answer.pressing_share() - 1.0).abs() < 1e-12);
}

/// What presses on one line presses on the other: the reaction of the whole is nothing, and parts of the line where the
/// overhanging ring ends stay in balance.
#[test]
fn law_press_of_uneven_rings_is_in_balance_and_parts_where_it_would_pull() {
    let mesh = rings(20.0, 24.0, 28.0, (12.0, 5.0), 0.5);
    let elastic = Elastic::new(
        &mesh,
        &[(1, stuff(2000.0, 0.38)), (2, stuff(70_000.0, 0.33))],
    )
    .expect("elements");
    // The outer ring is the shorter line.
    let contact = Contact::new(&mesh, 10, 2).expect("a contact");
    let first = |label| Support {
        node: mesh.nodes_on(label)[0],
        axis: Axis::Along,
        displacement_mm: 0.0,
    };
    let held = elastic
        .hold(&[first(3), first(13)], contact.nodes())
        .expect("held");
    let loads = Loads::none(&elastic);
    let slip = contact
        .press(&held, &loads, 0.05, Grip::Slip, None)
        .expect("settled");
    let stick = contact
        .press(&held, &loads, 0.05, Grip::Stick, Some(2))
        .expect("settled");
    for answer in [&slip, &stick] {
        assert!(answer.force_n() > 0.0);
        let stored = elastic.energy_nmm(&answer.solved.displacements_mm);
        // The energy is the work of the pressure over the overlap, half of it: shear does none, for nothing slides.
        let work = 0.5 * 0.05 * answer.force_n();
        assert!((stored / work - 1.0).abs() < 1e-9, "{stored} {work}");
    }
    let shear: f64 = stick.line.iter().map(|p| p.shear_mpa * p.area_mm2).sum();
    assert!(
        shear.abs() < 1e-9 * stick.force_n(),
        "the ring is held by the contact alone: {shear}"
    );
    assert!(stick.force_n() > slip.force_n(), "holding fast is stiffer");
    // The inner ring swells to a barrel: the lines part at both ends.
    let swollen = Loads::none(&elastic).swelling(&elastic, |region, node| {
        if region == 1 {
            2e-3 * (1.0 - (mesh.nodes[node as usize].x - 2.5).powi(2) / 4.0).max(0.0)
        } else {
            0.0
        }
    });
    let parted = contact
        .press(&held, &swollen, 0.0, Grip::Slip, None)
        .expect("settled");
    let share = parted.pressing_share();
    assert!(share > 0.05 && share < 0.95, "{share}");
    let ends = [parted.line.first(), parted.line.last()];
    assert!(ends.iter().flatten().all(|p| p.pressure_mpa == 0.0));
    for p in &parted.line {
        let is_one = if p.pressure_mpa > 0.0 {
            p.gap_mm.abs() < 1e-12
        } else {
            p.gap_mm > 0.0
        };
        assert!(is_one, "pressure or gap, never both: {p:?}");
    }
}

#[test]
fn law_the_same_press_gives_the_same_bytes() {
    let ask = || {
        let mesh = rings(20.0, 24.0, 28.0, (6.0, 5.0), 0.7);
        let elastic = Elastic::new(
            &mesh,
            &[(1, stuff(2000.0, 0.38)), (2, stuff(70_000.0, 0.33))],
        )
        .expect("elements");
        let contact = Contact::new(&mesh, 10, 2).expect("a contact");
        let held = elastic.hold(&pins(&mesh), contact.nodes()).expect("held");
        contact
            .press(&held, &Loads::none(&elastic), 0.05, Grip::Stick, None)
            .expect("settled")
    };
    assert_eq!(ask(), ask());
}

#[test]
fn law_what_cannot_be_solved_is_named() {
    let mesh = rings(2.0, 3.0, 4.0, (2.0, 2.0), 0.5);
    let good = stuff(2000.0, 0.3);
    assert_eq!(
        Elastic::new(&mesh, &[(1, good)]).err(),
        Some(ElementsError::NoMaterial(2))
    );
    let bad = Elastic::new(&mesh, &[(1, stuff(0.0, 0.3)), (2, good)]);
    assert!(matches!(bad.err(), Some(ElementsError::OutOfRange { .. })));
    let elastic = Elastic::new(&mesh, &[(1, good), (2, good)]).expect("elements");
    assert_eq!(elastic.hold(&[], &[]).err(), Some(ElementsError::Loose));
    assert_eq!(
        Contact::new(&mesh, 2, 77).err(),
        Some(ElementsError::NoSuchLabel(77))
    );
    assert_eq!(Contact::new(&mesh, 2, 12).err(), Some(ElementsError::Apart));
    let below = of(&rectangle(1, 0, (0.0, -1.0), (1.0, 1.0)), 0.5);
    assert!(matches!(
        Elastic::new(&below, &[(1, good)]).err(),
        Some(ElementsError::BelowAxis(_))
    ));
}

fn conducting() -> Conduct {
    Conduct {
        conductivity_w_m_k: 0.3,
        capacity_j_kg_k: 1900.0,
        density_kg_m3: 1000.0,
    }
}

/// Heat through a tube wall cooled on both faces.
#[test]
fn closed_form_heat_at_rest_through_a_tube_wall() {
    let (a, b) = (5.0, 9.0);
    let mesh = of(&rectangle(1, 0, (0.0, a), (4.0, b)), 0.5);
    let k = conducting();
    let film = |label, film_w_m2_k, ambient_degc| Cooled {
        label,
        film_w_m2_k,
        ambient_degc,
    };
    let heat = Conduction::new(&mesh, &[(1, k)])
        .and_then(|c| c.cooled(&film(0, 400.0, 90.0)))
        .and_then(|c| c.cooled(&film(2, 50.0, 20.0)))
        .expect("elements");
    let temperatures = heat.at_rest(&[]).expect("at rest");
    // Per radian and metre: film, wall, film in series.
    let parts = [
        1.0 / (400.0 * a * 1e-3),
        (b / a).ln() / k.conductivity_w_m_k,
        1.0 / (50.0 * b * 1e-3),
    ];
    let flow = 70.0 / parts.iter().sum::<f64>();
    for (node, place) in mesh.nodes.iter().enumerate() {
        let want = 90.0 - flow * (parts[0] + (place.y / a).ln() / k.conductivity_w_m_k);
        assert!(
            (temperatures[node] - want).abs() < 2e-3,
            "{} {want}",
            temperatures[node]
        );
    }
}

/// A slab suddenly cooled: Fourier's series. The error at the middle for a number of steps.
fn slab_error(steps: usize, scheme: Scheme) -> f64 {
    // Heat flows along the axis: a slab whatever the radius.
    let mesh = of(&rectangle(1, 0, (0.0, 10.0), (2.0, 10.5)), 0.1);
    let k = conducting();
    let heat = Conduction::new(&mesh, &[(1, k)]).expect("elements");
    let held = [mesh.nodes_on(1), mesh.nodes_on(3)].concat();
    let diffusivity = k.conductivity_w_m_k / (k.capacity_j_kg_k * k.density_kg_m3) * 1e6;
    let wait = 2.0;
    let mut temperatures: Vec<f64> = mesh
        .nodes
        .iter()
        .map(|p| 40.0 + 160.0 * (std::f64::consts::PI * p.x / 2.0).sin())
        .collect();
    for node in &held {
        temperatures[*node as usize] = 40.0;
    }
    let warming = Warming::new(&heat, &held, scheme, wait / steps as f64).expect("steps");
    for _ in 0..steps {
        warming.step(&mut temperatures).expect("a step");
    }
    let fade = (-diffusivity * (std::f64::consts::PI / 2.0).powi(2) * wait).exp();
    let off = mesh.nodes.iter().zip(&temperatures).map(|(p, t)| {
        let want = 40.0 + 160.0 * fade * (std::f64::consts::PI * p.x / 2.0).sin();
        (t - want).abs()
    });
    off.fold(0.0, f64::max)
}

#[test]
fn order_of_the_time_schemes() {
    for (scheme, want) in [
        (Scheme::Share(1.0), 1.0),
        (Scheme::Share(0.5), 2.0),
        (Scheme::TwoStage, 2.0),
    ] {
        let errors = [4, 8, 16].map(|steps| slab_error(steps, scheme));
        let order = (errors[1] / errors[2]).log2();
        assert!(order > want - 0.1, "{scheme:?}: {order}, {errors:?}");
    }
}

/// Heat lost is heat that flowed out, step by step, whatever the scheme.
#[test]
fn law_heat_lost_is_heat_that_flowed_out() {
    let mesh = odd_ring();
    let cooled = Cooled {
        label: 9,
        film_w_m2_k: 500.0,
        ambient_degc: 40.0,
    };
    let heat = Conduction::new(&mesh, &[(1, conducting())])
        .and_then(|c| c.cooled(&cooled))
        .expect("elements");
    let warming = Warming::new(&heat, &[], Scheme::Share(1.0), 0.5).expect("steps");
    let mut temperatures = vec![200.0; mesh.nodes.len()];
    let mut lost = 0.0;
    let before = heat.stored_j(&temperatures);
    for _ in 0..10 {
        warming.step(&mut temperatures).expect("a step");
        lost += 0.5 * heat.flows_w(&temperatures).iter().sum::<f64>();
    }
    let after = heat.stored_j(&temperatures);
    assert!(
        (before - after - lost).abs() < 1e-9 * before,
        "{before} {after} {lost}"
    );
    assert!(lost > 0.0);
    let settled = Warming::new(&heat, &[], Scheme::TwoStage, 1e7).expect("steps");
    for _ in 0..4 {
        settled.step(&mut temperatures).expect("a step");
    }
    assert!(
        temperatures.iter().all(|t| (t - 40.0).abs() < 1e-6),
        "it ends at the ambient"
    );
}
