//! Laws of a shot, and the figures of the early solver it is held against.

mod cases;
mod hand;
mod numbers;
mod tree;

use hand::{annulus, cavity, edge_gate, grid, half, ring_gate, runner, set_up};
use whirlwright_workshop::moulding::{
    Channel, Given, Grid, HoldStep, Middle, ShortWhy, Shot, shoot,
};
use whirlwright_workshop::part::Unbalance;
use whirlwright_workshop::shelf::resin;

const SHOTS: &str = include_str!("../../../validation/moulding/shots.toml");

/// A grid that is quick and still tells what the laws ask.
const QUICK: Grid = Grid {
    rings_count: 12,
    columns_count: 36,
    layers_count: 8,
};

fn quick(change: impl Fn(&mut Given)) -> Shot {
    let mut given = set_up(QUICK);
    change(&mut given);
    shoot(&given, &half(QUICK.rings_count))
}

fn apart(a: Unbalance, b: Unbalance) -> f64 {
    let ((ax, ay), (bx, by)) = (a.components_g_mm(), b.components_g_mm());
    (ax - bx).hypot(ay - by)
}

#[test]
fn law_a_ring_gate_leaves_no_unbalance() {
    for radius in [4.0, 28.0] {
        let shot = quick(|given| {
            given.mould.cavities[0].gates = vec![ring_gate(radius, 0.8)];
        });
        assert_eq!(shot.short, None);
        let piece = &shot.cavities[0];
        let size = piece.unbalance.mass_distance_g_mm;
        assert!(size < 1e-9 * piece.mass_radius_g_mm, "{radius}: {size}");
    }
}

#[test]
fn law_a_turned_gate_turns_the_unbalance() {
    let plain = quick(|_| ()).cavities[0].unbalance;
    // An edge gate that freezes under pressure leaves its own side heavy.
    let (toward, across) = plain.components_g_mm();
    assert!(
        toward > 0.02 && across.abs() < 1e-6 * toward,
        "{toward} {across}"
    );
    for turn in [33.0, 90.0, 217.5] {
        let turned = quick(|given| {
            given.mould.cavities[0].gates = vec![edge_gate(0, turn)];
        });
        let exact = Unbalance::new(plain.mass_distance_g_mm, plain.angle_deg + turn);
        // The grid turns with the gate: only the angle's own rounding is left.
        assert!(apart(turned.cavities[0].unbalance, exact) < 1e-9, "{turn}");
    }
}

#[test]
fn law_mirrored_gates_mirror_the_unbalance() {
    let with = |second: f64| {
        let shot = quick(|given| {
            given.mould.cavities[0].gates = vec![edge_gate(0, 0.0), edge_gate(0, second)];
        });
        shot.cavities[0].unbalance
    };
    let (left, right) = (with(100.0), with(-100.0));
    let (x, y) = left.components_g_mm();
    let mirrored = Unbalance::from_components((x, -y));
    // Sums in another order; the flow makes a rounding some thousand times larger.
    assert!(apart(mirrored, right) < 1e-9, "{left:?} {right:?}");
    assert!(y.abs() > 1e-3, "two gates are no mirror of themselves: {y}");
}

#[test]
fn law_the_books_close() {
    for id in ["abs", "pc", "pc-abs", "pa66", "pom", "pp", "ps"] {
        let shot = quick(|given| {
            given.resin = resin(id).unwrap().clone();
            given.process.melt_degc = given.resin.handling.melt_degc.likely;
        });
        assert_eq!(shot.short, None, "{id}");
        assert!(
            shot.volume_off_share < 1e-6,
            "{id}: {}",
            shot.volume_off_share
        );
        assert!(shot.mass_off_share < 1e-12, "{id}: {}", shot.mass_off_share);
        // Newton ends at 0.01 MPa, and the worst step is the one in which speed gave over to the hold.
        assert!(
            shot.closure_off_share < 1e-4,
            "{id}: {}",
            shot.closure_off_share
        );
        let piece = &shot.cavities[0];
        let cells: f64 = piece.cell_mass_g.iter().sum();
        assert!((cells / piece.mass_g - 1.0).abs() < 1e-12);
        assert!(
            piece
                .arrival_s
                .iter()
                .all(|at| *at > 0.0 && *at < shot.full_s.unwrap() + 1e-9)
        );
        assert!(piece.volume_shrinkage_share > 0.0 && piece.volume_shrinkage_share < 0.1);
    }
}

#[test]
fn law_weight_grows_with_the_hold_and_stands_still_after_the_gate() {
    let weight = |mpa: f64, time_s: f64| {
        let shot = quick(|given| {
            given.process.hold = vec![HoldStep {
                pressure_mpa: mpa,
                time_s,
            }];
            given.process.cooling_s = 26.0 - time_s;
        });
        (shot.cavities[0].mass_g, shot.gate_freeze_s().unwrap(), shot)
    };
    let (low, _, _) = weight(40.0, 16.0);
    let (mid, freeze, _) = weight(60.0, 16.0);
    let (high, _, _) = weight(80.0, 16.0);
    // Published studies: 0.02 to 0.05 % for each MPa of an amorphous resin.
    for (more, less) in [(mid, low), (high, mid)] {
        let per_mpa = (more / less - 1.0) * 100.0 / 20.0;
        assert!((0.02..0.05).contains(&per_mpa), "{per_mpa} % for each MPa");
    }
    let mut before = 0.0;
    for time_s in [1.0, 3.0, 5.0, 7.0, 9.0] {
        let (grams, _, shot) = weight(60.0, time_s);
        assert!(grams > before && grams < mid, "{time_s} s: {grams}");
        assert!(shot.ran_back, "{time_s} s");
        before = grams;
    }
    for time_s in [freeze + 0.5, freeze + 3.0] {
        let (grams, _, shot) = weight(60.0, time_s);
        // Nothing passes a frozen gate: only the place of the steps of time differs.
        assert!(
            (grams / mid - 1.0).abs() < 1e-4,
            "{time_s} s: {grams} {mid}"
        );
        assert!(!shot.ran_back);
    }
}

#[test]
fn law_a_hold_that_ends_just_before_the_gate_freezes_turns_the_unbalance_over() {
    let at = |time_s: f64| {
        let shot = quick(|given| {
            given.process.hold[0].time_s = time_s;
            given.process.cooling_s = 26.0 - time_s;
        });
        let (toward, _) = shot.cavities[0].unbalance.components_g_mm();
        (toward, shot.ran_back)
    };
    let (held, back) = at(16.0);
    assert!(held > 0.0 && !back);
    // The far side has shut itself off and keeps what it has; the side of the gate runs empty.
    let (early, back) = at(10.0);
    assert!(early < 0.0 && back, "{early}");
}

#[test]
fn law_weight_follows_melt_wall_and_gate_as_it_should() {
    let grams = |change: &dyn Fn(&mut Given)| quick(change).cavities[0].mass_g;
    let base = grams(&|_| ());
    assert!(grams(&|given| given.process.wall_degc = 75.0) < base);
    assert!(grams(&|given| given.process.wall_degc = 45.0) > base);
    let shallow = quick(|given| {
        given.mould.cavities[0].gates[0].channel = Channel::Slit {
            width_mm: 4.0,
            depth_mm: 0.8,
            length_mm: 1.0,
        };
    });
    assert!(shallow.cavities[0].mass_g < base);
    let usual = quick(|_| ());
    assert!(shallow.gate_freeze_s().unwrap() < usual.gate_freeze_s().unwrap());
}

/// Two cavities, the second fed through a runner and a gate of its own.
fn two(length_mm: f64, depth_mm: f64, turn: f64) -> Given {
    let mut given = set_up(QUICK);
    given.mould.branches = vec![
        runner("sprue", 6.0, 50.0, None),
        runner("runner 1", 5.0, 30.0, Some(0)),
        runner("runner 2", 5.0, length_mm, Some(0)),
    ];
    let mut second = edge_gate(2, turn);
    second.channel = Channel::Slit {
        width_mm: 4.0,
        depth_mm,
        length_mm: 1.0,
    };
    given.mould.cavities = vec![
        cavity("1", vec![edge_gate(1, 0.0)]),
        cavity("2", vec![second]),
    ];
    given.mould.cavity_mm2 = 2400.0;
    given.process.fill_s = 1.3;
    given
}

#[test]
fn law_alike_cavities_are_filled_alike() {
    let middle = half(QUICK.rings_count);
    let alike = shoot(&two(30.0, 1.2, 140.0), &middle);
    let [one, other] = &alike.cavities[..] else {
        panic!("two cavities")
    };
    assert!((one.mass_g / other.mass_g - 1.0).abs() < 1e-12);
    let turned = Unbalance::new(
        one.unbalance.mass_distance_g_mm,
        one.unbalance.angle_deg + 140.0,
    );
    assert!(apart(turned, other.unbalance) < 1e-9);
    // A second gate keeps them from being reckoned as one: now they are solved side by side, and split evenly by themselves.
    let mut given = two(30.0, 1.2, 0.0);
    given.mould.cavities[1].steel_ratio = 1.0 + 1e-15;
    let apart = shoot(&given, &middle);
    let [one, other] = &apart.cavities[..] else {
        panic!("two cavities")
    };
    // Two that are solved side by side differ by the rounding of the elimination, which the front makes larger.
    assert!(
        (one.mass_g / other.mass_g - 1.0).abs() < 1e-9,
        "{} {}",
        one.mass_g,
        other.mass_g
    );
    assert!((one.mass_g / alike.cavities[0].mass_g - 1.0).abs() < 1e-6);
}

#[test]
fn law_of_unequal_cavities_the_easier_fills_first_and_the_split_is_that_of_a_thinning_melt() {
    let middle = half(QUICK.rings_count);
    let mut given = two(60.0, 0.8, 0.0);
    given.process.switch_share = 0.6;
    let shot = shoot(&given, &middle);
    assert_eq!(shot.short, None);
    let [easy, hard] = &shot.cavities[..] else {
        panic!("two cavities")
    };
    assert!(easy.full_s.unwrap() < hard.full_s.unwrap());
    assert!(shot.volume_off_share < 1e-6);
    // A Newtonian melt in the same mould splits far less unevenly than one that thins.
    let mut plain = given.clone();
    plain.resin.flow.bend_pa = 1e12;
    plain.resin.flow.rest_pa_s = hand::newtonian(200.0).flow.rest_pa_s;
    plain.resin.flow.first_factor = 0.0;
    plain.press.most_mpa = 1e4;
    let plain = shoot(&plain, &middle);
    let behind = |shot: &Shot| shot.cavities[0].switch_share - shot.cavities[1].switch_share;
    let (thinning, newtonian) = (behind(&shot), behind(&plain));
    assert!(thinning > 0.0 && newtonian > 0.0);
    assert!(
        (thinning - newtonian).abs() > 0.02,
        "{thinning} {newtonian}"
    );
}

#[test]
fn law_a_shot_that_cannot_fill_says_why() {
    let why = |change: &dyn Fn(&mut Given)| {
        let shot = quick(change);
        let because = shot.short_because().expect("it comes short");
        assert!(because.len() > 40 && shot.cavities[0].filled_share < 1.0);
        assert!(shot.cavities[0].mass_g.is_finite());
        shot.short.unwrap().why
    };
    let cold = why(&|given| {
        given.process.fill_s = 40.0;
        given.press.most_mpa = 40.0;
    });
    assert!(matches!(cold, ShortWhy::TooCold { .. }), "{cold:?}");
    let small = why(&|given| {
        given.press.most_mpa = 5.0;
        given.process.fill_s = 0.3;
    });
    assert!(
        matches!(small, ShortWhy::PressureTooSmall { is_hold: false, .. }),
        "{small:?}"
    );
    let gate = why(&|given| {
        given.process.fill_s = 30.0;
        given.press.most_mpa = 60.0;
        given.mould.cavities[0].gates[0].channel = Channel::Slit {
            width_mm: 4.0,
            depth_mm: 0.3,
            length_mm: 3.0,
        };
    });
    assert!(matches!(gate, ShortWhy::GateFrozen { .. }), "{gate:?}");
    let held = why(&|given| {
        given.process.switch_share = 0.5;
        given.process.hold[0] = HoldStep {
            pressure_mpa: 8.0,
            time_s: 0.02,
        };
    });
    assert!(matches!(held, ShortWhy::HoldEnded { .. }), "{held:?}");
}

/// What a case of a shot asks for.
fn found<'a>(shot: &'a Shot) -> impl Fn(&str) -> f64 + 'a {
    |key| match key {
        "weight_g" => shot.cavities[0].mass_g,
        "unbalance_g_mm" => shot.cavities[0].unbalance.components_g_mm().0,
        "switch_mpa" => shot.fill.switch_mpa,
        other => panic!("{other}"),
    }
}

fn named(start: &str) -> Vec<numbers::Case> {
    let all = numbers::cases(SHOTS).into_iter();
    let found: Vec<_> = all.filter(|case| case.name.starts_with(start)).collect();
    assert!(!found.is_empty(), "no case {start}…");
    found
}

#[test]
fn twin_the_half_of_the_early_solver() {
    for case in named("early_") {
        let mut given = set_up(Grid::usual());
        if let Some(mpa) = case.input("hold_mpa") {
            given.process.hold[0].pressure_mpa = mpa;
        }
        if let Some(time_s) = case.input("hold_s") {
            given.process.hold[0].time_s = time_s;
            given.process.cooling_s = 26.0 - time_s;
        }
        if let Some(id) = case.inputs.get("resin") {
            given.resin = resin(id.as_str().unwrap()).unwrap().clone();
            given.process.melt_degc = case.need("melt_degc");
            given.process.hold[0].time_s = 20.0;
        }
        let shot = shoot(&given, &half(16));
        case.check(found(&shot));
    }
}

/// A half whose thicknesses change where rings meet on every grid that is compared.
fn even(rings: usize) -> Middle {
    annulus(
        rings,
        &[(4.0, 10.0, 3.0), (10.0, 19.0, 2.0), (19.0, 28.0, 3.6)],
    )
}

/// The finest grid of the comparison takes up to a minute; what it gave stands in the case, and this test makes it anew.
#[test]
#[ignore = "up to a minute: the grid four times finer both ways"]
fn pinned_the_grid_four_times_finer() {
    for case in named("fine_grid") {
        let shot = shoot(&set_up(grid(64, 192, 10)), &even(64));
        case.check(found(&shot));
    }
}

#[test]
fn order_the_usual_grid_is_near_the_one_four_times_finer() {
    let usual = shoot(&set_up(Grid::usual()), &even(16));
    for case in named("usual_against_fine") {
        case.check(found(&usual));
    }
    // And it comes nearer with the grid.
    let coarse = shoot(&set_up(grid(8, 24, 10)), &even(8));
    let fine = shoot(&set_up(grid(32, 96, 10)), &even(32));
    let u = |shot: &Shot| shot.cavities[0].unbalance.components_g_mm().0;
    let steps = [u(&usual) - u(&coarse), u(&fine) - u(&usual)];
    assert!(steps[1].abs() < 0.75 * steps[0].abs(), "{steps:?}");
}
