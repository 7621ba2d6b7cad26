//! Laws of the spin station: energy is kept, drag scales as it must, limits are met, ranges are honest.

use whirlwright_workshop::design;
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::outline::Outline;
use whirlwright_workshop::part::spin_wishes::{
    AirWishes, BearingWishes, SpinWishes, StringWishes, ThrowWishes,
};
use whirlwright_workshop::part::{Answer, Range, Verdict};
use whirlwright_workshop::spin::air::Air;
use whirlwright_workshop::spin::faces::{FaceStrip, Faces};
use whirlwright_workshop::spin::layers::Layers;
use whirlwright_workshop::spin::profile::Profile;
use whirlwright_workshop::spin::rim::{Rim, RimBand};
use whirlwright_workshop::spin::sleep::{decay_s_and_rad_per_s, energies_j, sleep_s};
use whirlwright_workshop::spin::speed::Speed;
use whirlwright_workshop::spin::unwind::{HandMotion, Unwinding};
use whirlwright_workshop::spin::{Given, Law, Loss, LossName, Losses, SpinBody, spin};

/// A pair of cups with a rim each and an axle between them.
fn job() -> Job {
    let piece = |name: &str, side: Side, path: &str, density_g_cm3: f64| Piece {
        name: name.to_owned(),
        side,
        outline: Outline::read(path).expect("a path"),
        material: PieceMaterial {
            density_g_cm3,
            shelf_id: None,
            kind: MaterialKind::Metal,
            why: "stated in this test".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    Job {
        name: "cup".to_owned(),
        pieces: vec![
            piece("cup", Side::Both, "M 2.2 3 H 14 V 24 H 12 L 2.2 9 Z", 1.2),
            piece("rim", Side::Both, "M 12 24 H 20 V 28 H 12 Z", 2.8),
            piece("axle", Side::Centre, "M -10 0 H 10 V 2 H -10 Z", 7.8),
        ],
        ..Job::default()
    }
}

fn answer(job: Job) -> Result<Answer<SpinBody>, String> {
    let design = design::Given::new(job).expect("a sound drawing");
    let given = Given::new(&design).map_err(|refusal| refusal.to_string())?;
    spin(&given).map_err(|refusal| refusal.to_string())
}

fn body(job: Job) -> SpinBody {
    answer(job).expect("it spins").body
}

const AIR: Air = Air {
    density_kg_m3: 1.2,
    viscosity_pa_s: 1.8e-5,
};

fn face(air: Air, sine_ratio: f64) -> Faces {
    let strip = FaceStrip {
        inner_mm: 3.0,
        outer_mm: 28.0,
        sine_ratio,
    };
    Faces::new(&[strip], air)
}

fn rim(air: Air) -> Rim {
    let band = RimBand {
        radius_mm: 28.0,
        length_mm: 16.0,
    };
    Rim::new(&[band], air)
}

fn losses(air: Air) -> Losses {
    let loss = |name, factor, law| Loss { name, factor, law };
    Losses {
        all: vec![
            loss(
                LossName::BearingDry,
                7.0,
                Law::Constant { coefficient: 1e-6 },
            ),
            loss(LossName::Faces, 1.0, Law::Faces(face(air, 0.8))),
            loss(LossName::Rim, 0.7, Law::Rim(rim(air))),
        ],
    }
}

#[test]
fn law_energy_in_is_losses_and_what_is_left() {
    let (inertia, from, to) = (3e-5, 620.0, 31.0);
    let lost: f64 = energies_j(&losses(AIR), inertia, from, to).iter().sum();
    let whole = 0.5 * inertia * (from * from - to * to);
    assert!((lost / whole - 1.0).abs() < 1e-9, "{lost} of {whole}");
}

#[test]
fn law_the_throw_s_account_closes_for_any_hand() {
    let piece = Unwinding {
        mass_kg: 0.066,
        inertia_kg_m2: 2.8e-5,
        layers: Layers::new(6.35, 1050.0, 1.0, 4.5, 0.6),
    };
    let hands = [
        vec![(0.0, 12.0), (0.05, 0.0)],
        vec![(0.0, 9.0), (0.0, 2.0), (0.03, -1.0), (0.2, 0.0)],
        vec![(0.0, 0.0), (0.3, -2.0), (0.4, 0.0)],
        vec![(0.0, 8.0), (0.0, 0.0)],
    ];
    for speeds_m_per_s in hands {
        let down = piece
            .down(&HandMotion { speeds_m_per_s })
            .expect("it comes down");
        let given = down.thrown_j + down.gravity_j;
        let taken = down.turning_j + down.jerk_j + down.hand_took_j;
        assert!((given / taken - 1.0).abs() < 1e-9, "{down:?}");
    }
    // Stopped at once, the steps and the closed form are one.
    let at_once = HandMotion {
        speeds_m_per_s: vec![(0.0, 8.0), (0.0, 0.0)],
    };
    let stepped = piece.down(&at_once).expect("it comes down").speed_rad_per_s;
    assert!((stepped / piece.thrown_rad_per_s(8.0) - 1.0).abs() < 1e-8);
}

#[test]
fn law_air_drag_scales_as_its_laws() {
    let dense = Air {
        density_kg_m3: 2.0 * AIR.density_kg_m3,
        ..AIR
    };
    let speed = Speed::new(350.0);
    let torque = |air| face(air, 1.0).torque_n_m(speed);
    // Laminar: with the root of the density, and of the viscosity, and the power 1.5 of the speed.
    assert!((torque(dense) / torque(AIR) - 2f64.sqrt()).abs() < 1e-14 * 4.0);
    let faster = face(AIR, 1.0).torque_n_m(Speed::new(1400.0));
    assert!((faster / torque(AIR) - 8.0).abs() < 1e-13);
    let steep = face(AIR, 0.25).torque_n_m(speed);
    assert!((steep / torque(AIR) - 2.0).abs() < 1e-14 * 4.0);
    // Turbulent: power 0.8 of the density, 1.8 of the speed, as sin^-0.8.
    let rough = |air, sine_ratio, rad_per_s| {
        let strip = FaceStrip {
            inner_mm: 3.0,
            outer_mm: 28.0,
            sine_ratio,
        };
        Faces::with_transition(&[strip], air, 1e-9).torque_n_m(Speed::new(rad_per_s))
    };
    let base = rough(AIR, 1.0, 350.0);
    for (other, exponent, by) in [
        (rough(dense, 1.0, 350.0), 0.8, 2.0f64),
        (rough(AIR, 1.0, 700.0), 1.8, 2.0),
        (rough(AIR, 0.5, 350.0), 0.8, 2.0),
    ] {
        assert!((other / base - by.powf(exponent)).abs() < 1e-12, "{other}");
    }
    // The rim's coefficient depends on its Reynolds number alone: twice the density at half the speed is
    // half the torque.
    let (one, other) = (
        rim(AIR).torque_n_m(Speed::new(500.0)),
        rim(dense).torque_n_m(Speed::new(250.0)),
    );
    assert!((one / other - 2.0).abs() < 1e-13);
}

#[test]
fn law_a_piece_twice_as_heavy_to_turn_sleeps_twice_as_long() {
    let all = losses(AIR);
    let (one, two) = (
        sleep_s(&all, 1e-5, 500.0, 40.0),
        sleep_s(&all, 2e-5, 500.0, 40.0),
    );
    assert!((two / one - 2.0).abs() < 1e-14 * 4.0);
    // Half way and the rest are the whole.
    let parts = sleep_s(&all, 1e-5, 500.0, 200.0) + sleep_s(&all, 1e-5, 200.0, 40.0);
    assert!((parts / one - 1.0).abs() < 2e-9);
    let decay = decay_s_and_rad_per_s(&all, 1e-5, 500.0, 40.0, 50);
    assert!((decay[50].0 / one - 1.0).abs() < 2e-9 && decay.len() == 51);
}

#[test]
fn law_without_air_and_bearing_it_sleeps_for_ever() {
    let vacuum = Air {
        density_kg_m3: 0.0,
        viscosity_pa_s: 1.8e-5,
    };
    let speed = Speed::new(400.0);
    assert_eq!(face(vacuum, 1.0).torque_n_m(speed), 0.0);
    assert_eq!(rim(vacuum).torque_n_m(speed), 0.0);
    let mut none = losses(vacuum);
    let dry = sleep_s(&none, 3e-5, 400.0, 50.0);
    // Only the dry torque is left: I (w0 - w1)/T.
    assert!((dry / (3e-5 * 350.0 / 7e-6) - 1.0).abs() < 1e-14 * 4.0);
    none.all[0].factor = 0.0;
    assert_eq!(sleep_s(&none, 3e-5, 400.0, 50.0), f64::INFINITY);
    assert_eq!(sleep_s(&none, 3e-5, 50.0, 400.0), 0.0);
}

#[test]
fn closed_form_and_quadrature_meet_where_the_closed_form_hands_over() {
    let law = |constant: f64| Losses {
        all: vec![
            Loss {
                name: LossName::Fitted,
                factor: constant,
                law: Law::Constant { coefficient: 1e-6 },
            },
            Loss {
                name: LossName::Fitted,
                factor: 1.0,
                law: Law::ThreeHalves { coefficient: 5e-9 },
            },
        ],
    };
    // The closed form gives way to the quadrature as T0 falls: the time must not step.
    let mut last = sleep_s(&law(1.0), 3e-5, 400.0, 50.0);
    for n in 1..400 {
        let constant = (-0.05 * f64::from(n)).exp();
        let next = sleep_s(&law(constant), 3e-5, 400.0, 50.0);
        assert!(
            next >= last * (1.0 - 2e-9),
            "{constant}: {last} then {next}"
        );
        last = next;
    }
    let without = sleep_s(&law(0.0), 3e-5, 400.0, 50.0);
    assert!((last / without - 1.0).abs() < 1e-7);
}

#[test]
fn law_warm_moist_or_thin_air_is_lighter() {
    let density = |degc, kpa, percent| Air::moist(degc, kpa, percent).density_kg_m3;
    let room = density(20.0, 101.325, 50.0);
    assert!(density(28.0, 101.325, 50.0) < room && density(20.0, 97.0, 50.0) < room);
    assert!(density(20.0, 101.325, 0.0) > room);
    assert_eq!(density(20.0, 0.0, 0.0), 0.0);
}

/// A solid drum of 28 mm radius: two flat faces and a rim, whatever is hidden inside.
#[test]
fn closed_form_the_outline_of_a_drum_and_of_a_cone() {
    let with = |path: &str| {
        let mut job = job();
        job.pieces.truncate(1);
        job.pieces[0].outline = Outline::read(path).expect("a path");
        Profile::of(&job, 6.35)
    };
    let drum = with("M 2 0 H 12 V 28 H 2 Z");
    let coefficient = |strips: &[FaceStrip]| Faces::new(strips, AIR).laminar_coefficient();
    let whole = FaceStrip {
        inner_mm: 0.0,
        outer_mm: 28.0,
        sine_ratio: 1.0,
    };
    let by_hand = 2.0 * coefficient(&[whole]);
    assert!((coefficient(&drum.faces) / by_hand - 1.0).abs() < 1e-13);
    assert_eq!(drum.rim.len(), 1);
    assert!(
        (drum.rim[0].length_mm - 20.0).abs() < 1e-12
            && (drum.rim[0].radius_mm - 28.0).abs() < 1e-12
    );
    assert!(
        drum.surfaces(2.0).gap.is_empty(),
        "parallel walls are no flare"
    );
    assert_eq!(drum.narrowest_mm, 4.0);
    // A cone of 45 degrees outside: more by the fourth root of 2.
    let cone = with("M 2 0 H 32 L 4 28 H 2 Z");
    let more = coefficient(&cone.faces) / by_hand;
    assert!((more - 2f64.powf(0.25)).abs() < 1e-12, "{more}");
    // A flare of 45 degrees from the gap outward: counted from where it is 2 mm wider.
    let flare = with("M 2 0 H 40 V 28 H 12 L 2 18 Z").surfaces(2.0).gap;
    let from = flare
        .iter()
        .map(|s| s.inner_mm)
        .fold(f64::INFINITY, f64::min);
    assert!((from - 19.0).abs() < 1.0 && flare.iter().all(|s| s.outer_mm <= 28.0 + 1e-9));
}

#[test]
fn closed_form_a_curved_face_is_met_by_its_chords() {
    // A quarter of a sphere as a face: the strips' integral against the exact one.
    let mut job = job();
    job.pieces.truncate(1);
    job.pieces[0].outline = Outline::read("M 2 0 H 30 A 28 28 0 0 1 2 28 Z").expect("a path");
    let found = Profile::of(&job, 6.35).faces;
    let (from, to) = (0.0, 28.0 * 60f64.to_radians().sin());
    // Where the sphere stands at 30 degrees and more to the axle its radius is up to 28 sin 60°; a
    // strip that straddles the limit is counted whole or not at all.
    let reach = found.iter().map(|s| s.outer_mm).fold(0.0, f64::max);
    assert!((reach - to).abs() < 28.0 / 16.0, "{reach}");
    let exact = whirlwright_kit::quadrature::integrate(
        |r: f64| [4.0 * r.powi(3) / (1.0 - (r / 28.0).powi(2)).sqrt().sqrt()],
        from,
        reach,
        1e-10,
    )
    .value[0];
    let sum: f64 = found
        .iter()
        .map(|s| (s.outer_mm.powi(4) - s.inner_mm.powi(4)) / s.sine_ratio.sqrt())
        .sum();
    // Both sides. A chord is off by the square of its share of the curve, some 1/3 of 1/16².
    assert!((0.5 * sum / exact - 1.0).abs() < 1.5e-3, "{sum} {exact}");
}

#[test]
fn law_the_range_holds_the_likely_value_and_shrinks_with_what_is_known() {
    let wide = body(job());
    let sleep = wide.sleep_s;
    assert!(
        sleep.low < sleep.likely && sleep.likely < sleep.high,
        "{sleep:?}"
    );
    let shares: f64 = wide.range_from.iter().map(|r| r.share).sum();
    assert!((shares - 1.0).abs() < 1e-12);
    let worst = wide.range_from[0].factor.clone();
    let mut known = job();
    known.throw = Some(ThrowWishes {
        speed_rpm: Some(Range::exactly(4000.0)),
        ..ThrowWishes::default()
    });
    known.spin = Some(SpinWishes {
        ends_at_rpm: Some(Range::exactly(500.0)),
        rim_factor: Some(Range::exactly(1.0)),
        gap_factor: Some(Range::exactly(0.0)),
        ..SpinWishes::default()
    });
    known.bearing = Some(BearingWishes {
        dry_torque_un_m: Some(Range::exactly(5.0)),
        f0_factor: Some(Range::exactly(0.0)),
        ..BearingWishes::default()
    });
    let narrow = body(known);
    let relative = |r: Range| (r.high - r.low) / r.likely;
    assert!(relative(narrow.sleep_s) < 0.2 * relative(sleep), "{worst}");
    assert!((narrow.speed_rpm.likely / 4000.0 - 1.0).abs() < 4.0 * f64::EPSILON);
}

#[test]
fn law_the_parts_of_an_answer_agree() {
    let body = body(job());
    let shares: f64 = body.losses.iter().map(|l| l.share).sum();
    assert!((shares - 1.0).abs() < 1e-12);
    let last = body.curve.last().expect("a curve");
    assert!((last.time_s / body.sleep_s.likely - 1.0).abs() < 1e-7);
    assert!((last.speed_rpm / body.ends_at_rpm.likely - 1.0).abs() < 1e-9);
    assert!(
        body.curve
            .windows(2)
            .all(|w| w[0].time_s < w[1].time_s && w[0].speed_rpm > w[1].speed_rpm)
    );
    let throw = &body.throw;
    let given = throw.thrown_j.unwrap() + throw.gravity_j.unwrap();
    let taken = throw.turning_j + throw.jerk_j.unwrap() + throw.hand_took_j.unwrap();
    assert!((given / taken - 1.0).abs() < 1e-9);
    for lever in &body.levers {
        let here = lever
            .points
            .iter()
            .find(|p| p.at == lever.likely_at)
            .expect("where it stands");
        assert!(
            (here.sleep_s / body.sleep_s.likely - 1.0).abs() < 1e-9,
            "{}",
            lever.name
        );
    }
    let rising = |name: &str| {
        let lever = body
            .levers
            .iter()
            .find(|l| l.name == name)
            .expect("a lever");
        lever.points[0].sleep_s < lever.points[8].sleep_s
    };
    assert!(
        rising("speed of the hand") && !rising("bearing torque") && !rising("lubricant viscosity")
    );
    for loss in &body.losses {
        assert!(loss.half_gone_adds_s > 0.0, "{}", loss.name);
    }
}

#[test]
fn law_what_cannot_be_is_refused_with_the_reason() {
    let throw = |speed: f64| {
        let mut job = job();
        job.throw = Some(ThrowWishes {
            speed_rpm: Some(Range::exactly(speed)),
            ..ThrowWishes::default()
        });
        answer(job)
    };
    let refused = throw(16_000.0).expect_err("no hand does it");
    assert!(
        refused.contains("J of turning") && refused.contains("m/s"),
        "{refused}"
    );
    assert!(throw(5_000.0).is_ok());
    let slow = throw(400.0).expect("it is an answer");
    assert_eq!(slow.verdict, Verdict::Stop);
    assert_eq!(slow.body.sleep_s.likely, 0.0);
    let with = |change: &dyn Fn(&mut Job)| {
        let mut job = job();
        change(&mut job);
        answer(job).expect_err("it cannot be")
    };
    let fast = with(&|job| {
        job.throw = Some(ThrowWishes {
            hand_speed_m_per_s: Some(Range::exactly(34.5)),
            ..ThrowWishes::default()
        });
    });
    assert!(fast.contains("34.5 m/s"), "{fast}");
    let share = with(&|job| {
        job.string = Some(StringWishes {
            packing_share: Some(Range::exactly(1.4)),
            ..StringWishes::default()
        });
    });
    assert!(
        share.contains("packing_share") && share.contains("1.4"),
        "{share}"
    );
    let wet = with(&|job| {
        job.air = Some(AirWishes {
            humidity_percent: Some(Range::exactly(140.0)),
            ..AirWishes::default()
        });
    });
    assert!(wet.contains("humidity"), "{wet}");
    let one_sided = with(&|job| {
        job.pieces[0].side = Side::Right;
        job.pieces[1].side = Side::Right;
    });
    assert!(one_sided.contains("no two sides"), "{one_sided}");
    let oil = with(&|job| {
        job.bearing = Some(BearingWishes {
            lubricant: Some("honey".to_owned()),
            ..BearingWishes::default()
        });
    });
    assert!(oil.contains("honey"), "{oil}");
}

#[test]
fn law_a_wished_sleep_decides_the_verdict() {
    let asked = |least: f64| {
        let mut job = job();
        job.spin = Some(SpinWishes {
            sleep_at_least_s: Some(least),
            ..SpinWishes::default()
        });
        answer(job).expect("it spins").verdict
    };
    assert_eq!(asked(1.0), Verdict::Good);
    assert_eq!(asked(1e5), Verdict::Stop);
    let middle = body(job()).sleep_s.likely;
    assert_eq!(asked(middle), Verdict::Look);
}

#[test]
fn law_same_job_same_bytes_and_it_reads_back() {
    let one = serde_json::to_string(&answer(job()).expect("it spins")).expect("it is written");
    let two = serde_json::to_string(&answer(job()).expect("it spins")).expect("it is written");
    assert_eq!(one, two);
    let read: Answer<SpinBody> = serde_json::from_str(&one).expect("it is read");
    assert_eq!(serde_json::to_string(&read).expect("again"), one);
    assert!(read.trust.iter().any(|t| t.why.contains("from memory")));
    assert!(
        read.cautions
            .iter()
            .any(|c| c.contains("guard") && c.contains("eye protection"))
    );
    assert!(!read.next.is_empty());
}
