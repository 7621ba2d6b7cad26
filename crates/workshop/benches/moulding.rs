//! A whole shot (filling, hold, cooling) over grids, and the pressure of a full mould alone.
//!
//! Baseline: the same pressure problem at as many unknowns in scikit-fem and SciPy,
//! `validation/twin/moulding/pressure.py`, whose figures stand in `pressure.txt` beside it; what this bench printed on the same
//! machine is in `bench.txt`. To factor and solve 768 unknowns takes the baseline 2.6 ms and this 0.10 ms (3,072: 11 to 15 ms and
//! 1.0 ms; 12,288: 86 ms and 9.8 ms); the order of elimination is searched once a shot (768: 2.4 ms), the baseline's assembly
//! of 14 ms has no counterpart. A shot costs 0.42 ms a cell with 192 cells, 0.51 with 768 and 0.66
//! with 3,072: nearly in proportion to the grid. The usual grid takes 0.40 s, the coarse one 0.08 s.

#[path = "../tests/hand/mod.rs"]
mod hand;

use hand::{grid, half, set_up};
use whirlwright_kit::network::Network;
use whirlwright_workshop::moulding::{Grid, shoot};

fn main() {
    divan::main();
}

const GRIDS: [(usize, usize); 5] = [(8, 24), (12, 36), (16, 48), (24, 72), (32, 96)];

/// Full circle, one cavity, ten layers: the cost over the grid.
#[divan::bench(args = GRIDS, sample_count = 5, sample_size = 1)]
fn shot_of_ten_layers(bencher: divan::Bencher, (rings, columns): (usize, usize)) {
    let (given, middle) = (set_up(grid(rings, columns, 10)), half(rings));
    bencher.bench(|| shoot(divan::black_box(&given), &middle));
}

/// The grid a set-up is reckoned with.
#[divan::bench(sample_count = 7, sample_size = 1)]
fn shot_on_the_usual_grid(bencher: divan::Bencher) {
    let (given, middle) = (set_up(Grid::usual()), half(16));
    bencher.bench(|| shoot(divan::black_box(&given), &middle));
}

/// The grid while a slider is moved.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn shot_on_the_coarse_grid(bencher: divan::Bencher) {
    let (given, middle) = (set_up(Grid::coarse()), half(12));
    bencher.bench(|| shoot(divan::black_box(&given), &middle));
}

/// An annulus that passes 1 everywhere: links of the rings and columns, and what each link carries.
fn annulus(rings: usize, columns: usize) -> (Vec<(u32, u32)>, Vec<f64>, Vec<f64>) {
    let (inner, step) = (4.0, 24.0 / rings as f64);
    let turn = std::f64::consts::TAU / columns as f64;
    let at = |ring: usize, column: usize| (ring * columns + column % columns) as u32;
    let (mut links, mut carries) = (Vec::new(), Vec::new());
    let mut own = vec![0.0; rings * columns];
    for ring in 0..rings {
        let edge = inner + step * ring as f64;
        let radius = edge + 0.5 * step;
        for column in 0..columns {
            links.push((at(ring, column), at(ring, column + 1)));
            carries.push(step / (radius * turn));
            if ring > 0 {
                links.push((at(ring - 1, column), at(ring, column)));
                carries.push(edge * turn / step);
            }
        }
    }
    own[..columns].fill(inner * turn / (0.5 * step));
    (links, carries, own)
}

const PRESSURES: [(usize, usize); 4] = [(12, 18), (16, 48), (32, 96), (64, 192)];

/// What one round of the solver asks: numbers filled in, factored, solved.
#[divan::bench(args = PRESSURES)]
fn pressure_on_a_known_pattern(bencher: divan::Bencher, (rings, columns): (usize, usize)) {
    let (links, carries, own) = annulus(rings, columns);
    let mut network = Network::of(rings * columns, &links);
    bencher.bench_local(|| {
        let mut right = vec![0.0; own.len()];
        right[(rings - 1) * columns] = 1.0;
        network
            .factor(&own, &carries)
            .expect("it hangs on its inner edge");
        network.solve(&mut right);
        right
    });
}

/// The same with the pattern searched anew, as the baseline has it.
#[divan::bench(args = PRESSURES, sample_count = 10)]
fn pressure_from_nothing(bencher: divan::Bencher, (rings, columns): (usize, usize)) {
    bencher.bench(|| {
        let (links, carries, own) = annulus(rings, columns);
        let mut network = Network::of(rings * columns, &links);
        let mut right = vec![0.0; own.len()];
        right[(rings - 1) * columns] = 1.0;
        network
            .factor(&own, &carries)
            .expect("it hangs on its inner edge");
        network.solve(&mut right);
        right
    });
}
