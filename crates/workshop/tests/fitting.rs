//! The press fit against textbooks, an independent computation and its own laws.

mod numbers;

use numbers::{Case, cases};
use whirlwright_workshop::design;
use whirlwright_workshop::fitting::{
    Annulus, Change, Draws, Elastic, Given, Load, Loose, Pairs, Press, Pressed, Refusal, RingMass,
    chance, creep_modulus_mpa, creep_slope_ratio, fit, heat_to_slip_on_k, hold_n, looseness,
};
use whirlwright_workshop::part::fit_wishes::FitWishes;
use whirlwright_workshop::part::job::{Job, MaterialKind, Piece, PieceMaterial, PressesOn, Side};
use whirlwright_workshop::part::{Outline, Range, Verdict};

fn elastic(case: &Case, of: &str) -> Elastic {
    Elastic {
        modulus_mpa: case.need(&format!("e_{of}_mpa")),
        poisson_ratio: case.need(&format!("nu_{of}")),
        expansion_per_k: case.input(&format!("alpha_{of}")).unwrap_or(0.0),
        density_g_cm3: 0.0,
    }
}

fn press(case: &Case) -> Press {
    let seat = case.need("r_mm");
    Press {
        ring: Annulus {
            inner_mm: seat,
            outer_mm: case.need("r_o_mm"),
            elastic: elastic(case, "o"),
        },
        body: Annulus {
            inner_mm: case.need("r_i_mm"),
            outer_mm: seat,
            elastic: elastic(case, "i"),
        },
    }
}

fn check_press(case: &Case) {
    let press = press(case);
    let change = Change {
        warmer_k: case.input("warmer_k").unwrap_or(0.0),
        ..Change::default()
    };
    let at: Pressed = press.at(case.need("delta_mm"), &change);
    let warm = |warmer_k| {
        press
            .added_mm(&Change {
                warmer_k,
                ..Change::default()
            })
            .0
    };
    let hold = |case: &Case| {
        hold_n(
            at.pressure_mpa,
            press.seat_mm(),
            case.need("length_mm"),
            case.need("friction"),
        )
    };
    case.check(|key| match key {
        "pressure_mpa" => at.pressure_mpa,
        "ring_seat_mpa" => at.ring_seat_mpa,
        "ring_outside_mpa" => at.ring_outside_mpa,
        "body_inside_mpa" => at.body_inside_mpa,
        "body_seat_mpa" => at.body_seat_mpa,
        "hold_n" => hold(case),
        "torque_n_m" => hold(case) * press.seat_mm() / 1000.0,
        "added_um_per_k" => 1000.0 * warm(1.0),
        "ring_outside_growth_um" => 1000.0 * at.ring_growth_mm,
        "body_inside_growth_um" => 1000.0 * at.body_growth_mm,
        "kept_share" => {
            let mut later = press;
            later.body.elastic.modulus_mpa = case.need("later_mpa");
            later.at(case.need("delta_mm"), &change).pressure_mpa / at.pressure_mpa
        }
        other => panic!("{}: nothing here is called {other}", case.name),
    });
}

#[test]
fn published_presses_of_the_textbooks() {
    for case in cases(include_str!("../../../validation/fitting/press.toml")) {
        check_press(&case);
    }
}

#[test]
fn twin_the_reference_ring_on_three_resins() {
    for case in cases(include_str!("../../../validation/fitting/reference.toml")) {
        check_press(&case);
    }
}

/// A press of any sizes and stiffness from three shares.
fn any_press(a: f64, b: f64, c: f64) -> Press {
    let material = |modulus_mpa, density_g_cm3| Elastic {
        modulus_mpa,
        poisson_ratio: 0.2 + 0.25 * a,
        expansion_per_k: 2e-5 + 1e-4 * c,
        density_g_cm3,
    };
    Press {
        ring: Annulus {
            inner_mm: 20.0,
            outer_mm: 21.0 + 20.0 * b,
            elastic: material(70_000.0 * (0.1 + a), 2.0 + c),
        },
        body: Annulus {
            inner_mm: 19.5 * c,
            outer_mm: 20.0,
            elastic: material(1_000.0 + 4_000.0 * b, 1.0 + a),
        },
    }
}

const SHARES: [f64; 5] = [0.0, 0.13, 0.5, 0.87, 1.0];

/// What one part does not give, the other must: the hoop strains at the seat differ by Δ/R.
#[test]
fn law_the_strains_at_the_seat_differ_by_the_interference() {
    for a in SHARES {
        for b in SHARES {
            for c in SHARES {
                let press = any_press(a, b, c);
                let change = Change {
                    warmer_k: 30.0 * (a - 0.5),
                    speed_rad_s: 500.0 * b,
                    ring_moisture_share: 0.0,
                    body_moisture_share: 0.001 * c,
                };
                let at = press.at(0.2, &change);
                let share = at.interference_mm / press.seat_mm();
                let differ = at.ring_strain_share - at.body_strain_share;
                assert!(at.pressure_mpa > 0.0);
                assert!(
                    (differ - share).abs() <= 1e-12 * share,
                    "{differ} for {share}"
                );
            }
        }
    }
}

#[test]
fn law_no_interference_no_pressure_and_pressure_is_linear() {
    let press = any_press(0.5, 0.5, 0.5);
    let none = Change::default();
    assert_eq!(press.at(0.0, &none).pressure_mpa, 0.0);
    assert_eq!(press.at(-0.1, &none).pressure_mpa, 0.0);
    let (one, two) = (press.at(0.03, &none), press.at(0.06, &none));
    assert!((two.pressure_mpa - 2.0 * one.pressure_mpa).abs() < 1e-14 * two.pressure_mpa);
    let back = press.interference_for_mm(two.pressure_mpa, &none);
    assert!((back - 0.06).abs() < 1e-15);
}

/// The book's superposition: a tube of two rings under 35 MPa inside, shrunk so that both bores are
/// stressed alike.
#[test]
fn closed_form_a_compound_tube_carries_the_same_at_both_bores() {
    let steel = Elastic {
        modulus_mpa: 207_000.0,
        poisson_ratio: 0.3,
        expansion_per_k: 0.0,
        density_g_cm3: 0.0,
    };
    let ring = |inner_mm, outer_mm| Annulus {
        inner_mm,
        outer_mm,
        elastic: steel,
    };
    let filled = Load {
        inner_mpa: 35.0,
        ..Load::default()
    };
    let whole = ring(25.0, 50.0);
    let squeezed = Load {
        outer_mpa: 3.615_169,
        ..Load::default()
    };
    let spread = Load {
        inner_mpa: 3.615_169,
        ..Load::default()
    };
    let tube =
        whole.stresses_mpa(&filled, 25.0).1 + ring(25.0, 37.5).stresses_mpa(&squeezed, 25.0).1;
    let jacket =
        whole.stresses_mpa(&filled, 37.5).1 + ring(37.5, 50.0).stresses_mpa(&spread, 37.5).1;
    // The pressure is printed with seven digits; the stresses turn it sevenfold.
    assert!((tube - jacket).abs() < 7.2 * 0.5e-6, "{tube} {jacket}");
}

#[test]
fn closed_form_a_thin_turning_ring_and_a_free_faced_disc() {
    let aluminium = Elastic {
        modulus_mpa: 70_000.0,
        poisson_ratio: 0.33,
        expansion_per_k: 23e-6,
        density_g_cm3: 2.7,
    };
    let speed_rad_s = 10_000.0 * std::f64::consts::PI / 30.0;
    let turning = Load {
        speed_rad_s,
        ..Load::default()
    };
    let thin = Annulus {
        inner_mm: 25.9999,
        outer_mm: 26.0001,
        elastic: aluminium,
    };
    // ρω²r² is 2.001556 MPa; a ring of finite wall differs by the square of wall over radius.
    assert!((thin.stresses_mpa(&turning, 26.0).1 - 2.001_556).abs() < 1e-6 + 2.0 * 1e-5);
    let thick = Annulus {
        inner_mm: 24.0,
        outer_mm: 28.0,
        elastic: aluminium,
    };
    for face in [24.0, 28.0] {
        // Nothing presses on a free face: a few roundings of the hoop stress.
        assert!(thick.stresses_mpa(&turning, face).0.abs() < 1e-14);
    }
    // The growth that E1 writes out in full.
    let (a, b, r, nu) = (24.0f64, 28.0f64, 24.0f64, 0.33);
    let flung = (3.0 + nu) * (1.0 - nu) / 8.0 * 2.7e-9 * speed_rad_s * speed_rad_s * r / 70_000.0
        * (a * a + b * b - (1.0 + nu) / (3.0 + nu) * r * r
            + (1.0 + nu) / (1.0 - nu) * a * a * b * b / (r * r));
    let found = thick.growth_mm(&turning, r);
    assert!(
        (found - flung).abs() < 1e-14 * flung.abs().max(1e-6),
        "{found} {flung}"
    );
}

#[test]
fn twin_creep_by_the_power_law() {
    for case in cases(include_str!("../../../validation/fitting/creep.toml")) {
        let (hour, thousand) = (case.need("hour_mpa"), case.need("thousand_mpa"));
        assert!((creep_modulus_mpa(hour, thousand, 1000.0) - thousand).abs() < 1e-9);
        case.check(|key| match key {
            "slope_ratio" => creep_slope_ratio(hour, thousand),
            "modulus_mpa" => creep_modulus_mpa(hour, thousand, case.need("hours")),
            other => panic!("{}: nothing here is called {other}", case.name),
        });
    }
}

#[test]
fn closed_form_heat_to_slip_on() {
    assert!((heat_to_slip_on_k(23e-6, 24.0, 0.06) - 108.696).abs() < 0.0005);
}

#[test]
fn twin_random_pairs_agree_with_the_integral() {
    let pairs = Pairs {
        mean_um: 38.5,
        hole_sd_um: 25.0 / 6.0,
        shaft_sd_um: 16.0 / 6.0,
        parts_at_um: 20.0,
        torque_um: 2.0,
        friction_coefficient: Range {
            low: 0.15,
            likely: 0.2,
            high: 0.3,
        },
        most_um: 44.0,
    };
    // The root of the sum of squares that the page of E3 prints.
    assert!((pairs.hole_sd_um.hypot(pairs.shaft_sd_um) - 4.9469).abs() < 0.00005);
    let chance_of = |seed| chance(&pairs, 400_000, seed);
    let found = chance_of(5);
    assert!(found.loose_probability > 0.01 && found.over_stressed_probability > 0.01);
    assert!((found.loose_share - found.loose_probability).abs() < found.agree_within_share);
    let over = found.over_stressed_share - found.over_stressed_probability;
    assert!(over.abs() < found.agree_within_share);
    assert_eq!(chance_of(5), found);
    assert_ne!(chance_of(6).loose_share, found.loose_share);
}

#[test]
fn closed_form_a_loose_ring_off_the_axle_and_tilted() {
    let ring = RingMass {
        mass_g: 18.0,
        polar_g_mm2: 12_740.0,
        transverse_g_mm2: 6_466.0,
    };
    let found = looseness(
        &Loose {
            clearance_um: 10.0,
            length_mm: 8.0,
            runout_mm: 0.0,
            face_mm: 58.0,
            budget_g_mm: Some(0.3),
        },
        &ring,
    );
    // 5 µm off; 10 µm over 8 mm is 1.25 mrad; two roundings each.
    assert!((found.static_g_mm - 0.09).abs() < 1e-15 && found.budget_share == Some(0.3));
    assert!((found.couple_g_mm2 - 6_274.0 * 0.00125).abs() < 1e-12);
    let runs_out = looseness(
        &Loose {
            clearance_um: -40.0,
            length_mm: 8.0,
            runout_mm: 0.058,
            face_mm: 58.0,
            budget_g_mm: None,
        },
        &ring,
    );
    assert_eq!(runs_out.static_g_mm, 0.0);
    assert!((runs_out.couple_g_mm2 - 6.274).abs() < 1e-12);
}

fn piece(name: &str, outline: &str, material: &str, kind: MaterialKind) -> Piece {
    let density_g_cm3 = whirlwright_workshop::shelf::material(material)
        .expect("a material of the shelf")
        .density_g_cm3;
    Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(outline).expect("a path"),
        material: PieceMaterial {
            density_g_cm3,
            shelf_id: Some(material.to_owned()),
            kind,
            why: "of the shelf".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

fn drawn(wishes: FitWishes) -> Result<Given, Refusal> {
    drawn_of("pom", wishes)
}

fn drawn_of(resin: &str, wishes: FitWishes) -> Result<Given, Refusal> {
    let mut ring = piece(
        "ring",
        "M 8 24 L 16 24 L 16 28 L 8 28 Z",
        "en-aw-6061",
        MaterialKind::Metal,
    );
    ring.presses_on.push(PressesOn {
        piece: "hub".to_owned(),
        overlap_mm: 0.1,
    });
    let hub = piece(
        "hub",
        "M 6 3 L 6 24.05 L 16 24.05 L 16 20 L 8 20 L 8 3 Z",
        resin,
        MaterialKind::Polymer,
    );
    let job = Job {
        name: "fit".to_owned(),
        pieces: vec![ring, hub],
        fit: Some(wishes),
        ..Job::default()
    };
    Given::of_design(&design::Given::new(job).expect("a sound drawing"))
}

fn wishes() -> FitWishes {
    FitWishes {
        fit: Some("48 H7/x6".to_owned()),
        temperature_degc: Some(Range::between(10.0, 30.0)),
        ..FitWishes::default()
    }
}

const DRAWS: Draws = Draws {
    pairs_count: 20_000,
    seed: 1,
};

#[test]
fn law_the_drawing_gives_the_seat() {
    let given = drawn(wishes()).unwrap();
    assert_eq!(
        (given.ring_outside_mm, given.body_inside_mm, given.length_mm),
        (56.0, 40.0, 8.0)
    );
    // π (28² − 24²) 8 mm³ at 2.70 g/cm³, some roundings.
    let by_hand = std::f64::consts::PI * 208.0 * 8.0 * 2.70e-3;
    assert!((given.ring_mass.unwrap().mass_g - by_hand).abs() < 1e-13);
}

#[test]
fn law_the_window_is_where_the_conditions_change() {
    let answer = fit(&drawn(wishes()).unwrap(), DRAWS);
    let body = &answer.body;
    let window = body.window_um.expect("a window");
    let kept = |shift_um: f64| {
        let mut given = drawn(wishes()).unwrap();
        for limits in [&mut given.fit.hole, &mut given.fit.shaft] {
            (limits.lower_um, limits.upper_um) = (0.0, 0.0);
        }
        given.fit.shaft.lower_um = shift_um;
        given.fit.shaft.upper_um = shift_um;
        fit(&given, DRAWS).body.conditions.iter().all(|c| c.kept)
    };
    // A fit of one size alone; the middle of the bore moves the seat by less than a micrometre.
    assert!(kept(window.least_um + 1.0) && !kept(window.least_um - 1.0));
    assert!(kept(window.most_um - 1.0) && !kept(window.most_um + 1.0));
    let margins: Vec<f64> = body.conditions.iter().map(|c| c.margin_um).collect();
    assert!(margins.is_sorted());
    assert!(answer.decided_by.contains(&body.conditions[0].name));
}

#[test]
fn law_colder_older_and_smoother_holds_less() {
    let answer = fit(&drawn(wishes()).unwrap(), DRAWS);
    let state = |name: &str| {
        let mut found = answer.body.states.iter().filter(|s| s.name == name);
        found
            .next()
            .unwrap_or_else(|| panic!("no state {name}"))
            .clone()
    };
    let (new, cold) = (state("new"), state("cold, at speed"));
    let (old, cold_old) = (
        state("after 5 years"),
        state("cold after 5 years, at speed"),
    );
    assert!(cold.pressure_mpa.likely < new.pressure_mpa.likely);
    assert!(old.pressure_mpa.likely < new.pressure_mpa.likely);
    assert!(cold_old.pressure_mpa.likely < cold.pressure_mpa.likely);
    assert!(new.torque_n_mm.is_in_order() && new.pressure_mpa.is_in_order());
    assert!(
        answer
            .body
            .over_time
            .windows(2)
            .all(|w| w[1].pressure_mpa.likely <= w[0].pressure_mpa.likely)
    );
}

/// The turner's pair: what a cold day leaves of the interference, and the friction it is reckoned with.
#[test]
fn closed_form_a_cold_day_leaves_half_of_it() {
    for case in cases(include_str!("../../../validation/fitting/cold_day.toml")) {
        let text = |key: &str| case.inputs[key].as_str().map(str::to_owned);
        let asked = FitWishes {
            hole: text("bore_mm").map(|size| format!("{size} +0/0")),
            shaft: text("spigot_mm").map(|size| format!("{size} +0/0")),
            temperature_degc: Some(Range::between(case.need("cold_degc"), 20.0)),
            ..FitWishes::default()
        };
        let given = drawn_of("pc-abs", asked).unwrap();
        let states = fit(&given, DRAWS).body.states;
        let left = |name: &str| {
            let found = states.iter().find(|s| s.name == name);
            found.map_or(f64::NAN, |s| s.interference_um.likely)
        };
        case.check(|key| match key {
            "measured_um" => left("new"),
            "cold_um" => left("cold, at speed"),
            "least_friction" => given.friction_coefficient.low,
            "most_friction" => given.friction_coefficient.high,
            other => panic!("{}: nothing here is called {other}", case.name),
        });
    }
}

#[test]
fn law_a_scatter_too_wide_is_sorted_into_bins() {
    let mut asked = wishes();
    asked.torque_n_mm = Some(600.0);
    asked.shaft_sd_um = Some(100.0);
    asked.shaft = Some("48 +0.45/+0.10".to_owned());
    let answer = fit(&drawn(asked).unwrap(), DRAWS);
    let advice = &answer.body.advice;
    let (bins, window) = (
        advice.body_bins_count.unwrap(),
        answer.body.window_um.unwrap(),
    );
    let room = window.most_um - window.least_um - 25.0;
    // So many bins are enough and one less is not.
    assert!(bins > 1, "{advice:?} {window:?}");
    assert!(600.0 / f64::from(bins) <= room && 600.0 / f64::from(bins - 1) > room);
    assert!(advice.words.contains("fit_window"), "{}", advice.words);
    assert_ne!(answer.verdict, Verdict::Good);
}

#[test]
fn law_what_rests_on_memory_says_so() {
    let answer = fit(&drawn(wishes()).unwrap(), DRAWS);
    assert!(answer.trust.iter().any(|t| t.why.contains("from memory")));
    assert!(
        answer
            .trust
            .iter()
            .any(|t| t.why.contains("read in crawford-plastics")
                || t.why.contains("read in resin-data-sheets"))
    );
    assert!(answer.cautions.iter().any(|c| c.contains("shield")));
}

#[test]
fn law_what_cannot_be_a_press_is_refused() {
    let with = |change: &dyn Fn(&mut FitWishes)| {
        let mut asked = wishes();
        change(&mut asked);
        drawn(asked).unwrap_err()
    };
    assert!(matches!(
        with(&|w| w.ring_outside_mm = Some(40.0)),
        Refusal::RingInsideOut { .. }
    ));
    assert!(matches!(
        with(&|w| w.body_inside_mm = Some(48.2)),
        Refusal::BodyInsideOut { .. }
    ));
    assert!(matches!(
        with(&|w| w.body_inside_mm = Some(-1.0)),
        Refusal::BodyInsideOut { .. }
    ));
    assert!(matches!(
        with(&|w| w.fit = Some("48 H7/g6".to_owned())),
        Refusal::Clearance { .. }
    ));
    assert!(matches!(
        with(&|w| w.temperature_degc = Some(Range::between(-80.0, 20.0))),
        Refusal::Temperature { .. }
    ));
    assert!(matches!(
        with(&|w| w.temperature_degc = Some(Range::between(0.0, 200.0))),
        Refusal::Temperature { .. }
    ));
    assert!(matches!(
        with(&|w| w.fit = Some("48 H7/q6".to_owned())),
        Refusal::Limits { .. }
    ));
    assert!(matches!(with(&|w| w.fit = None), Refusal::NoLimits { .. }));
    assert!(matches!(
        with(&|w| w.length_mm = Some(0.0)),
        Refusal::NotPositive { .. }
    ));
    assert!(matches!(
        with(&|w| w.torque_n_mm = Some(f64::NAN)),
        Refusal::NotPositive { .. }
    ));
    assert!(matches!(
        with(&|w| w.body = Some("nothing".to_owned())),
        Refusal::NoPiece { .. }
    ));
    assert!(matches!(
        with(&|w| w.hole = Some("20 H7".to_owned())),
        Refusal::TwoSizes { .. }
    ));
    assert!(matches!(
        with(&|w| w.ring_material.poisson_ratio = Some(0.5)),
        Refusal::Poisson { .. }
    ));
    assert!(matches!(
        with(&|w| w.friction_coefficient = Some(Range {
            low: 0.3,
            likely: 0.2,
            high: 0.1
        })),
        Refusal::UpsideDown { .. }
    ));
}
