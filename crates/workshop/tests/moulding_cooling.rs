//! Cooling: closed forms against their digits, and the section's finite elements against the closed forms.

mod numbers;

use numbers::{Case, cases};
use whirlwright_kit::elements::{Conduct, Conduction, Scheme, Warming};
use whirlwright_kit::mesh::{Body, Mesh, Side as Edge, Wanted, mesh};
use whirlwright_kit::revolve::{Point, Segment};
use whirlwright_workshop::design;
use whirlwright_workshop::moulding::cooling::{CoolingAsked, HalfCooling, cool};
use whirlwright_workshop::moulding::cooling_forms::{
    Body as Touching, Freezing, Look, contact_degc, plate_by_series_s, plate_s, plate_share,
    plate_with_film_s, rod_s, shear_heating_k,
};
use whirlwright_workshop::moulding::{Given, Middle, Section};
use whirlwright_workshop::part::job::{Job, MaterialKind, Piece, PieceMaterial, Side};
use whirlwright_workshop::part::mould_wishes::{MouldWishes, ProcessWishes};
use whirlwright_workshop::part::{Outline, Range};

const COOLING: &str = include_str!("../../../validation/moulding/cooling.toml");

/// The cases whose names begin so, at least one.
fn named(start: &str) -> Vec<Case> {
    let mut found = cases(COOLING);
    found.retain(|case| case.name.starts_with(start));
    assert!(!found.is_empty(), "no case {start}…");
    found
}

#[test]
fn closed_form_plates_and_rods() {
    for case in named("plate_share_") {
        case.check(|key| {
            let look = if key == "centre" {
                Look::Centre
            } else {
                Look::Mean
            };
            plate_share(case.need("fourier"), look)
        });
    }
    for case in named("plate_time_") {
        let of = |key: &str| case.need(key);
        let share = (of("eject_degc") - of("wall_degc")) / (of("melt_degc") - of("wall_degc"));
        let (wall, a) = (of("wall_mm"), of("diffusivity"));
        case.check(|key| match key {
            "centre_s" => plate_s(wall, a, share, Look::Centre),
            "mean_s" => plate_s(wall, a, share, Look::Mean),
            "centre_by_series_s" => plate_by_series_s(wall, a, share, Look::Centre),
            "mean_by_series_s" => plate_by_series_s(wall, a, share, Look::Mean),
            other => panic!("{other}"),
        });
    }
    for case in named("rod_time") {
        let of = |key: &str| case.need(key);
        case.check(|_| rod_s(of("diameter_mm"), of("diffusivity"), of("share")));
    }
}

#[test]
fn closed_form_touch_and_shear() {
    for case in named("contact_") {
        let of = |key: &str| case.need(key);
        let body = |name: &str| Touching {
            conducts_w_m_k: of(&format!("{name}_w_m_k")),
            density_kg_m3: of(&format!("{name}_kg_m3")),
            stores_j_kg_k: of(&format!("{name}_j_kg_k")),
            temperature_degc: of(&format!("{name}_degc")),
        };
        let (melt, steel) = (body("melt"), body("steel"));
        case.check(|key| match key {
            "contact_degc" => contact_degc(&melt, &steel),
            "melt_effusivity" => melt.effusivity_j(),
            "steel_effusivity" => steel.effusivity_j(),
            other => panic!("{other}"),
        });
    }
    for case in named("shear_heating_") {
        let of = |key: &str| case.need(key);
        case.check(|_| shear_heating_k(of("drop_mpa"), of("density_kg_m3"), of("stores_j_kg_k")));
    }
}

fn freezing(case: &Case) -> Freezing {
    let of = |key: &str| case.need(key);
    Freezing {
        wall_degc: of("wall_degc"),
        freezes_degc: of("freezes_degc"),
        melt_degc: of("melt_degc"),
        solid_m2_per_s: of("solid"),
        melt_m2_per_s: of("melt"),
        conducts_ratio: of("conducts"),
        solid_j_kg_k: of("solid_j_kg_k"),
        latent_j_kg: of("latent_j_kg"),
    }
}

#[test]
fn closed_form_a_freezing_front() {
    for case in named("front_of_melt_at_its_freezing_point") {
        // The melt is at its freezing point: nothing of it but the latent heat is in the way.
        let still = Freezing {
            wall_degc: 0.0,
            freezes_degc: 100.0,
            melt_degc: 100.0,
            solid_m2_per_s: 1e-7,
            melt_m2_per_s: 1e-7,
            conducts_ratio: 1.0,
            solid_j_kg_k: 1000.0,
            latent_j_kg: 1e5 / case.need("stefan"),
        };
        case.check(|_| still.front_factor());
    }
    for case in named("front_of_a_hotter_melt") {
        case.check(|_| freezing(&case).front_factor());
    }
}

/// A flat bar far from the axis, one element high: x from 0 to `long_mm`.
fn bar(long_mm: f64, size_mm: f64) -> Mesh {
    let corner = |x: f64, y: f64| Point::new(x, 1000.0 + y);
    let corners = [
        corner(0.0, 0.0),
        corner(long_mm, 0.0),
        corner(long_mm, size_mm),
        corner(0.0, size_mm),
    ];
    let sides = (0..4).map(|k| Edge {
        curve: Segment::Line(corners[k], corners[(k + 1) % 4]),
        label: k as u32,
        size_mm: None,
    });
    let body = Body {
        region: 1,
        loops: vec![sides.collect()],
    };
    mesh(&[body], &Wanted::of_size_mm(size_mm)).expect("a mesh")
}

/// Latent heat smeared over some degrees as specific heat, properties by the temperature of the element: the front of the
/// finite elements goes as Neumann's.
#[test]
fn closed_form_a_front_with_smeared_latent_heat_follows_neumanns() {
    let case = named("front_of_a_hotter_melt").remove(0);
    let exact = freezing(&case);
    // Density 900 and what the case says give the conductivities.
    let (density, solid_w) = (900.0, exact.solid_m2_per_s * 900.0 * exact.solid_j_kg_k);
    let melt_w = solid_w * exact.conducts_ratio;
    let melt_c = melt_w / (density * exact.melt_m2_per_s);
    let run = |size_mm: f64, half_k: f64, step_s: f64| {
        let bar = bar(6.0, size_mm);
        let held: Vec<u32> = bar.nodes_on(3);
        let mut state = vec![exact.melt_degc; bar.nodes.len()];
        for node in &held {
            state[*node as usize] = exact.wall_degc;
        }
        let until = 12.0;
        for _ in 0..(until / step_s) as usize {
            let each: Vec<Conduct> = bar
                .triangles
                .iter()
                .map(|t| {
                    let mean: f64 = t.iter().map(|n| state[*n as usize]).sum::<f64>() / 6.0;
                    let (low, high) = (exact.freezes_degc - half_k, exact.freezes_degc + half_k);
                    // The spread of an element over the smear: what of its heat is latent now.
                    let ends = t.iter().map(|n| state[*n as usize]);
                    let (least, most) =
                        ends.fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)));
                    let inside =
                        (most.min(high) - least.max(low)).max(0.0) / (most - least).max(1e-9);
                    let latent = exact.latent_j_kg / (high - low) * inside.min(1.0);
                    let is_solid = mean < exact.freezes_degc;
                    Conduct {
                        conductivity_w_m_k: if is_solid { solid_w } else { melt_w },
                        capacity_j_kg_k: latent
                            + if is_solid { exact.solid_j_kg_k } else { melt_c },
                        density_kg_m3: density,
                    }
                })
                .collect();
            let conduction = Conduction::of_triangles(&bar, &each).expect("a conduction");
            let warming =
                Warming::new(&conduction, &held, Scheme::Share(1.0), step_s).expect("steps");
            warming.step(&mut state).expect("a step");
        }
        // The front along the lower edge.
        let mut line: Vec<(f64, f64)> = bar
            .nodes_on(0)
            .iter()
            .map(|n| (bar.nodes[*n as usize].x, state[*n as usize]))
            .collect();
        line.sort_by(|a, b| a.0.total_cmp(&b.0));
        let cross = line
            .windows(2)
            .find(|w| w[1].1 > exact.freezes_degc)
            .expect("a front");
        let share = (exact.freezes_degc - cross[0].1) / (cross[1].1 - cross[0].1);
        let front = cross[0].0 + share * (cross[1].0 - cross[0].0);
        (front / exact.front_mm(until) - 1.0).abs()
    };
    // A front stands to a part of an element, and an element is a twelfth of its depth at the coarsest.
    for (size, half, step) in [(0.4, 16.0, 0.4), (0.2, 8.0, 0.1)] {
        let off = run(size, half, step);
        assert!(off < 0.005, "{off} at {size}");
    }
}

fn design(outline: &str, film: f64, wall_degc: f64) -> design::Given {
    let piece = Piece {
        name: "half".to_owned(),
        side: Side::Right,
        outline: Outline::read(outline).expect("a path"),
        material: PieceMaterial {
            density_g_cm3: 1.05,
            shelf_id: Some("abs".to_owned()),
            kind: MaterialKind::Polymer,
            why: "stated here".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    let job = Job {
        name: "cooling".to_owned(),
        pieces: vec![piece],
        mould: Some(MouldWishes {
            pressed_w_m2_k: Some(Range::exactly(film)),
            loose_w_m2_k: Some(Range::exactly(film)),
            cut_for_share: Some(0.0),
            ..MouldWishes::default()
        }),
        process: Some(ProcessWishes {
            melt_degc: Some(240.0),
            wall_degc: Some(wall_degc),
            ..ProcessWishes::default()
        }),
        ..Job::default()
    };
    design::Given::new(job).expect("a sound drawing")
}

fn cooled(design: &design::Given, size_mm: Option<f64>) -> (Given, HalfCooling) {
    let given = Given::of_design(design).expect("a shot");
    let section = Section::of_design(design, &given.piece).expect("a section");
    let middle = Middle::of_section(&section.loops, 12, false).expect("a middle surface");
    let asked = CoolingAsked {
        pressed_s: 3.0,
        size_mm,
        is_refined: false,
    };
    let out = cool(&given, &section, &middle, &asked).expect("it cools");
    (given, out)
}

const WASHER: &str = "M 0 30 L 3 30 L 3 60 L 0 60 Z";
/// As good as no film at all.
const TOUCH: f64 = 1e7;

#[test]
fn closed_form_a_wide_washer_cools_as_a_plate_with_and_without_a_film() {
    let (given, out) = cooled(&design(WASHER, TOUCH, 60.0), Some(0.3));
    let a = given.resin.heat.diffusivity_m2_per_s.likely;
    let share = (given.resin.heat.eject_degc - 60.0) / 180.0;
    let exact = plate_by_series_s(3.0, a, share, Look::Centre);
    // Ten elements across and sixty steps of second order: parts in a thousand; the ends cool the far middle by less.
    assert!(
        (out.needed_s / exact - 1.0).abs() < 2e-3,
        "{} for {exact}",
        out.needed_s
    );
    assert!(
        (out.plate_s / exact - 1.0).abs() < 0.01,
        "{} for {exact}",
        out.plate_s
    );
    // What is left on the mean, then.
    let mean = 60.0 + 180.0 * plate_share(a * exact / 9e-6, Look::Mean);
    // Two ends of half a wall, of ten walls' length, are some 18 K colder.
    assert!(
        (out.mean_degc - mean).abs() < 2.5 && out.mean_degc < mean,
        "{} for {mean}",
        out.mean_degc
    );
    let mid = out.hot.axial_mm;
    assert!(
        (mid - 1.5).abs() < 0.05 && out.hot.stretch == "web",
        "{:?}",
        out.hot
    );

    let film = 800.0;
    let (given, out) = cooled(&design(WASHER, film, 60.0), Some(0.3));
    let biot = film * 1.5e-3 / given.resin.heat.solid_w_m_k;
    let exact = plate_with_film_s(3.0, a, share, biot);
    assert!(
        (out.needed_s / exact - 1.0).abs() < 3e-3,
        "{} for {exact}",
        out.needed_s
    );
}

#[test]
fn closed_form_a_long_rod_cools_as_a_rod() {
    let rod = design("M 0 0 L 60 0 L 60 3 L 0 3 Z", TOUCH, 60.0);
    let (given, out) = cooled(&rod, Some(0.3));
    let share = (given.resin.heat.eject_degc - 60.0) / 180.0;
    let exact = rod_s(6.0, given.resin.heat.diffusivity_m2_per_s.likely, share);
    assert!(
        (out.needed_s / exact - 1.0).abs() < 3e-3,
        "{} for {exact}",
        out.needed_s
    );
    assert!(out.hot.radius_mm < 0.2, "{:?}", out.hot);
}

#[test]
fn law_hotter_walls_thicker_walls_and_poorer_films_take_longer() {
    let of = |outline: &str, film: f64, wall: f64| cooled(&design(outline, film, wall), None).1;
    let base = of(WASHER, 2500.0, 60.0);
    assert!(of(WASHER, 2500.0, 70.0).needed_s > base.needed_s);
    assert!(of(WASHER, 500.0, 60.0).needed_s > base.needed_s);
    let thick = of("M 0 30 L 6 30 L 6 60 L 0 60 Z", TOUCH, 60.0);
    let thin = of(WASHER, TOUCH, 60.0);
    // With the square of the wall.
    assert!((thick.needed_s / thin.needed_s - 4.0).abs() < 0.02);
    // The heat given off is that of its plastic from melt to the mean.
    let share = (240.0 - thin.mean_degc) / (240.0 - thick.mean_degc);
    assert!((thick.taken_j / thin.taken_j * share - 2.0).abs() < 0.01);
    // Of a thin web and a thick hub the hub is the last, and it is named.
    let hub = of("M 0 3 L 12 3 L 12 8 L 2 8 L 2 30 L 0 30 Z", 2500.0, 60.0);
    assert_eq!(hub.hot.stretch, "hub");
    assert!(hub.hot.wall_mm > 4.5, "{:?}", hub.hot);
    for profile in &hub.profiles {
        let t: Vec<f64> = profile.points.iter().map(|p| p.temperature_degc).collect();
        let middle = t[t.len() / 2];
        assert!(
            middle > t[0] && middle > t[t.len() - 1] && middle < 240.5,
            "{t:?}"
        );
        assert!(t.iter().all(|t| *t > 59.0), "{t:?}");
    }
    let last = hub.profiles.last().expect("a last moment");
    let most = last
        .points
        .iter()
        .map(|p| p.temperature_degc)
        .fold(0.0, f64::max);
    assert!((most - 88.0).abs() < 2.0, "{most}");
}

#[test]
fn order_the_time_settles_with_the_mesh() {
    let of = |size: f64| cooled(&design(WASHER, 2500.0, 60.0), Some(size)).1.needed_s;
    let fine = of(0.15);
    let off: Vec<f64> = [1.5, 0.75, 0.375]
        .map(|size| (of(size) / fine - 1.0).abs())
        .to_vec();
    assert!(off[1] < off[0] && off[2] < 1e-3, "{off:?}");
}

#[test]
fn law_a_mesh_that_cannot_be_is_refused_in_words() {
    let design = design(WASHER, 2500.0, 60.0);
    let given = Given::of_design(&design).expect("a shot");
    let section = Section::of_design(&design, &given.piece).expect("a section");
    let middle = Middle::of_section(&section.loops, 12, false).expect("a middle surface");
    for size in [0.0, -1.0, f64::NAN, 1e-7] {
        let asked = CoolingAsked {
            pressed_s: 1.0,
            size_mm: Some(size),
            is_refined: false,
        };
        let refused = cool(&given, &section, &middle, &asked).expect_err("no mesh");
        assert!(refused.to_string().contains("expected") || refused.to_string().contains("nodes"));
    }
}
