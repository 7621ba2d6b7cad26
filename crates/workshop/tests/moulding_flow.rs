//! Flow and heat of the layers, and the filling they make, against closed forms.

mod hand;
mod numbers;

use hand::{
    annulus, cavity, edge_gate, grid, isothermal, newtonian, power_law, ring_gate, runner, set_up,
};
use numbers::{Case, cases};
use whirlwright_kit::network::Network;
use whirlwright_workshop::moulding::layers::{Form, Layers};
use whirlwright_workshop::moulding::matter::Matter;
use whirlwright_workshop::moulding::viscosity::{Fast, rest_pa_s};
use whirlwright_workshop::moulding::warm::Step;
use whirlwright_workshop::moulding::weigh::linear_share;
use whirlwright_workshop::moulding::{Branch, Channel, Given, shoot, tait};
use whirlwright_workshop::part::Range;
use whirlwright_workshop::part::resin::{Flow, Resin};
use whirlwright_workshop::shelf::{resin, viscosity_law};

const FLOW: &str = include_str!("../../../validation/moulding/flow.toml");
const MEGA: f64 = 1e6;
const CM3: f64 = 1e-6;
/// Layers a cell is usually reckoned with.
const USUAL: usize = 10;

fn named(start: &str) -> Vec<Case> {
    let found = cases(FLOW)
        .into_iter()
        .filter(|c| c.name.starts_with(start));
    let found: Vec<Case> = found.collect();
    assert!(!found.is_empty(), "no case {start}…");
    found
}

fn k(degc: f64) -> f64 {
    degc + viscosity_law().zero_k.number
}

/// The resin a case speaks of: a card, a power law, or one viscosity.
fn resin_of(case: &Case) -> Resin {
    match (case.inputs.get("resin"), case.input("viscosity_pa_s")) {
        (Some(id), _) => resin(id.as_str().expect("a word"))
            .expect("it is on the shelf")
            .clone(),
        (None, Some(pa_s)) => newtonian(pa_s),
        (None, None) => power_law(case.need("index"), case.need("consistency")),
    }
}

/// Pressure gradient, stress and rate at the steel for a flow (m³/s, or m²/s for a slit): the layers' mobility turned round.
fn gradient(
    form: Form,
    flow: &Flow,
    at_k: f64,
    half_m: f64,
    through: f64,
    count: usize,
) -> [f64; 3] {
    let (layers, fast) = (Layers::of(form, count), Fast::of(flow));
    let rest = vec![1.0 / rest_pa_s(flow, at_k, 0.0); count];
    let mut fluid = vec![0.0; count];
    let mut log = 15.0_f64;
    let mut bend = 0.0;
    for _ in 0..60 {
        let found = layers.mobility(&fast, &rest, &mut fluid, half_m, log);
        log += ((through / found.mobility_factor).ln() - log) / (1.0 + found.bend_factor);
        bend = found.bend_factor;
    }
    let pa_per_m = log.exp();
    let (stress, rate) = match form {
        Form::Slit => (
            half_m * pa_per_m,
            0.5 * through / half_m.powi(2) * (3.0 + bend),
        ),
        Form::Round => {
            let round = std::f64::consts::PI * half_m.powi(3);
            (0.5 * half_m * pa_per_m, through / round * (4.0 + bend))
        }
    };
    [pa_per_m, stress, rate]
}

#[test]
fn closed_form_channels_of_ten_layers_against_power_law_and_rabinowitsch() {
    for case in named("channel_") {
        let (flow, at_k) = (
            resin_of(&case).flow,
            k(case.input("melt_degc").unwrap_or(200.0)),
        );
        let through = case.need("flow_cm3_per_s") * CM3;
        let (form, half, through) = match case.input("radius_mm") {
            Some(radius) => (Form::Round, radius * 1e-3, through),
            None => {
                let width = case.need("width_mm") * 1e-3;
                (Form::Slit, 0.5e-3 * case.need("depth_mm"), through / width)
            }
        };
        let [pa_per_m, stress, rate] = gradient(form, &flow, at_k, half, through, USUAL);
        let length = case.input("length_mm").unwrap_or(1e3) * 1e-3;
        case.check(|key| match key {
            "drop_mpa" => pa_per_m * length / MEGA,
            "wall_mpa" => stress / MEGA,
            "rate_per_s" => rate,
            other => panic!("{other}"),
        });
    }
}

#[test]
fn order_layers_come_to_the_law_with_the_square_of_their_number() {
    let flow = resin("abs").unwrap().flow;
    let at = |count| gradient(Form::Slit, &flow, k(240.0), 1e-3, 1e-3, count)[0];
    let fine = at(32);
    let (coarse, middle) = (at(4) / fine - 1.0, at(8) / fine - 1.0);
    // The finest stands for the limit: it is off by a sixteenth of what eight are.
    let order = (coarse / middle).abs().log2();
    assert!((1.7..2.6).contains(&order), "{order}");
}

/// Fills a disc from a ring in its middle, and gives the pressure behind the gate and where the front stands.
fn fill_disc(case: &Case, rings: usize, share: f64) -> (f64, f64, f64) {
    let (inner, outer) = (case.need("inner_mm"), case.need("outer_mm"));
    let mut given = set_up(grid(rings, 1, USUAL));
    given.resin = resin_of(case);
    // The integral is for the viscosity without pressure.
    given.resin.flow.rise_k_per_pa = 0.0;
    if let Some(melt) = case.input("melt_degc") {
        given.process.melt_degc = melt;
    }
    isothermal(&mut given);
    given.press.most_mpa = 1e4;
    // Only the filling by speed is looked at.
    given.process.hold[0].pressure_mpa = 0.0;
    given.mould.feed_mm2 = 0.0;
    given.mould.cavity_mm2 = std::f64::consts::PI * (outer * outer - inner * inner);
    given.mould.cavities[0].gates = vec![ring_gate(inner, case.need("depth_mm"))];
    given.process.switch_share = share;
    let middle = annulus(rings, &[(inner, outer, case.need("depth_mm"))]);
    set_flow(&mut given, case.need("flow_cm3_per_s"), middle.volume_mm3());
    let shot = shoot(&given, &middle);
    let drop = shot.fill.drops.last().expect("a drop").pressure_mpa;
    let area = inner * inner + share * (outer * outer - inner * inner);
    (drop, area.sqrt(), shot.opening.cavities_kn)
}

/// Sets the time to fill so that the flow is as said.
fn set_flow(given: &mut Given, cm3_per_s: f64, cavity_mm3: f64) {
    let feed: f64 = given
        .mould
        .branches
        .iter()
        .map(|b| b.channel)
        .chain(
            given
                .mould
                .cavities
                .iter()
                .flat_map(|c| c.gates.iter().map(|g| g.channel)),
        )
        .map(|channel| match channel {
            Channel::Round {
                from_mm,
                to_mm,
                length_mm,
            } => {
                let squares = from_mm * from_mm + from_mm * to_mm + to_mm * to_mm;
                std::f64::consts::PI / 12.0 * squares * length_mm
            }
            Channel::Slit {
                width_mm,
                depth_mm,
                length_mm,
            } => width_mm * depth_mm * length_mm,
        })
        .sum();
    let cavities = given.mould.cavities.len() as f64 * cavity_mm3;
    let to_switch = feed + given.process.switch_share * cavities;
    given.process.fill_s = to_switch / 1e3 / cm3_per_s;
}

#[test]
fn closed_form_a_disc_fills_against_power_law_and_cross_law() {
    for case in named("disc_") {
        let n_opening = case.value.contains_key("opening_n");
        // Full but for a hair, so that the front stands at the outside.
        let (drop, front, opening_kn) = fill_disc(&case, 64, 0.9999);
        assert!((front / case.need("outer_mm") - 1.0).abs() < 1e-4);
        let inner = case.need("inner_mm");
        let within = std::f64::consts::PI * inner * inner * drop;
        case.check(|key| match key {
            "drop_mpa" => drop,
            // What presses on the face of the gate itself is no part of the cavity.
            "opening_n" if n_opening => opening_kn * 1e3 + within,
            other => panic!("{other}"),
        });
    }
}

#[test]
fn order_of_the_rings_of_a_disc() {
    let case = &named("disc_power_law_28")[0];
    let exact: f64 = case.value["drop_mpa"].as_str().unwrap().parse().unwrap();
    // The layers' own error is the same on all and is taken off with the finest.
    let off = |rings| fill_disc(case, rings, 0.9999).0 / exact - 1.0;
    let (coarse, middle, fine) = (off(8), off(16), off(64));
    let order = ((coarse - fine) / (middle - fine)).abs().log2();
    assert!(order > 1.0, "{coarse} {middle} {fine}: order {order}");
}

#[test]
fn closed_form_a_front_under_constant_pressure_slows_as_it_should() {
    for case in named("slit_at_constant_pressure") {
        // A wide cylinder is a slit; its feed is so wide that it takes no pressure.
        let (radius, length) = (2000.0, 600.0);
        let mut middle = annulus(240, &[(radius, radius + length, case.need("depth_mm"))]);
        for (number, ring) in middle.rings.iter_mut().enumerate() {
            ring.radius_mm = radius;
            ring.axial_mm = (number as f64 + 0.5) * ring.length_mm;
            ring.thickness_mm = case.need("depth_mm");
            ring.volume_mm3 =
                2.0 * std::f64::consts::PI * radius * ring.length_mm * ring.thickness_mm;
        }
        middle
            .links
            .iter_mut()
            .for_each(|link| link.radius_mm = radius);
        let mut given = set_up(grid(240, 1, USUAL));
        given.resin = power_law(case.need("index"), case.need("consistency"));
        isothermal(&mut given);
        given.mould.branches = vec![runner("wide", 200.0, 1.0, None)];
        let mut gate = ring_gate(radius, 40.0);
        gate.axial_mm = 0.0;
        given.mould.cavities = vec![cavity("1", vec![gate])];
        given.press.most_mpa = case.need("pressure_mpa");
        given.press.most_cm3_per_s = 1e9;
        given.process.switch_share = 0.999;
        set_flow(&mut given, 1e6, middle.volume_mm3());
        let shot = shoot(&given, &middle);
        // Where the front is at a time, between the middles of two cells.
        let cells = &shot.cavities[0].arrival_s;
        let start = cells[0];
        let place = |time: f64| {
            let at = cells
                .iter()
                .position(|t| *t > time)
                .expect("it comes so far");
            let part = (time - cells[at - 1]) / (cells[at] - cells[at - 1]);
            middle.rings[at - 1].axial_mm + part * middle.rings[0].length_mm
        };
        assert!(start > 0.0);
        case.check(|key| {
            let time = match key {
                "after_0_1_s_mm" => 0.1,
                "after_1_s_mm" => 1.0,
                other => panic!("{other}"),
            };
            place(time)
        });
    }
}

/// A matter of one conductivity, capacity and density, and its diffusivity.
fn plain(diffusivity: f64) -> Matter {
    let mut resin: Resin = resin("abs").expect("it is on the shelf").clone();
    resin.heat.solid_w_m_k = 1.0;
    resin.heat.melt_w_m_k = 1.0;
    resin.room.melt.growth_m3_per_kg_k = 0.0;
    resin.room.solid = resin.room.melt;
    let stored = resin.room.melt.volume_m3_per_kg / diffusivity;
    resin.heat.melt_j_kg_k = stored;
    resin.heat.solid_j_kg_k = stored;
    Matter::of(&resin)
}

/// Cools a slab of unit thickness from 1 K above the steel; gives middle and mean.
fn cool(layers: &Layers, fourier: f64, steps: usize) -> (f64, f64) {
    let (count, base) = (layers.count, 400.0);
    let mut t = vec![base + 1.0; count];
    let still = vec![0.0; count];
    let step = Step {
        // The half is half as thick.
        time_s: fourier / steps as f64,
        half_m: 0.5,
        steel_k: base,
        film_factor: f64::INFINITY,
        inflow_factor: 0.0,
        from_k: &still,
        shares: &still,
        fluid: &still,
        gradient_factor: 0.0,
    };
    for _ in 0..steps {
        layers.warm(&plain(1.0), &step, &mut t);
    }
    // The middle lies half a layer inside the first: the parabola through the first two.
    let middle = t[0] + (t[0] - t[1]) / 8.0;
    (middle - base, t.iter().sum::<f64>() / count as f64 - base)
}

#[test]
fn closed_form_a_slab_cools_as_the_series_says() {
    let layers = Layers::of(Form::Slit, 32);
    for case in named("slab_fo_") {
        let (middle, mean) = cool(&layers, case.need("fourier"), 2000);
        case.check(|key| match key {
            "centre" => middle,
            "mean" => mean,
            other => panic!("{other}"),
        });
    }
}

#[test]
fn order_of_the_layers_of_a_cooling_slab() {
    let fine = 0.302_118_09;
    let at = |count, steps| cool(&Layers::of(Form::Slit, count), 0.1, steps).1 - fine;
    // The steps of time are so many that the layers alone are seen.
    let order = (at(5, 4000) / at(10, 4000)).abs().log2();
    assert!((1.7..2.5).contains(&order), "{order}");
    let in_time = (at(32, 20) / at(32, 40)).abs().log2();
    assert!((0.8..1.3).contains(&in_time), "{in_time}");
}

#[test]
fn closed_form_shear_warms_a_flow_by_its_loss_of_pressure() {
    for case in named("shear_heat") {
        // The steel takes nothing, and the flow has gone on for ever.
        let mut card = resin("abs").unwrap().clone();
        card.room.melt.growth_m3_per_kg_k = 0.0;
        card.room.melt.volume_m3_per_kg = 1.0 / case.need("density_kg_m3");
        card.room.solid = card.room.melt;
        card.heat.melt_j_kg_k = case.need("capacity_j_kg_k");
        card.heat.solid_j_kg_k = card.heat.melt_j_kg_k;
        card.heat.latent_j_kg = 0.0;
        let matter = Matter::of(&card);
        for form in [Form::Slit, Form::Round] {
            let (layers, fast) = (Layers::of(form, USUAL), Fast::of(&card.flow));
            let from = vec![k(240.0); USUAL];
            let rest = vec![1.0 / rest_pa_s(&card.flow, k(240.0), 0.0); USUAL];
            let mut fluid = vec![0.0; USUAL];
            let (half, log) = (1e-3, 18.0_f64);
            let found = layers.mobility(&fast, &rest, &mut fluid, half, log);
            let mut shares = vec![0.0; USUAL];
            layers.shares(&fluid, &mut shares);
            // The way is as long as the pressure is lost on.
            let length = case.need("drop_mpa") * MEGA / log.exp();
            let through = found.mobility_factor * log.exp();
            let halves = if form == Form::Slit { 2.0 } else { 1.0 };
            let step = Step {
                time_s: 1e12,
                half_m: half,
                steel_k: 300.0,
                film_factor: 0.0,
                inflow_factor: through / (halves * length),
                from_k: &from,
                shares: &shares,
                fluid: &fluid,
                gradient_factor: log.exp(),
            };
            let mut t = from.clone();
            layers.warm(&matter, &step, &mut t);
            let mixed: f64 = t.iter().zip(&shares).map(|(t, share)| t * share).sum();
            case.check(|_| mixed - from[0]);
        }
    }
}

#[test]
fn closed_form_a_feed_to_two_cavities() {
    for case in named("feed_to_two") {
        let mut given = set_up(grid(8, 1, USUAL));
        given.resin = power_law(case.need("index"), case.need("consistency"));
        isothermal(&mut given);
        given.press.most_mpa = 1e3;
        let sprue = Branch {
            name: "sprue".to_owned(),
            channel: Channel::Round {
                from_mm: 3.5,
                to_mm: 6.0,
                length_mm: 60.0,
            },
            after: None,
        };
        given.mould.branches = vec![
            sprue,
            runner("runner 1", 5.0, 30.0, Some(0)),
            runner("runner 2", 5.0, 30.0, Some(0)),
        ];
        given.mould.cavities = vec![
            cavity("1", vec![edge_gate(1, 0.0)]),
            cavity("2", vec![edge_gate(2, 90.0)]),
        ];
        let middle = hand::half(8);
        set_flow(&mut given, case.need("flow_cm3_per_s"), middle.volume_mm3());
        let drops = shoot(&given, &middle).fill.drops;
        case.check(|key| match key {
            "sprue_mpa" => drops[0].pressure_mpa,
            "runner_mpa" => drops[1].pressure_mpa,
            "gate_mpa" => drops[2].pressure_mpa,
            "gate_per_s" => drops[2].shear_per_s.expect("a rate"),
            other => panic!("{other}"),
        });
    }
}

#[test]
fn closed_form_shrinkage_from_the_equation_of_tait() {
    for case in named("shrinkage_") {
        let room = &resin("abs").unwrap().room;
        let hot = tait::volume(
            room,
            k(case.need("frozen_degc")),
            case.need("pressure_mpa") * MEGA,
        );
        let cold = tait::volume(room, k(23.0), 0.0);
        let share = 1.0 - cold.m3_per_kg / hot.m3_per_kg;
        case.check(|key| match key {
            "hot_cm3_per_g" => hot.m3_per_kg * 1e3,
            "volume_percent" => 100.0 * share,
            "linear_percent" => 100.0 * linear_share(share),
            other => panic!("{other}"),
        });
    }
}

#[test]
fn law_a_film_of_air_keeps_a_wall_warm() {
    let middle = hand::half(8);
    let weight = |loose: f64| {
        let mut given = set_up(grid(8, 12, 8));
        given.mould.pressed_w_m2_k = Range::exactly(loose);
        given.mould.loose_w_m2_k = Range::exactly(loose);
        shoot(&given, &middle).gate_freeze_s()
    };
    let (bare, filmed) = (weight(f64::INFINITY).unwrap(), weight(3000.0).unwrap());
    assert!(filmed > bare, "{bare} {filmed}");
}

#[test]
fn twin_the_pressure_of_a_full_mould() {
    const PRESSURE: &str = include_str!("../../../validation/moulding/pressure.toml");
    for case in cases(PRESSURE) {
        let (inner, outer) = (case.need("inner_mm"), case.need("outer_mm"));
        let (rings, columns) = (case.need("rings") as usize, case.need("columns") as usize);
        let (step, turn) = (
            (outer - inner) / rings as f64,
            std::f64::consts::TAU / columns as f64,
        );
        let at = |ring: usize, column: usize| (ring * columns + column % columns) as u32;
        let (mut links, mut carries, mut own) =
            (Vec::new(), Vec::new(), vec![0.0; rings * columns]);
        for ring in 0..rings {
            let edge = inner + step * ring as f64;
            for column in 0..columns {
                links.push((at(ring, column), at(ring, column + 1)));
                carries.push(step / ((edge + 0.5 * step) * turn));
                if ring > 0 {
                    links.push((at(ring - 1, column), at(ring, column)));
                    carries.push(edge * turn / step);
                }
            }
        }
        own[..columns].fill(inner * turn / (0.5 * step));
        // The gate lies over part of the columns beside its own.
        let half = 0.5 * case.need("gate_mm") / outer / turn;
        let share = |column: usize| {
            let off = (column.min(columns - column)) as f64;
            ((off + 0.5).min(half) - (off - 0.5).max(-half)).max(0.0) / (2.0 * half)
        };
        let mut p = vec![0.0; rings * columns];
        let last = (rings - 1) * columns;
        (0..columns).for_each(|column| p[last + column] = share(column));
        let mut network = Network::of(rings * columns, &links);
        network
            .factor(&own, &carries)
            .expect("it hangs on its inner edge");
        network.solve(&mut p);
        let inside: f64 = (0..columns).map(|c| share(c) * p[last + c]).sum();
        case.check(|key| match key {
            // From the middle of the last ring to its edge.
            "gate" => inside + 0.5 * step / case.need("gate_mm"),
            "opposite" => p[last + columns / 2],
            other => panic!("{other}"),
        });
    }
}
