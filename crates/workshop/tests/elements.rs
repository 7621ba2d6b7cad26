//! The finite elements against formulas, printed values and an independent program: `validation/elements`.

mod cases;
mod tree;

use std::collections::BTreeMap;

use cases::cases_of;
use toml::{Table, Value};
use tree::file;
use whirlwright_kit::elements::{
    Axis, Conduct, Conduction, Contact, Cooled, Elastic, Grip, Loads, Material, Scheme, Solved,
    StressField, Support, Warming,
};
use whirlwright_kit::mesh::{Body, Border, Mesh, Side, Wanted, mesh};
use whirlwright_kit::revolve::{Point, Segment};

/// What a case gives, by key.
struct Inputs(Table);

impl Inputs {
    fn text(&self, key: &str) -> &str {
        let value = self.0.get(key).and_then(Value::as_str);
        value.unwrap_or_else(|| panic!("an input `{key}`"))
    }

    fn number(&self, key: &str) -> f64 {
        let text = self.text(key);
        text.parse().unwrap_or_else(|_| panic!("`{key}` is {text}"))
    }
}

/// A ring between two radii; its sides are `label` (low), + 1 (right), + 2 (high), + 3 (left).
fn ring(region: u32, label: u32, low: f64, high: f64, length: f64, size_mm: f64) -> Mesh {
    let corners = [(0.0, low), (length, low), (length, high), (0.0, high)];
    let place = |k: usize| Point::new(corners[k % 4].0, corners[k % 4].1);
    let side = |k: usize| Side {
        curve: Segment::Line(place(k), place(k + 1)),
        label: label + k as u32,
        size_mm: None,
    };
    let body = Body {
        region,
        loops: vec![(0..4).map(side).collect()],
    };
    mesh(&[body], &Wanted::of_size_mm(size_mm)).expect("a mesh")
}

/// Free ends are held on one side, as symmetry does; held ends on both.
fn supports(mesh: &Mesh, given: &Inputs, labels: &[u32]) -> Vec<Support> {
    let held = given.text("ends") == "held";
    labels
        .iter()
        .flat_map(|label| {
            let mut all = Support::on(mesh, label + 3, Axis::Along, 0.0);
            if held {
                all.extend(Support::on(mesh, label + 1, Axis::Along, 0.0));
            }
            all
        })
        .collect()
}

/// The mean over the nodes of a side.
fn mean(mesh: &Mesh, label: u32, of: impl Fn(u32) -> Option<f64>) -> f64 {
    let values: Vec<f64> = mesh.nodes_on(label).into_iter().filter_map(of).collect();
    values.iter().sum::<f64>() / values.len() as f64
}

fn away(mesh: &Mesh, solved: &Solved, label: u32) -> f64 {
    mean(mesh, label, |node| Some(solved.at(node)[1]))
}

fn press(given: &Inputs) -> BTreeMap<String, f64> {
    let n = |key: &str| given.number(key);
    let (length, size) = (n("length_mm"), n("size_mm"));
    let (low, seat, high) = (n("inside_mm"), n("seat_mm"), n("outside_mm"));
    let inner = ring(1, 0, low, seat, length, size);
    let outer = ring(2, 10, seat, high, length, 0.8 * size);
    let mesh = inner.beside(&outer);
    let material = |which: &str| Material {
        modulus_mpa: n(&format!("{which}_modulus_mpa")),
        poisson_ratio: n(&format!("{which}_poisson")),
        density_kg_m3: 0.0,
    };
    let materials = [(1, material("inner")), (2, material("outer"))];
    let elastic = Elastic::new(&mesh, &materials).expect("elements");
    let contact = Contact::new(&mesh, 2, 10).expect("a contact");
    let supports = supports(&mesh, given, &[0, 10]);
    let held = elastic.hold(&supports, contact.nodes()).expect("held");
    let expansion = [n("inner_expansion_per_k"), n("outer_expansion_per_k")];
    let loads = Loads::none(&elastic).swelling(&elastic, |region, _| {
        n("warmer_k") * expansion[region as usize - 1]
    });
    let answer = contact.press(&held, &loads, n("overlap_mm"), Grip::Slip, None);
    let answer = answer.expect("settled");
    let stress = StressField::of(&elastic, &loads, &answer.solved);
    let round = |region, label| {
        mean(&mesh, label, |node| {
            Some(stress.at(&elastic, region, node)?.round_mpa)
        })
    };
    BTreeMap::from([
        ("pressure_mpa".to_owned(), answer.mean_pressure_mpa()),
        ("outer_bore_round_mpa".to_owned(), round(2, 10)),
        ("outer_outside_round_mpa".to_owned(), round(2, 12)),
        ("inner_bore_round_mpa".to_owned(), round(1, 0)),
        ("inner_seat_round_mpa".to_owned(), round(1, 2)),
        (
            "outside_growth_mm".to_owned(),
            away(&mesh, &answer.solved, 12),
        ),
        (
            "inside_growth_mm".to_owned(),
            away(&mesh, &answer.solved, 0),
        ),
    ])
}

fn disc(given: &Inputs) -> BTreeMap<String, f64> {
    let n = |key: &str| given.number(key);
    let (low, high) = (n("inside_mm"), n("outside_mm"));
    let mesh = ring(1, 0, low, high, n("length_mm"), n("size_mm"));
    let material = Material {
        modulus_mpa: n("modulus_mpa"),
        poisson_ratio: n("poisson"),
        density_kg_m3: n("density_kg_m3"),
    };
    let elastic = Elastic::new(&mesh, &[(1, material)]).expect("elements");
    let held = elastic
        .hold(&supports(&mesh, given, &[0]), &[])
        .expect("held");
    let speed = n("speed_rpm") * std::f64::consts::PI / 30.0;
    let loads = Loads::none(&elastic).turning(&elastic, speed);
    let solved = held.solve(&loads).expect("solved");
    let stress = StressField::of(&elastic, &loads, &solved);
    let round = |label| {
        mean(&mesh, label, |node| {
            Some(stress.at(&elastic, 1, node)?.round_mpa)
        })
    };
    BTreeMap::from([
        ("inside_growth_mm".to_owned(), away(&mesh, &solved, 0)),
        ("outside_growth_mm".to_owned(), away(&mesh, &solved, 2)),
        ("bore_round_mpa".to_owned(), round(0)),
        ("outside_round_mpa".to_owned(), round(2)),
    ])
}

/// A cylinder cooled on its outside, or a slab (a tube's wall along the axis) cooled at one end: the middle over time.
fn cooling(given: &Inputs, wanted: &[String]) -> BTreeMap<String, f64> {
    let n = |key: &str| given.number(key);
    let half = n("half_mm");
    let is_slab = given.text("solve") == "slab";
    let (mesh, outside) = if is_slab {
        (ring(1, 0, 9.0, 9.3, half, n("size_mm")), 1)
    } else {
        (ring(1, 0, 0.0, half, 0.3, n("size_mm")), 2)
    };
    let conduct = Conduct {
        conductivity_w_m_k: n("conductivity_w_m_k"),
        capacity_j_kg_k: n("capacity_j_kg_k"),
        density_kg_m3: n("density_kg_m3"),
    };
    let mut heat = Conduction::new(&mesh, &[(1, conduct)]).expect("elements");
    let mut temperatures = vec![n("start_degc"); mesh.nodes.len()];
    let mut held = Vec::new();
    if given.text("film_w_m2_k") == "none" {
        held = mesh.nodes_on(outside);
        for node in &held {
            temperatures[*node as usize] = n("ambient_degc");
        }
    } else {
        let cooled = Cooled {
            label: outside,
            film_w_m2_k: n("film_w_m2_k"),
            ambient_degc: n("ambient_degc"),
        };
        heat = heat.cooled(&cooled).expect("a label");
    }
    let after = |key: &String| -> f64 {
        let text = key.trim_start_matches("after_").trim_end_matches("_s");
        text.parse().expect("a time")
    };
    let mut times: Vec<(f64, &String)> = wanted.iter().map(|key| (after(key), key)).collect();
    times.sort_by(|a, b| a.0.total_cmp(&b.0));
    let step = times[0].0 / 50.0;
    let warming = Warming::new(&heat, &held, Scheme::TwoStage, step).expect("steps");
    let middle = if is_slab { 3 } else { 0 };
    let mut found = BTreeMap::new();
    let mut done = 0;
    for (time, key) in times {
        let steps = (time / step).round() as usize;
        for _ in done..steps {
            warming.step(&mut temperatures).expect("a step");
        }
        done = steps;
        let at = mean(&mesh, middle, |node| Some(temperatures[node as usize]));
        found.insert(key.clone(), at);
    }
    found
}

/// The mesh of a text file: nodes, triangles with their region, edges of the two lines.
fn read_mesh(path: &str) -> Mesh {
    let text = file(path).text;
    let mut rows = text.lines().map(|line| line.split(' ').collect::<Vec<_>>());
    let sizes = rows.next().expect("sizes");
    let count = |at: usize| sizes[at].parse::<usize>().expect("a count");
    let mut mesh = Mesh::default();
    for row in rows.by_ref().take(count(0)) {
        let at = |k: usize| row[k].parse().expect("a place");
        mesh.nodes.push(Point::new(at(0), at(1)));
    }
    let whole = |row: &[&str], k: usize| row[k].parse::<u32>().expect("a number");
    for row in rows.by_ref().take(count(1)) {
        mesh.triangles.push(std::array::from_fn(|k| whole(&row, k)));
        mesh.regions.push(whole(&row, 6));
    }
    for row in rows {
        let nodes: [u32; 3] = std::array::from_fn(|k| whole(&row, k));
        let holds = |t: &[u32; 6]| nodes.iter().all(|node| t.contains(node));
        let triangle = mesh.triangles.iter().position(holds).expect("its triangle");
        mesh.borders.push(Border {
            nodes,
            triangle: triangle as u32,
            region: mesh.regions[triangle],
            label: whole(&row, 3),
        });
    }
    mesh
}

/// 1 MPa on both faces of the seat, on the mesh the other program had.
fn twin(given: &Inputs) -> BTreeMap<String, f64> {
    let mesh = read_mesh(given.text("mesh"));
    let material = |modulus_mpa, poisson_ratio| Material {
        modulus_mpa,
        poisson_ratio,
        density_kg_m3: 0.0,
    };
    let materials = [(1, material(2000.0, 0.38)), (2, material(70_000.0, 0.33))];
    let elastic = Elastic::new(&mesh, &materials).expect("elements");
    let first = |label: u32| {
        let corners = mesh.border(label).flat_map(|b| [b.nodes[0], b.nodes[1]]);
        corners.min().expect("a line")
    };
    let pins = [1, 2].map(|label| Support {
        node: first(label),
        axis: Axis::Along,
        displacement_mm: 0.0,
    });
    let held = elastic.hold(&pins, &[]).expect("held");
    let loads = Loads::none(&elastic)
        .pressure(&elastic, 1, 1.0)
        .and_then(|loads| loads.pressure(&elastic, 2, 1.0));
    let solved = held.solve(&loads.expect("labels")).expect("solved");
    BTreeMap::from([
        (
            "energy_nmm".to_owned(),
            elastic.energy_nmm(&solved.displacements_mm),
        ),
        ("body_seat_away_mm".to_owned(), solved.at(first(1))[1]),
        ("ring_seat_away_mm".to_owned(), solved.at(first(2))[1]),
    ])
}

/// Every case of a file, solved and compared.
fn check(path: &str, kind: &str) {
    let text = file(path).text;
    let table: Table = text.parse().expect("a case file");
    let rows = table["case"].as_array().expect("cases");
    let cases = cases_of(path, &text).expect("cases");
    let mut count = 0;
    let mut failed = Vec::new();
    for (row, case) in rows.iter().zip(&cases).filter(|(_, c)| c.kind == kind) {
        let given = Inputs(row["inputs"].as_table().expect("inputs").clone());
        let wanted: Vec<String> = case.values.keys().cloned().collect();
        let found = match given.text("solve") {
            "press" => press(&given),
            "disc" => disc(&given),
            "twin" => twin(&given),
            _ => cooling(&given, &wanted),
        };
        for (key, printed) in &case.values {
            let want: f64 = printed.parse().expect("a number");
            let tolerance = case.tolerances.get(key).or(case.tolerances.get(""));
            let tolerance: f64 = tolerance.expect("a tolerance").parse().expect("a number");
            let allowed = if case.relative {
                tolerance * want.abs()
            } else {
                tolerance
            };
            let got = found[key];
            count += 1;
            // No number at all fails too.
            if got.is_nan() || (got - want).abs() > allowed {
                failed.push(format!("{} {key}: {got} for {printed}", case.name));
            }
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    assert!(count > 0, "{path} has no case of this kind");
}

#[test]
fn closed_form_rings_discs_and_cooling() {
    check("validation/elements/closed_forms.toml", "closed_form");
}

#[test]
fn published_rings() {
    check("validation/elements/published.toml", "published");
}

#[test]
fn twin_the_same_mesh_in_another_program() {
    check("validation/elements/twin.toml", "twin");
}
