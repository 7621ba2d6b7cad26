//! The tables of the spin station: every case of `validation/spin/`, reckoned and compared.

mod spin_cases;

use spin_cases::{Inputs, MICRO, compare, generic};
use whirlwright_workshop::spin::climb::{
    capstan_ratio, climbs_rad_per_s, restitution_ratio, taken_share,
};
use whirlwright_workshop::spin::layers::Layers;
use whirlwright_workshop::spin::sleep::{energies_j, sleep_s, turning_distance};
use whirlwright_workshop::spin::speed::{in_rad_per_s, in_rpm};
use whirlwright_workshop::spin::turn::{Hanging, beside_mm, leans_deg_per_s};
use whirlwright_workshop::spin::unwind::{HandMotion, Unwinding};
use whirlwright_workshop::spin::wobble::{
    couple_amplification, eccentricity_um, stiff_force_mn, tilt_mrad,
};
use whirlwright_workshop::spin::{Law, Loss, LossName, Losses};

fn unwinding(i: &Inputs) -> Unwinding {
    Unwinding {
        mass_kg: i.number("mass_g") * 1e-3,
        inertia_kg_m2: i.number("inertia_g_mm2") * 1e-9,
        layers: Layers::new(
            0.5 * i.number("bearing_mm"),
            i.number("length_mm"),
            i.number("string_mm"),
            i.number("gap_mm"),
            i.number("packing"),
        ),
    }
}

#[test]
fn closed_form_string_fall_and_throw() {
    compare(
        include_str!("../../../validation/spin/string.toml"),
        |of, i| {
            let piece = unwinding(i);
            let still = HandMotion {
                speeds_m_per_s: vec![(0.0, 0.0)],
            };
            match of {
                "layers" => vec![
                    ("growth_mm", piece.layers.growth_mm),
                    ("full_radius_mm", piece.layers.full_radius_mm()),
                    (
                        "half_radius_mm",
                        piece.layers.radius_mm(0.5 * piece.layers.length_mm),
                    ),
                    ("turns_count", piece.layers.turns_count()),
                ],
                "drop" => {
                    let down = piece.down(&still).expect("it comes down");
                    vec![
                        ("end_rad_per_s", piece.end_speed_rad_per_s(piece.fall_j())),
                        ("stepped_rad_per_s", down.speed_rad_per_s),
                        ("time_s", down.time_s),
                        ("end_speed_m_per_s", down.end_speed_m_per_s),
                    ]
                }
                "drop_at_one_radius" => {
                    let mut piece = piece;
                    piece.layers.growth_mm = 0.0;
                    let down = piece.down(&still).expect("it comes down");
                    let time = down.time_s;
                    // At one radius the fall is even: a = 2 L/t².
                    let acceleration = 2e-3 * piece.layers.length_mm / (time * time);
                    vec![("time_s", time), ("acceleration_m_per_s2", acceleration)]
                }
                "throw" => {
                    let (hand, stop) = (i.number("hand_m_per_s"), i.number("stop_s"));
                    let thrown = piece.thrown(hand, stop).expect("it comes down");
                    vec![
                        ("at_once_rad_per_s", piece.thrown_rad_per_s(hand)),
                        ("in_time_rad_per_s", thrown.speed_rad_per_s),
                        ("bound_rad_per_s", piece.most_rad_per_s(hand)),
                    ]
                }
                "kept" => vec![("kept_share", piece.kept_share())],
                "energy" => {
                    let speed = in_rad_per_s(i.number("rpm"));
                    let turning = 0.5 * piece.inertia_kg_m2 * speed * speed;
                    let flying = (2.0 * turning / piece.mass_kg).sqrt();
                    vec![("turning_j", turning), ("flying_m_per_s", flying)]
                }
                other => panic!("`{other}` is not reckoned"),
            }
        },
    );
}

#[test]
fn closed_form_return() {
    compare(
        include_str!("../../../validation/spin/return.toml"),
        |of, i| match of {
            "capstan" => vec![(
                "ratio",
                capstan_ratio(i.number("friction"), i.number("turns")),
            )],
            "climb" => {
                let (mass, inertia) = (i.number("mass_g") * 1e-3, i.number("inertia_g_mm2") * 1e-9);
                let grip = i.number("grip_mm");
                let speed = climbs_rad_per_s(mass, inertia, i.number("length_mm"), grip);
                vec![
                    ("rad_per_s", speed),
                    ("rpm", in_rpm(speed)),
                    ("taken_share", taken_share(mass, inertia, grip)),
                ]
            }
            "restitution" => {
                let (mass, inertia) = (i.number("mass_g") * 1e-3, i.number("inertia_g_mm2") * 1e-9);
                let radius = i.number("axle_radius_mm");
                let ratio = restitution_ratio(mass, inertia, radius);
                vec![
                    ("taken_share", taken_share(mass, inertia, radius)),
                    ("restitution_ratio", ratio),
                    ("height_ratio", ratio * ratio),
                ]
            }
            other => panic!("`{other}` is not reckoned"),
        },
    );
}

/// A loss of one law that takes a piece from one speed to another in a given time.
fn one_law(law: &str, inertia: f64, from: f64, to: f64, time: f64) -> Losses {
    let law = match law {
        "constant" => Law::Constant {
            coefficient: inertia * (from - to) / time,
        },
        "linear" => Law::Linear {
            coefficient: inertia / time * (from / to).ln(),
        },
        "three_halves" => Law::ThreeHalves {
            coefficient: 2.0 * inertia / time * (1.0 / to.sqrt() - 1.0 / from.sqrt()),
        },
        other => panic!("`{other}` is no law"),
    };
    one(law)
}

fn one(law: Law) -> Losses {
    let name = LossName::Fitted;
    Losses {
        all: vec![Loss {
            name,
            factor: 1.0,
            law,
        }],
    }
}

#[test]
fn closed_form_turn_and_lean() {
    compare(
        include_str!("../../../validation/spin/turn.toml"),
        |of, i| {
            let inertia = i.number("inertia_g_mm2") * 1e-9;
            let (mass_g, centre) = (i.number("mass_g"), i.number("side_centre_mm"));
            let hanging = |beside_mm: f64, torsion: f64| Hanging {
                mass_kg: mass_g * 1e-3,
                beside_mm,
                bearing_radius_mm: 0.5 * i.number("bearing_mm"),
                torsion_n_m_per_rad: torsion,
            };
            let beside = |key: &str| beside_mm(i.number(key), mass_g, centre);
            match of {
                "turn" => {
                    let momentum = inertia * i.number("rad_per_s");
                    let hanging = hanging(beside("difference_g"), 0.0);
                    let rate = hanging.rate_deg_per_s(momentum);
                    vec![
                        ("beside_um", 1e3 * hanging.beside_mm),
                        ("torque_un_m", hanging.torque_n_m() / MICRO),
                        ("rate_deg_per_s", rate),
                        ("rate_rad_per_s", rate.to_radians()),
                        ("plumb_lean_deg", hanging.plumb_lean_deg()),
                    ]
                }
                "turn_for" => {
                    let (from, to) = (i.number("from_rad_per_s"), i.number("to_rad_per_s"));
                    let time = i.number("time_s");
                    let distance = match i.text("law") {
                        "steady" => time / (inertia * from),
                        law => turning_distance(&one_law(law, inertia, from, to, time), from, to),
                    };
                    let pose = hanging(beside("difference_g"), 0.0).pose(distance);
                    vec![("turn_deg", pose.turn_deg)]
                }
                "turn_in_sleep" => {
                    let losses = generic(5.0, 0.0, 10.0, 1.0);
                    let (from, to) = (i.number("from_rad_per_s"), i.number("to_rad_per_s"));
                    let distance = turning_distance(&losses, from, to);
                    let pose = hanging(beside("difference_g"), 0.0).pose(distance);
                    vec![
                        ("sleep_s", sleep_s(&losses, inertia, from, to)),
                        ("turn_deg", pose.turn_deg),
                    ]
                }
                "stiff" => {
                    let torsion = MICRO * i.number("torsion_un_m_per_rad");
                    let hanging = hanging(beside("difference_g"), torsion);
                    let momentum = inertia * i.number("rad_per_s");
                    let period = hanging.period_s(momentum);
                    // A whole swing at a steady speed meets its bounds on the way.
                    let largest = hanging.largest(period / momentum);
                    assert!((largest.turn_deg / hanging.turn_bound_deg() - 1.0).abs() < 1e-12);
                    assert!((largest.lean_deg / hanging.lean_bound_deg() - 1.0).abs() < 1e-12);
                    vec![
                        ("lean_deg", largest.lean_deg),
                        ("turn_deg", largest.turn_deg),
                        ("period_s", period),
                    ]
                }
                "twist" => {
                    let momentum = inertia * i.number("rad_per_s");
                    let lean = leans_deg_per_s(MICRO * i.number("torque_un_m"), momentum);
                    vec![("lean_deg_per_s", lean)]
                }
                "off_centre" => {
                    let off = i.number("off_mm");
                    let momentum = inertia * i.number("rad_per_s");
                    let rate = hanging(off, 0.0).rate_deg_per_s(momentum);
                    vec![
                        ("as_mass_g", off * mass_g / centre),
                        ("rate_deg_per_s", rate),
                    ]
                }
                other => panic!("`{other}` is not reckoned"),
            }
        },
    );
}

#[test]
fn closed_form_wobble() {
    compare(
        include_str!("../../../validation/spin/wobble.toml"),
        |of, i| {
            let couple = |couple_g_mm2: f64| {
                let (polar, transverse) = (i.number("polar_g_mm2"), i.number("transverse_g_mm2"));
                let tilt = tilt_mrad(couple_g_mm2, polar, transverse);
                vec![
                    ("couple_g_mm2", couple_g_mm2),
                    ("tilt_mrad", tilt),
                    ("rim_um", tilt * i.number("rim_mm")),
                    ("nutation_order", polar / transverse),
                    ("amplification", couple_amplification(polar, transverse)),
                ]
            };
            let orbit = |static_g_mm: f64| {
                let speed = in_rad_per_s(i.number("rpm"));
                let eccentricity = eccentricity_um(static_g_mm, i.number("mass_g"));
                vec![
                    ("static_g_mm", static_g_mm),
                    ("eccentricity_um", eccentricity),
                    ("orbit_mm_per_s", 1e-3 * eccentricity * speed),
                    ("force_mn", stiff_force_mn(static_g_mm, speed)),
                ]
            };
            match of {
                "static" => orbit(i.number("static_g_mm")),
                "couple" => couple(i.number("couple_g_mm2")),
                "seat" => {
                    let moved = i.number("mass_g") * 1e-3 * i.number("off_um");
                    let mut both = orbit(moved);
                    both.extend(couple(moved * i.number("side_centre_mm")));
                    both
                }
                other => panic!("`{other}` is not reckoned"),
            }
        },
    );
}

#[test]
fn twin_decay_and_sleep() {
    compare(
        include_str!("../../../validation/spin/decay.toml"),
        |of, i| {
            let inertia = 2.8e-5;
            match of {
                "decay" => {
                    let loss = |law| Loss {
                        name: LossName::Fitted,
                        factor: 1.0,
                        law,
                    };
                    let losses = Losses {
                        all: vec![
                            loss(Law::Constant {
                                coefficient: i.number("constant_n_m"),
                            }),
                            loss(Law::Linear {
                                coefficient: i.number("linear"),
                            }),
                            loss(Law::ThreeHalves {
                                coefficient: i.number("three_halves"),
                            }),
                            loss(Law::Square {
                                coefficient: i.number("square"),
                            }),
                        ],
                    };
                    let (from, to) = (i.number("from_rad_per_s"), i.number("to_rad_per_s"));
                    let inertia = i.number("inertia_g_mm2") * 1e-9;
                    let closed = sleep_s(&losses, inertia, from, to);
                    let stepped = whirlwright_kit::quadrature::integrate(
                        |w| [inertia / losses.torque_at_n_m(w)],
                        to,
                        from,
                        1e-12,
                    );
                    assert!(
                        (closed / stepped.value[0] - 1.0).abs() < 1e-9,
                        "closed form and quadrature"
                    );
                    vec![("time_s", closed)]
                }
                "sleep" | "shares" => {
                    let losses = generic(
                        i.number("dry_un_m"),
                        i.number("f0"),
                        i.number("viscosity_cst"),
                        i.number("rim_factor"),
                    );
                    let (from, to) = (
                        in_rad_per_s(i.number("from_rpm")),
                        in_rad_per_s(i.number("to_rpm")),
                    );
                    let energies = energies_j(&losses, inertia, from, to);
                    let whole: f64 = energies.iter().sum();
                    let percent = |n: usize| 100.0 * energies[n] / whole;
                    vec![
                        ("sleep_s", sleep_s(&losses, inertia, from, to)),
                        ("energy_j", whole),
                        ("bearing_percent", percent(0)),
                        ("faces_percent", percent(2)),
                        ("rim_percent", percent(3)),
                    ]
                }
                other => panic!("`{other}` is not reckoned"),
            }
        },
    );
}
