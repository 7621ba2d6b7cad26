//! Middle surfaces and set-ups made by hand, for the laws and the closed forms of moulding.
#![allow(dead_code, reason = "each test file uses its own part of these")]

use std::f64::consts::PI;

use whirlwright_workshop::moulding::{
    Branch, Cavity, Channel, Gate, Given, Grid, HoldStep, Link, Middle, Mould, Press, Process, Ring,
};
use whirlwright_workshop::part::Range;
use whirlwright_workshop::part::resin::Resin;
use whirlwright_workshop::shelf::resin;

/// A flat annulus in even rings; each stretch from a radius to a radius has its own thickness.
pub fn annulus(rings: usize, stretches: &[(f64, f64, f64)]) -> Middle {
    let (inner, outer) = (stretches[0].0, stretches[stretches.len() - 1].1);
    let step = (outer - inner) / rings as f64;
    let mut middle = Middle {
        stretches: vec!["web".to_owned()],
        ..Middle::default()
    };
    for number in 0..rings {
        let from = inner + step * number as f64;
        let to = from + step;
        let volume: f64 = stretches
            .iter()
            .map(|(a, b, thick)| (from.max(*a), to.min(*b), thick))
            .filter(|(a, b, _)| b > a)
            .map(|(a, b, thick)| PI * (b * b - a * a) * thick)
            .sum();
        middle.rings.push(Ring {
            radius_mm: 0.5 * (from + to),
            axial_mm: 0.0,
            length_mm: step,
            thickness_mm: volume / (PI * (to * to - from * from)),
            volume_mm3: volume,
            stretch: 0,
        });
        if number > 0 {
            middle.links.push(Link {
                one: number - 1,
                other: number,
                one_mm: 0.5 * step,
                other_mm: 0.5 * step,
                radius_mm: from,
            });
        }
    }
    middle
}

/// The half that the figures of the early solver are for: radius 4 to 28 mm in three thicknesses.
pub fn half(rings: usize) -> Middle {
    annulus(
        rings,
        &[(4.0, 9.0, 3.0), (9.0, 20.0, 2.0), (20.0, 28.0, 3.6)],
    )
}

/// An edge gate 4 mm × 1.2 mm × 1 mm at the outside, at an angle from the mark.
pub fn edge_gate(after: usize, angle_deg: f64) -> Gate {
    Gate {
        after,
        channel: Channel::Slit {
            width_mm: 4.0,
            depth_mm: 1.2,
            length_mm: 1.0,
        },
        axial_mm: 0.0,
        radius_mm: 28.0,
        angle_deg: Some(angle_deg),
    }
}

/// A gate all round at a radius.
pub fn ring_gate(radius_mm: f64, depth_mm: f64) -> Gate {
    Gate {
        after: 0,
        channel: Channel::Slit {
            width_mm: 2.0 * PI * radius_mm,
            depth_mm,
            length_mm: 0.5,
        },
        axial_mm: 0.0,
        radius_mm,
        angle_deg: None,
    }
}

/// A runner from the nozzle or from the end of another.
pub fn runner(name: &str, diameter_mm: f64, length_mm: f64, after: Option<usize>) -> Branch {
    Branch {
        name: name.to_owned(),
        channel: Channel::Round {
            from_mm: diameter_mm,
            to_mm: diameter_mm,
            length_mm,
        },
        after,
    }
}

pub fn cavity(name: &str, gates: Vec<Gate>) -> Cavity {
    Cavity {
        name: name.to_owned(),
        steel_ratio: 1.0,
        gates,
    }
}

/// ABS at 240 °C into steel at 60 °C, one cavity with an edge gate, 60 MPa for 16 s.
pub fn set_up(grid: Grid) -> Given {
    Given {
        piece: "half".to_owned(),
        resin: abs(),
        mould: Mould {
            branches: vec![runner("runner", 5.0, 30.0, None)],
            cavities: vec![cavity("1", vec![edge_gate(0, 0.0)])],
            cavity_mm2: PI * (28.0 * 28.0 - 16.0),
            feed_mm2: 150.0,
            // The steel is touched perfectly.
            pressed_w_m2_k: Range::exactly(f64::INFINITY),
            loose_w_m2_k: Range::exactly(f64::INFINITY),
        },
        press: Press {
            clamp_kn: 650.0,
            screw_mm: 30.0,
            stroke_mm: 125.0,
            most_mpa: 180.0,
            most_cm3_per_s: 60.0,
            hold_sd_mpa: 0.5,
            melt_sd_k: 1.0,
            wall_sd_k: 1.0,
        },
        process: Process {
            melt_degc: 240.0,
            wall_degc: 60.0,
            // The cavity alone in one second: 6.96 cm³ of it, 0.594 of the feed.
            fill_s: (6.960 + 0.594) / 6.960,
            switch_share: 0.99,
            hold: vec![HoldStep {
                pressure_mpa: 60.0,
                time_s: 16.0,
            }],
            cooling_s: 10.0,
            open_s: 5.0,
            cushion_mm: 5.0,
            regrind_share: 0.0,
            before: None,
            weight_within_g: None,
        },
        grid,
        assumed: Vec::new(),
    }
}

pub fn abs() -> Resin {
    resin("abs").expect("it is on the shelf").clone()
}

pub fn grid(rings_count: usize, columns_count: usize, layers_count: usize) -> Grid {
    Grid {
        rings_count,
        columns_count,
        layers_count,
    }
}

/// A resin that is a power law at all temperatures: `τ = K gⁿ`.
pub fn power_law(index: f64, consistency: f64) -> Resin {
    let mut resin = abs();
    resin.flow.index_ratio = index;
    resin.flow.bend_pa = 1.0;
    // Far above its bend the Cross law is `rest^n bend^(1-n) g^n`.
    resin.flow.rest_pa_s = consistency.powf(1.0 / index);
    resin.flow.first_factor = 0.0;
    resin
}

/// A resin of one viscosity.
pub fn newtonian(pa_s: f64) -> Resin {
    let mut resin = power_law(0.33, pa_s);
    resin.flow.rest_pa_s = pa_s;
    // It would begin to thin at a stress that no press reaches.
    resin.flow.bend_pa = 1e18;
    resin
}

/// Takes all heat effects out: steel as hot as the melt, and melt that shear cannot warm.
pub fn isothermal(given: &mut Given) {
    given.process.wall_degc = given.process.melt_degc;
    given.resin.heat.melt_j_kg_k *= 1e9;
    given.resin.heat.solid_j_kg_k *= 1e9;
}
