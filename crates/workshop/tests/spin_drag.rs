//! The tables of drag: disc, cone, cylinder, and the generic piece.

mod spin_cases;

use std::f64::consts::{PI, TAU};

use spin_cases::{Found, Inputs, MICRO, TABLE_AIR, compare, disc, generic};
use whirlwright_kit::ode::{Accuracy, follow};
use whirlwright_workshop::spin::air::Air;
use whirlwright_workshop::spin::faces::Faces;
use whirlwright_workshop::spin::rim::{
    crossing_number, cylinder_coefficient, turbulent_coefficient,
};
use whirlwright_workshop::spin::speed::{Speed, in_rad_per_s};

/// Von Kármán's equations with two guesses at the disc, to the end of the stretch.
fn disc_flow(guess: [f64; 2], end: f64) -> [f64; 5] {
    let slope = |_: f64, y: &[f64; 5]| {
        let [f, f1, g, g1, h] = *y;
        [
            f1,
            f * f - g * g + h * f1,
            g1,
            2.0 * f * g + h * g1,
            -2.0 * f,
        ]
    };
    let start = [0.0, guess[0], 1.0, guess[1], 0.0];
    let accuracy = Accuracy {
        relative: 1e-12,
        absolute: 1e-13,
        ..Accuracy::default()
    };
    follow(slope, 0.0, end, start, accuracy, |_, _| 1.0)
        .expect("the flow is smooth")
        .y
}

/// The two slopes at the disc with which the flow comes to rest far out, by Newton's method.
fn shoot(end: f64) -> [f64; 2] {
    let mut guess = [0.51, -0.616];
    let rest = |y: [f64; 5]| [y[0], y[2]];
    for _ in 0..12 {
        let at = rest(disc_flow(guess, end));
        let h = 1e-6;
        let column = |k: usize| {
            let (mut more, mut less) = (guess, guess);
            (more[k], less[k]) = (guess[k] + h, guess[k] - h);
            let (more, less) = (rest(disc_flow(more, end)), rest(disc_flow(less, end)));
            [
                (more[0] - less[0]) / (2.0 * h),
                (more[1] - less[1]) / (2.0 * h),
            ]
        };
        let (a, b) = (column(0), column(1));
        let det = a[0] * b[1] - b[0] * a[1];
        guess[0] -= (at[0] * b[1] - b[0] * at[1]) / det;
        guess[1] -= (a[0] * at[1] - at[0] * a[1]) / det;
    }
    guess
}

fn von_karman() -> Found {
    // Far out everything dies away with exp(−0.884 ζ): at 20 to 2e-8 of itself, and the error of the
    // slopes with the square of that.
    let end = 20.0;
    let [f_slope, g_slope] = shoot(end);
    let inflow = disc_flow([f_slope, g_slope], end)[4];
    let g_at = |zeta: f64| disc_flow([f_slope, g_slope], zeta)[2] - 0.01;
    let layer = whirlwright_kit::root::root(g_at, 4.0, 7.0, 1e-9).expect("it falls through 0.01");
    vec![
        ("f_slope", f_slope),
        ("g_slope", g_slope),
        ("inflow", inflow),
        ("moment", -TAU * g_slope),
        ("layer", layer),
    ]
}

/// Moment coefficient `M/(½ρω²a⁵)` of both sides of a disc at a Reynolds number.
fn disc_coefficient(reynolds: f64, transition: f64) -> f64 {
    let air = Air {
        density_kg_m3: 1.0,
        viscosity_pa_s: 1e-5,
    };
    let a = 0.03;
    let speed = reynolds * air.kinematic_m2_per_s() / (a * a);
    let faces = Faces::with_transition(&[disc(0.0, 1e3 * a, 1.0)], air, transition);
    2.0 * faces.torque_n_m(Speed::new(speed)) / (0.5 * speed * speed * a.powi(5))
}

fn drag(of: &str, i: &Inputs) -> Found {
    match of {
        "von_karman" => von_karman(),
        "cone" => {
            let sine = i.number("angle_deg").to_radians().sin();
            let one = Air {
                density_kg_m3: 1.0,
                viscosity_pa_s: 1.0,
            };
            let faces = Faces::new(&[disc(0.0, 1e3, sine)], one);
            vec![("moment", faces.laminar_coefficient())]
        }
        "disc" => vec![
            ("laminar", disc_coefficient(i.number("reynolds"), 1e12)),
            ("turbulent", disc_coefficient(i.number("reynolds"), 1e-12)),
        ],
        "mixed" => {
            let number = disc_coefficient(i.number("reynolds"), i.number("transition"));
            vec![("both_sides", number)]
        }
        "cylinder" => {
            let c = turbulent_coefficient(i.number("reynolds"));
            // The law itself: `1/√c` is of the order of 20, rounded some four times.
            let right = -0.6 + 4.07 * (i.number("reynolds") * c.sqrt()).log10();
            assert!((1.0 / c.sqrt() - right).abs() < 1e-9);
            vec![("coefficient", c)]
        }
        "crossing" => vec![
            ("reynolds", crossing_number()),
            ("coefficient", cylinder_coefficient(crossing_number())),
        ],
        "annulus" => {
            let of =
                |inner: f64| Faces::new(&[disc(inner, 28.0, 1.0)], TABLE_AIR).laminar_coefficient();
            vec![("share", of(28.0 * i.number("inner")) / of(0.0))]
        }
        "torque" => {
            let speed = in_rad_per_s(i.number("rpm"));
            let losses = generic(0.0, 0.0, 10.0, 1.0);
            let of = |n: usize| losses.all[n].torque_n_m(Speed::new(speed)) / MICRO;
            let laminar = 4.0 * PI * TABLE_AIR.viscosity_pa_s * 0.028f64.powi(2) * 0.02 * speed;
            vec![
                (
                    "reynolds",
                    speed * 0.028 * 0.028 / TABLE_AIR.kinematic_m2_per_s(),
                ),
                ("faces_un_m", of(2)),
                ("rim_un_m", of(3)),
                ("rim_laminar_un_m", laminar / MICRO),
                ("sum_un_m", of(2) + of(3)),
            ]
        }
        "rim_exponent" => {
            let losses = generic(0.0, 0.0, 10.0, 1.0);
            let (speed, h) = (i.number("rad_per_s"), 1e-4f64);
            let at = |log: f64| losses.all[3].torque_n_m(Speed::new(speed * log.exp())).ln();
            vec![("exponent", (at(h) - at(-h)) / (2.0 * h))]
        }
        "air" => {
            let air = Air::moist(
                i.number("temperature_degc"),
                i.number("pressure_kpa"),
                i.number("humidity_percent"),
            );
            vec![
                ("density_kg_m3", air.density_kg_m3),
                ("viscosity_pa_s", air.viscosity_pa_s),
            ]
        }
        "root_of_air" => {
            let degc = i.number("temperature_degc");
            let density = TABLE_AIR.density_kg_m3 * 293.15 / (degc + 273.15);
            let viscosity = Air::moist(degc, 101.325, 0.0).viscosity_pa_s;
            vec![("root", (density * viscosity).sqrt())]
        }
        other => panic!("`{other}` is not reckoned"),
    }
}

#[test]
fn published_drag() {
    compare(include_str!("../../../validation/spin/drag.toml"), drag);
}
