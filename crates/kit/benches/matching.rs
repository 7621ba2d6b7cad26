//! How long matching takes: certified on the complete graph, on the graph of near neighbours, and
//! rows to columns. `cargo bench -p whirlwright-kit --bench matching` prints a table;
//! with `-- graphs FOLDER` it also writes the near-neighbour graphs for other solvers.
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

use whirlwright_kit::matching::{
    AssignEdge, Edge, Points, assign, match_points, match_sparse, near_pairs,
};

/// Dearer than any pair: as many pairs as can be come first.
const ALONE: i64 = 1 << 40;

/// Points drawn as `validation/matching/gauss.toml` says.
fn gauss(count: u64) -> Vec<[i64; 4]> {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64.wrapping_add(count);
    let mut uniform = || {
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    };
    let round = |value: f64, parts: f64| (value * parts + 0.5).floor() as i64;
    (0..count)
        .map(|_| {
            let u: [f64; 6] = std::array::from_fn(|_| uniform());
            let (r, turn) = ((-2.0 * u[0].ln()).sqrt(), 2.0 * std::f64::consts::PI * u[1]);
            let y = 0.25 * (-2.0 * u[2].ln()).sqrt();
            let (x, z) = (32.0 + 0.12 * r * turn.cos(), 0.02 * r * turn.sin());
            [round(x, 1e3), round(y, 1e3), round(z, 1e4), 0]
        })
        .collect()
}

/// Costs 0 to 999,999 in a full table, drawn as `networkx_and_scipy.py` draws them.
fn table(size: u32) -> Vec<AssignEdge> {
    let mut state = 12345_u64;
    let cells = (0..size).flat_map(|row| (0..size).map(move |col| (row, col)));
    cells
        .map(|(row, col)| {
            state = state.wrapping_mul(6_364_136_223_846_793_005);
            state = state.wrapping_add(1_442_695_040_888_963_407);
            AssignEdge {
                row,
                col,
                cost: ((state >> 33) % 1_000_000) as i64,
            }
        })
        .collect()
}

/// Seconds of one core that this process has used, where the system tells; else by the clock.
fn seconds() -> f64 {
    // Give up the core once: the system brings its books up to date then.
    std::thread::yield_now();
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let told = told.and_then(|text| text.split(' ').next()?.parse::<f64>().ok());
    let clock = || {
        std::time::SystemTime::UNIX_EPOCH
            .elapsed()
            .map_or(0.0, |t| t.as_secs_f64())
    };
    told.map_or_else(clock, |ns| ns * 1e-9)
}

/// The largest memory so far, in MB, where the system tells.
fn peak_mb() -> String {
    let told = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kb = line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok());
    kb.map_or_else(|| "-".to_owned(), |kb| format!("{:.0}", kb / 1024.0))
}

/// Least and middle time of some repeats, and the last answer.
fn timed<T>(repeats: usize, run: impl Fn() -> T) -> (f64, f64, T) {
    let mut times = Vec::new();
    let mut answer = None;
    for _ in 0..repeats.max(1) {
        drop(answer.take());
        let before = seconds();
        answer = Some(run());
        times.push(seconds() - before);
    }
    times.sort_by(f64::total_cmp);
    let answer = answer.expect("at least one repeat ran");
    (times[0], times[times.len() / 2], answer)
}

/// Writes a graph for other solvers.
fn write_graph(folder: &Path, n: usize, edges: &[Edge]) {
    let mut text = format!("{n} {}\n", edges.len());
    for edge in edges {
        let _ = writeln!(text, "{} {} {}", edge.a, edge.b, edge.cost);
    }
    std::fs::write(folder.join(format!("gauss_{n}.txt")), text).expect("the folder can be written");
}

fn main() {
    let words: Vec<String> = std::env::args().collect();
    let folder = words
        .iter()
        .position(|word| word == "graphs")
        .and_then(|at| words.get(at + 1));
    println!("what nodes edges rounds proved cost least_s middle_s peak_MB");
    for (n, repeats) in [(1000, 21), (2000, 11), (10_000, 7), (100_000, 3)] {
        let coords = gauss(n);
        let points = Points {
            coords: &coords,
            weights: [9, 1, 1, 0],
            limits: None,
            groups: None,
        };
        let (least, middle, found) = timed(repeats, || match_points(&points, ALONE));
        println!(
            "complete {n} {} {} {} {} {least:.6} {middle:.6} {}",
            found.edges,
            found.rounds,
            found.optimal,
            found.matching.cost,
            peak_mb()
        );
        let edges = near_pairs(&points, ALONE);
        if let Some(folder) = folder {
            write_graph(Path::new(folder), n as usize, &edges);
        }
        let (least, middle, found) = timed(repeats, || match_sparse(n as usize, &edges, ALONE));
        let cost = found.cost;
        println!(
            "sparse {n} {} - - {cost} {least:.6} {middle:.6} {}",
            edges.len(),
            peak_mb()
        );
    }
    for size in [100, 1000, 2000] {
        let edges = table(size);
        let run = || assign(size as usize, size as usize, &edges, ALONE);
        let (least, middle, found) = timed(5, run);
        let (cost, count) = (found.cost, edges.len());
        println!(
            "assign {size} {count} - - {cost} {least:.6} {middle:.6} {}",
            peak_mb()
        );
    }
}
