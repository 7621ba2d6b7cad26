//! The answers of the moulding station: a set-up, the studies, weighed halves.

use whirlwright_workshop::design;
use whirlwright_workshop::moulding::{
    CavityCause, Grid, HoldStep, MouldBody, NoWeights, Process, Ready, Stands, StudyKind, StudyRun,
    Trim, Weighing, mould, shoot, study, study_plan, toward_gate_g_mm, weights,
};
use whirlwright_workshop::part::job::{Job, MaterialKind, Piece, PieceMaterial, Side};
use whirlwright_workshop::part::mould_wishes::{CavityWish, GateWish, MouldWishes};
use whirlwright_workshop::part::{Answer, Outline, Verdict};
use whirlwright_workshop::route;

/// A washer with a wall along its outside.
const HALF: &str = "M 0 4 L 2 4 L 2 26 L 10 26 L 10 28 L 0 28 Z";
const SMALL: Grid = Grid {
    rings_count: 8,
    columns_count: 12,
    layers_count: 6,
};

fn drawn(cavities: &[(&str, f64)]) -> design::Given {
    let piece = Piece {
        name: "half".to_owned(),
        side: Side::Both,
        outline: Outline::read(HALF).expect("a path"),
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
    let gate = GateWish {
        cavity: None,
        after: None,
        axial_mm: Some(5.0),
        radius_mm: Some(28.0),
        angle_deg: Some(90.0),
        is_ring: false,
        width_mm: Some(4.0),
        depth_mm: Some(1.2),
        length_mm: Some(1.0),
    };
    let cavity = |(name, steel): &(&str, f64)| CavityWish {
        name: (*name).to_owned(),
        steel_ratio: Some(*steel),
        runner: None,
    };
    let job = Job {
        name: "answers".to_owned(),
        pieces: vec![piece],
        mould: Some(MouldWishes {
            gates: vec![gate],
            cavities: cavities.iter().map(cavity).collect(),
            ..MouldWishes::default()
        }),
        ..Job::default()
    };
    design::Given::new(job).expect("a sound drawing")
}

fn ready() -> Ready {
    let ready = Ready::of_design(&drawn(&[("1", 1.0), ("2", 1.004)]), SMALL).expect("a shot");
    held(&ready, 14.0)
}

/// The same with one step of hold of this length.
fn held(ready: &Ready, time_s: f64) -> Ready {
    let process = &ready.given.process;
    let pressure_mpa = process.hold[0].pressure_mpa;
    let hold = vec![HoldStep {
        pressure_mpa,
        time_s,
    }];
    ready.with(Process {
        hold,
        ..process.clone()
    })
}

fn answer(ready: &Ready) -> Answer<MouldBody> {
    mould(ready).expect("an answer").0
}

#[test]
fn law_the_parts_of_an_answer_are_those_of_its_shot() {
    let ready = ready();
    let (answer, view) = mould(&ready).expect("an answer");
    let shot = shoot(&ready.given, &ready.middle);
    let body = &answer.body;
    assert_eq!(body.half.mass_g, shot.mean_mass_g());
    assert_eq!(body.hold.gate_freeze_s, shot.gate_freeze_s());
    assert_eq!(
        body.handed_on.toward_gate_g_mm,
        toward_gate_g_mm(&ready.given, 0, &shot.cavities[0])
    );
    let halves: f64 = body.cavities.iter().map(|c| c.mass_g).sum();
    assert!((body.shot.mass_g - halves - body.shot.feed_g).abs() < 1e-9);
    // Pressures on the way add up to what the nozzle had.
    let drops: f64 = body.fill.drops.iter().map(|d| d.pressure_mpa).sum();
    assert!((drops - body.fill.switch_mpa).abs() < 1e-6 * body.fill.switch_mpa);
    let steps: f64 = body.cycle.steps.iter().map(|s| s.time_s).sum();
    assert!((steps - body.cycle.cycle_s).abs() < 1e-12);
    // The whole half is laid flat once: every ring, every column.
    let rings = view.fill.stretches.iter().flat_map(|s| &s.rings);
    assert_eq!(rings.clone().count(), ready.middle.rings.len());
    assert!(
        rings
            .clone()
            .all(|r| r.arrival_s.len() == SMALL.columns_count && r.to_mm > r.from_mm)
    );
    let first = rings
        .flat_map(|r| &r.arrival_s)
        .copied()
        .fold(f64::INFINITY, f64::min);
    assert!((0.0..body.fill.switch_s).contains(&first));
}

/// Every cell is a piece of a ring: its mass sits at the middle of its arc, a hair nearer to the axle than the arc.
#[test]
fn law_the_pull_is_the_sum_of_the_cells_masses_times_their_places() {
    let ready = ready();
    let shot = shoot(&ready.given, &ready.middle);
    let cavity = &shot.cavities[1];
    let step = std::f64::consts::TAU / cavity.columns_count as f64;
    let arc = (0.5 * step).sin() / (0.5 * step);
    let (mut toward, mut across, mut mass_g) = (0.0, 0.0, 0.0);
    for (cell, g) in cavity.cell_mass_g.iter().enumerate() {
        let (ring, column) = (cell / cavity.columns_count, cell % cavity.columns_count);
        let radius_mm = ready.middle.rings[ring].radius_mm * arc;
        let angle = cavity.first_column_deg.to_radians() + step * column as f64;
        toward += g * radius_mm * angle.cos();
        across += g * radius_mm * angle.sin();
        mass_g += g;
    }
    let (found_toward, found_across) = cavity.unbalance.components_g_mm();
    // Sums of a hundred cells that nearly cancel: rounding of the mass times the radius.
    let rounding = 1e-12 * mass_g * 28.0;
    assert!((found_toward - toward).abs() < rounding && (found_across - across).abs() < rounding);
    assert!((cavity.mass_g - mass_g).abs() < 1e-12 * mass_g);
    let size = toward.hypot(across);
    assert!(
        (cavity.eccentricity_um - 1000.0 * size / mass_g).abs() < 1e-6,
        "{size}"
    );
    assert!(size > 1e-3);
}

#[test]
fn law_a_ring_gate_pulls_to_no_side_and_the_route_hands_the_scatter_on() {
    let design = drawn(&[("1", 1.0)]);
    let ready = Ready::of_design(&design, SMALL).expect("a shot");
    let body = answer(&ready).body;
    let ring = body.ring_gate.expect("an edge gate is compared");
    assert!(ring.fills && ring.edge_unbalance_g_mm > 1e-3, "{ring:?}");
    assert!(ring.unbalance_g_mm < 1e-9 * ring.mass_g * 28.0, "{ring:?}");
    let handed_on = route::moulded_half(&design, SMALL).expect("a half");
    assert_eq!(handed_on, body.handed_on);
    assert!(handed_on.shot_sd_g > 0.0 && handed_on.toward_gate_sd_g_mm > 0.0);
    assert_eq!(handed_on.cavity_sd_g, 0.0);
}

#[test]
fn law_a_broken_condition_stops_and_says_the_one_setting_to_change() {
    let ready = ready();
    let good = answer(&ready);
    assert_ne!(good.verdict, Verdict::Stop, "{:?}", good.body.conditions);
    let mut weak = ready.clone();
    weak.given.press.clamp_kn = 0.5 * good.body.clamp.opening_kn;
    let stopped = answer(&weak);
    let first = &stopped.body.conditions[0];
    assert_eq!(
        (stopped.verdict, first.name.as_str(), first.stands),
        (Verdict::Stop, "clamp", Stands::Broken)
    );
    assert!(first.change.contains("lower the hold") && stopped.decided_by == first.words);
    let short = answer(&held(&ready, 2.0));
    let hold = short
        .body
        .conditions
        .iter()
        .find(|c| c.name == "hold time")
        .expect("there");
    assert_eq!(hold.stands, Stands::Broken);
    assert!(short.body.hold.ran_back && short.body.half.mass_g < good.body.half.mass_g);
}

#[test]
fn law_a_study_does_not_hang_on_the_order_of_its_runs_and_tells_what_was_left_out() {
    let plan = study_plan(ready(), StudyKind::Window, Some(12)).expect("a plan");
    let all: Vec<Option<StudyRun>> = plan.settings.iter().map(|s| Some(plan.run(s))).collect();
    let backward: Vec<Option<StudyRun>> = plan
        .settings
        .iter()
        .rev()
        .map(|s| Some(plan.run(s)))
        .collect();
    let turned: Vec<Option<StudyRun>> = backward.into_iter().rev().collect();
    let whole = study(&plan, all.clone());
    assert_eq!(whole.body, study(&plan, turned).body);
    assert_eq!(whole.body.left_out_count, 0);
    assert!(
        whole
            .body
            .runs
            .iter()
            .all(|r| r.shot_sd_g.is_some_and(|sd| sd > 0.0))
    );
    let mut stopped = all;
    stopped[3] = None;
    let stopped = study(&plan, stopped);
    assert_eq!(
        (stopped.body.left_out_count, stopped.body.runs.len()),
        (1, whole.body.runs.len() - 1)
    );
}

#[test]
fn law_weight_rises_with_the_hold_and_settles_when_the_gate_is_frozen() {
    let plan = study_plan(ready(), StudyKind::Freeze, Some(10)).expect("a plan");
    let made = plan.settings.iter().map(|s| Some(plan.run(s))).collect();
    let found = study(&plan, made).body;
    let masses: Vec<f64> = found.runs.iter().map(|r| r.mass_g).collect();
    // A twentieth of a milligram a gram: far below what any scale of a bench shows.
    assert!(
        masses.windows(2).all(|m| m[1] >= m[0] - 5e-5 * m[0]),
        "{masses:?}"
    );
    let take = found.take.expect("the study is long enough");
    let last = masses[masses.len() - 1];
    assert!(
        (take.mass_g - last).abs() < 2e-3 * last && take.hold_s < 14.0 * 1.6,
        "{take:?}"
    );
}

/// Shots with slower steel and a denser resin, cavity 2 larger by its steel, cavity 3 starved while the gate is open.
fn weighed(ready: &Ready, planted: &Trim) -> Vec<Weighing> {
    let alike = ready.alike();
    let given = planted.of(&alike.given);
    let mut all = Vec::new();
    for step in 1..=9 {
        let hold_s = 1.5 * f64::from(step);
        let asked = held(
            &Ready {
                given: given.clone(),
                ..alike.clone()
            },
            hold_s,
        );
        let mass_g = shoot(&asked.given, &asked.middle).mean_mass_g();
        let starved = 1.0 - 0.02 * (-hold_s / 2.0).exp();
        for (cavity, ratio) in [("1", 1.0), ("2", 1.005), ("3", starved), ("4", 1.0)] {
            all.push(Weighing {
                cavity: cavity.to_owned(),
                hold_s,
                hold_mpa: None,
                mass_g: mass_g * ratio,
            });
        }
    }
    all
}

#[test]
fn law_weighed_halves_give_back_what_was_planted_and_tell_steel_from_feed() {
    let ready = ready();
    let planted = Trim {
        gate_time_ratio: 1.0,
        room_ratio: 0.995,
        wall_film_ratio: 0.7,
    };
    let found = weights(&ready, &weighed(&ready, &planted), &|| false)
        .expect("a fit")
        .body;
    let ratio = |n: usize| found.fitted[n].found_ratio;
    assert!((ratio(1) - 0.995).abs() < 1e-3, "{:?}", found.fitted);
    assert!((ratio(2) - 0.7).abs() < 0.05, "{:?}", found.fitted);
    // A tenth of gate depth moves a half by less than the model's own doubt: the weighings do not tell it, and it says so.
    assert!(
        found.fitted[0].sd_ratio.is_none() && (ratio(0) - 1.0).abs() < 0.1,
        "{:?}",
        found.fitted
    );
    assert!(
        found.fitted[2].sd_ratio.is_some_and(|sd| sd < 0.2),
        "{:?}",
        found.fitted
    );
    assert!(
        found.left_over_sd_g < 2e-3 * found.foretold_mass_g,
        "{}",
        found.left_over_sd_g
    );
    let causes: Vec<CavityCause> = found.cavities.iter().map(|c| c.cause).collect();
    assert_eq!(
        causes,
        [
            CavityCause::Even,
            CavityCause::Steel,
            CavityCause::Feed,
            CavityCause::Even
        ]
    );
}

#[test]
fn law_weighings_that_carry_nothing_are_refused() {
    let ready = ready();
    let one = |cavity: &str, hold_s: f64, mass_g: f64| Weighing {
        cavity: cavity.to_owned(),
        hold_s,
        hold_mpa: None,
        mass_g,
    };
    let asked = |weighed: &[Weighing]| weights(&ready, weighed, &|| false).expect_err("refused");
    assert!(matches!(asked(&[]), NoWeights::TooFew { read: 0, .. }));
    assert!(matches!(
        asked(&[one("1", 2.0, -1.0)]),
        NoWeights::Impossible { .. }
    ));
    let mut gap: Vec<Weighing> = (1..7).map(|n| one("1", f64::from(n), 6.0)).collect();
    gap.push(one("2", 1.0, 6.0));
    assert!(matches!(asked(&gap), NoWeights::CavityMissing { .. }));
    let whole: Vec<Weighing> = (1..7).map(|n| one("1", f64::from(n), 6.0)).collect();
    let stopped = weights(&ready, &whole, &|| true).expect_err("stopped");
    assert_eq!(stopped, NoWeights::Stopped);
}
