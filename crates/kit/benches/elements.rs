//! How long the finite elements take: a shell with a ring pressed on, meshed, held, pressed and its stress recovered.
//! `cargo bench -p whirlwright-kit --bench elements` prints a table; with `-- meshes FOLDER` it also writes the meshes for
//! other solvers (`validation/twin/elements/scikit_fem.py` reads them; its times stand beside it).
#![expect(
    clippy::disallowed_methods,
    reason = "a bench reads the clock and writes what it found"
)]
#![expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "a bench prints"
)]

use std::fmt::Write as _;
use std::path::Path;
use std::time::Instant;

use whirlwright_kit::elements::{
    Axis, Conduct, Conduction, Contact, Elastic, Grip, Loads, Material, Scheme, StressField,
    Support, Warming,
};
use whirlwright_kit::mesh::{Body, Mesh, Side, Wanted, mesh};
use whirlwright_kit::revolve::{Arc, Point, Segment};

const SHELL_SEAT: u32 = 1;
const RING_BORE: u32 = 2;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// Lines through the places, then whatever follows.
fn lines(out: &mut Vec<Segment>, places: &[(f64, f64)]) {
    let next = places.iter().skip(1);
    let pairs = places.iter().zip(next);
    out.extend(pairs.map(|(a, b)| Segment::Line(p(a.0, a.1), p(b.0, b.1))));
}

fn arc(out: &mut Vec<Segment>, from: (f64, f64), to: (f64, f64), radius: f64) {
    let arc = Arc::from_ends(
        p(from.0, from.1),
        p(to.0, to.1),
        (radius, radius),
        0.0,
        false,
        false,
    );
    out.extend(arc.map(Segment::Arc));
}

fn body(region: u32, outline: &[Segment], line: u32, is_line: impl Fn(&Segment) -> bool) -> Body {
    let side = |curve: &Segment| Side {
        curve: *curve,
        label: if is_line(curve) { line } else { 0 },
        size_mm: None,
    };
    Body {
        region,
        loops: vec![outline.iter().map(side).collect()],
    }
}

/// The section of the worked example: the shell with its seat at 24.045, the ring of 24 to 29.
fn section(size: f64) -> Mesh {
    let mut shell = Vec::new();
    lines(
        &mut shell,
        &[
            (0.3, 2.0),
            (0.3, 2.9),
            (0.575, 3.175),
            (2.38, 3.175),
            (2.38, 4.1),
            (2.6, 4.3),
            (2.6, 6.6),
            (2.2, 6.6),
            (2.2, 8.0),
            (3.1, 8.0),
            (3.1, 10.5),
            (2.2, 10.5),
            (2.2, 11.6),
        ],
    );
    shell.push(Segment::Cubic(
        p(2.2, 11.6),
        p(2.6, 15.5),
        p(6.5, 21.5),
        p(10.6, 25.2),
    ));
    arc(&mut shell, (10.6, 25.2), (13.3, 26.25), 4.0);
    arc(&mut shell, (13.3, 26.25), (13.5, 26.05), 0.2);
    lines(
        &mut shell,
        &[
            (13.5, 26.05),
            (13.5, 24.045),
            (21.2, 24.045),
            (21.5, 23.745),
            (21.5, 22.73),
            (14.0, 22.73),
        ],
    );
    shell.push(Segment::Cubic(
        p(14.0, 22.73),
        p(9.2, 20.4),
        p(5.4, 15.5),
        p(5.0, 10.5),
    ));
    lines(&mut shell, &[(5.0, 10.5), (5.0, 6.5)]);
    let inner = Arc::from_ends(p(5.0, 6.5), p(6.2, 5.3), (1.2, 1.2), 0.0, false, true);
    shell.extend(inner.map(Segment::Arc));
    lines(
        &mut shell,
        &[(6.2, 5.3), (13.2, 5.3), (13.2, 2.0), (0.3, 2.0)],
    );
    let mut ring = Vec::new();
    lines(
        &mut ring,
        &[
            (13.5, 24.0),
            (21.5, 24.0),
            (21.5, 29.0),
            (13.5, 29.0),
            (13.5, 24.0),
        ],
    );
    let at = |y: f64| move |s: &Segment| s.start().y == y && s.end().y == y;
    let wanted = Wanted::of_size_mm(size);
    let shell = mesh(&[body(1, &shell, SHELL_SEAT, at(24.045))], &wanted).expect("a mesh");
    let ring = mesh(&[body(2, &ring, RING_BORE, at(24.0))], &wanted).expect("a mesh");
    shell.beside(&ring)
}

/// What the process held at most so far, in MB.
fn most_memory() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}

/// The mesh as text: nodes, triangles with their region, edges of the two lines.
fn write(folder: &Path, name: &str, mesh: &Mesh) {
    let mut text = format!("{} {}\n", mesh.nodes.len(), mesh.triangles.len());
    for node in &mesh.nodes {
        let _ = writeln!(text, "{:?} {:?}", node.x, node.y);
    }
    for (nodes, region) in mesh.triangles.iter().zip(&mesh.regions) {
        let [a, b, c, d, e, f] = nodes;
        let _ = writeln!(text, "{a} {b} {c} {d} {e} {f} {region}");
    }
    for edge in mesh.borders.iter().filter(|e| e.label > 0) {
        let [a, b, m] = edge.nodes;
        let _ = writeln!(text, "{a} {b} {m} {}", edge.label);
    }
    std::fs::write(folder.join(name), text).expect("the mesh is written");
}

fn material(modulus_mpa: f64, poisson_ratio: f64) -> Material {
    Material {
        modulus_mpa,
        poisson_ratio,
        density_kg_m3: 1000.0,
    }
}

/// One run; prints a line of the table.
fn run(name: &str, size: f64, folder: Option<&Path>) {
    let start = Instant::now();
    let mesh = section(size);
    let meshed = start.elapsed();
    let elastic = Elastic::new(
        &mesh,
        &[(1, material(2000.0, 0.38)), (2, material(70_000.0, 0.33))],
    )
    .expect("elements");
    let assembled = start.elapsed();
    let contact = Contact::new(&mesh, SHELL_SEAT, RING_BORE).expect("a contact");
    let pin = |label| Support {
        node: mesh.nodes_on(label)[0],
        axis: Axis::Along,
        displacement_mm: 0.0,
    };
    let pins = [pin(SHELL_SEAT), pin(RING_BORE)];
    let held = elastic.hold(&pins, contact.nodes()).expect("held");
    let factored = start.elapsed();
    let loads = Loads::none(&elastic);
    let slip = contact
        .press(&held, &loads, 0.045, Grip::Slip, None)
        .expect("settled");
    let stick = contact
        .press(&held, &loads, 0.045, Grip::Stick, Some(2))
        .expect("settled");
    let pressed = start.elapsed();
    let stress = StressField::of(&elastic, &loads, &slip.solved);
    let peak = stress
        .peak_equivalent(&elastic, 1)
        .map_or(0.0, |p| p.stress_mpa);
    let done = start.elapsed();
    let ms = |to: std::time::Duration, from: std::time::Duration| (to - from).as_secs_f64() * 1e3;
    println!(
        "{name:<10} {:>8} unknowns  mesh {:>6.1}  assemble {:>6.1}  factor {:>6.1}  press (both bounds) {:>6.1}  stress {:>5.1}  whole {:>7.1} ms  factor {:.1} M numbers  most memory {:.0} MB",
        elastic.unknowns(),
        ms(meshed, std::time::Duration::ZERO),
        ms(assembled, meshed),
        ms(factored, assembled),
        ms(pressed, factored),
        ms(done, pressed),
        ms(done, std::time::Duration::ZERO),
        held.factor_count() as f64 / 1e6,
        most_memory(),
    );
    println!(
        "{:<10} least angle {:.1} deg, mean pressure {:.4} (slip) {:.4} (stick) MPa, peak {peak:.3} MPa",
        "",
        mesh.least_angle_deg(),
        slip.mean_pressure_mpa(),
        stick.mean_pressure_mpa(),
    );
    if let Some(folder) = folder {
        write(folder, &format!("{name}.mesh"), &mesh);
    }
}

/// Heat: one factor, then steps.
fn heat(size: f64) {
    let mesh = section(size);
    let start = Instant::now();
    let conduct = Conduct {
        conductivity_w_m_k: 0.3,
        capacity_j_kg_k: 2000.0,
        density_kg_m3: 1000.0,
    };
    let heat = Conduction::new(&mesh, &[(1, conduct), (2, conduct)]).expect("elements");
    let held = mesh.nodes_on(0);
    let warming = Warming::new(&heat, &held, Scheme::TwoStage, 0.1).expect("steps");
    let factored = start.elapsed();
    let mut temperatures = vec![200.0; mesh.nodes.len()];
    for node in &held {
        temperatures[*node as usize] = 50.0;
    }
    for _ in 0..100 {
        warming.step(&mut temperatures).expect("a step");
    }
    println!(
        "heat, {} unknowns: assemble and factor {:.1} ms, 100 two-stage steps {:.1} ms",
        mesh.nodes.len(),
        factored.as_secs_f64() * 1e3,
        (start.elapsed() - factored).as_secs_f64() * 1e3
    );
}

fn main() {
    let asked: Vec<String> = std::env::args().collect();
    let folder = asked
        .windows(2)
        .find(|pair| pair[0] == "meshes")
        .map(|pair| Path::new(&pair[1]).to_path_buf());
    run("small", 1.5, folder.as_deref());
    run("usual", 0.3, folder.as_deref());
    run("fine", 0.1202, folder.as_deref());
    heat(0.3);
}
