//! An invented shot and studies of it.

use whirlwright_workshop::moulding::{
    Books, CavityCause, CavityLine, CavitySays, ClampLine, CoolingLine, CoursePoint, CutSize,
    CycleLine, CycleStep, DropLine, FillGate, FillLine, FillRing, FillStretch, FillView,
    FittedRatio, HalfLine, HalfScatter, HandlingLine, HoldLine, HoldSetting, MiddlePoint,
    MouldBody, MouldCondition, MouldView, PressRun, Setting, ShotLine, ShrinkageLine, Stands,
    StudyBody, StudyKind, StudyMark, StudyRun, WallPoint, WallProfile, WeighedPoint, WeightsBody,
};
use whirlwright_workshop::part::{Answer, Couple, Range, Unbalance, Verdict};

use super::answer;

/// A set-up with two cavities, one of them heavier.
pub fn mould() -> Answer<MouldBody> {
    Answer {
        cautions: vec!["Melt burns.".to_owned()],
        ..answer(
            "moulding",
            Verdict::Look,
            "a set-up",
            "the clamp is at the edge",
            body(),
        )
    }
}

/// The front of a web with a hub on it.
pub fn view() -> MouldView {
    let ring = |from: f64, n: usize| FillRing {
        from_mm: from,
        to_mm: from + 2.0,
        arrival_s: (0..24)
            .map(|k: i32| 0.05 * (n as f64) + 0.02 * f64::from(12 - (12 - k).abs()))
            .collect(),
    };
    let stretch = |name: &str, on_long_way, count: usize| FillStretch {
        name: name.to_owned(),
        on_long_way,
        rings: (0..count)
            .map(|n| ring(4.0 + 2.0 * n as f64, count - n))
            .collect(),
    };
    MouldView {
        outline: "M 0 4 L 8 4 L 8 6 L 2 6 L 2 20 L 0 20 Z".to_owned(),
        fill: FillView {
            stretches: vec![stretch("web", true, 8), stretch("hub", false, 3)],
            columns_count: 24,
            gates: vec![FillGate {
                stretch: 0,
                ring: 7,
                angle_deg: Some(0.0),
            }],
            switch_s: 0.6,
        },
    }
}

fn cavity(name: &str, mass_g: f64) -> CavityLine {
    CavityLine {
        name: name.to_owned(),
        mass_g,
        from_mean_percent: 100.0 * (mass_g / 10.8 - 1.0),
        full_s: Some(0.61),
        filled_share: 1.0,
        gate_freeze_s: Some(8.4),
        unbalance: Unbalance::new(0.052, 3.0),
        from_gate_deg: Some(3.0),
        couple: Couple::default(),
        eccentricity_um: 4.8,
        volume_shrinkage_percent: 2.4,
        most_volume_shrinkage_percent: 3.9,
        most_shrinkage_at: "hub".to_owned(),
    }
}

fn body() -> MouldBody {
    let course = (0..60).map(|n| CoursePoint {
        time_s: 0.2 * f64::from(n),
        nozzle_mpa: if n < 4 { 20.0 * f64::from(n) } else { 45.0 },
        gate_mpa: if n < 3 {
            5.0
        } else {
            40.0 - 0.5 * f64::from(n)
        },
        flow_cm3_per_s: if n < 4 { 40.0 } else { 0.5 },
        mass_g: 10.8 * (1.0 - (-0.6 * f64::from(n)).exp()),
    });
    let wall = |time_s: f64| WallProfile {
        place: "web".to_owned(),
        time_s,
        points: (-10..=10)
            .map(|k| WallPoint {
                depth_mm: 0.12 * f64::from(k),
                temperature_degc: 70.0
                    + (190.0 - 12.0 * time_s) * (1.0 - (f64::from(k) / 10.0).powi(2)),
            })
            .collect(),
    };
    MouldBody {
        piece: "half".to_owned(),
        resin: "pc-abs".to_owned(),
        cavities_count: 2,
        setting: Setting {
            melt_degc: 265.0,
            wall_degc: 70.0,
            fill_s: 0.6,
            switch_share: 0.98,
            hold: vec![HoldSetting {
                pressure_mpa: 45.0,
                time_s: 10.0,
            }],
            cooling_s: 18.0,
        },
        half: HalfLine {
            mass_g: 10.8,
            mass_doubt_g: 0.11,
            drawn_mass_g: 10.798,
            between_cavities_g: 0.08,
            unbalance_g_mm: 0.052,
        },
        cavities: vec![cavity("1", 10.76), cavity("2", 10.84)],
        fill: FillLine {
            switch_s: 0.6,
            switch_mpa: 61.0,
            press_mpa: 180.0,
            limited: false,
            flow_cm3_per_s: 46.0,
            drops: vec![
                DropLine {
                    name: "sprue".to_owned(),
                    pressure_mpa: 12.0,
                    shear_per_s: Some(1843.0),
                },
                DropLine {
                    name: "cavity".to_owned(),
                    pressure_mpa: 31.0,
                    shear_per_s: None,
                },
            ],
            short_because: None,
        },
        hold: HoldLine {
            time_s: 10.0,
            most_cavity_mpa: 41.0,
            gate_freeze_s: Some(8.4),
            needed_s: Some(7.8),
            ran_back: false,
        },
        clamp: ClampLine {
            opening_kn: 540.0,
            wanted_kn: 648.0,
            press_kn: 637.0,
            share: 0.85,
            sum: "2 × 26.4 cm² × 41 MPa".to_owned(),
        },
        shot: ShotLine {
            mass_g: 26.1,
            feed_g: 4.5,
            melt_cm3: 26.4,
            stroke_mm: 37.3,
            cushion_mm: 5.0,
            stroke_share: 0.34,
            residence_min: 2.6,
            sum: "26.1 g are 26.4 cm³ of melt".to_owned(),
        },
        cooling: CoolingLine {
            needed_s: 27.0,
            set_s: 28.0,
            eject_degc: 103.0,
            hot_place: "hub".to_owned(),
            hot_axial_mm: 6.0,
            hot_radius_mm: 4.2,
            hot_wall_mm: 3.1,
            plate_s: 21.0,
            change_percent: 0.4,
        },
        shrinkage: ShrinkageLine {
            along_percent: Range::between(0.5, 0.8),
            usual_percent: Range::between(0.4, 0.7),
            sizes: vec![CutSize {
                name: "spigot".to_owned(),
                half_mm: 48.09,
                cavity_mm: 48.403,
                doubt_mm: 0.07,
            }],
        },
        cycle: CycleLine {
            cycle_s: 34.0,
            steps: vec![
                CycleStep {
                    name: "filling".to_owned(),
                    time_s: 0.6,
                },
                CycleStep {
                    name: "hold".to_owned(),
                    time_s: 10.0,
                },
                CycleStep {
                    name: "cooling".to_owned(),
                    time_s: 18.0,
                },
                CycleStep {
                    name: "opening".to_owned(),
                    time_s: 5.4,
                },
            ],
            thousand_kg: 13.1,
            thousand_h: 4.7,
            feed_share: 0.17,
        },
        handling: HandlingLine {
            drying: "3 to 4 h at 79 to 110 °C".to_owned(),
            temperatures: "usual".to_owned(),
            regrind: "none".to_owned(),
            purge: "not said what ran before".to_owned(),
        },
        conditions: vec![MouldCondition {
            name: "clamp".to_owned(),
            stands: Stands::Edge,
            words: "the mould is pushed open with 540 kN, the press holds 637 kN".to_owned(),
            share: 0.85,
            change: "lower the hold to 42 MPa, or take a larger press".to_owned(),
        }],
        ring_gate: None,
        handed_on: HalfScatter {
            mass_g: 10.8,
            shot_sd_g: 0.0041,
            cavity_sd_g: 0.04,
            toward_gate_g_mm: 0.052,
            toward_gate_sd_g_mm: 0.004,
            couple_g_mm2: 0.2,
        },
        course: course.collect(),
        walls: [0.6, 4.0, 10.0].map(wall).to_vec(),
        middle: (0..9)
            .map(|n| MiddlePoint {
                stretch: if n < 6 { "web" } else { "hub" }.to_owned(),
                axial_mm: if n < 6 { 1.0 } else { f64::from(n) - 4.0 },
                radius_mm: if n < 6 { 6.0 + 2.5 * f64::from(n) } else { 5.0 },
                wall_mm: 2.0,
                volume_shrinkage_percent: 2.4,
            })
            .collect(),
        books: Books {
            volume_off_share: 1e-9,
            mass_off_share: 2e-12,
            middle_off_share: 0.003,
            steps_count: 380,
        },
    }
}

fn run(along_at: f64, across_at: f64, mass_g: f64, breaks: &str) -> StudyRun {
    StudyRun {
        along_at,
        across_at,
        melt_degc: along_at,
        wall_degc: 70.0,
        fill_s: 0.6,
        hold_mpa: across_at,
        hold_s: 10.0,
        mass_g,
        toward_gate_g_mm: 0.05,
        switch_mpa: 61.0,
        opening_kn: 9.0 * across_at,
        gate_freeze_s: Some(8.4),
        cooling_s: Some(27.0),
        shot_sd_g: Some(0.004),
        shot_sd_g_mm: Some(0.003),
        breaks: breaks.to_owned(),
    }
}

/// A study of one kind.
pub fn study(kind: StudyKind) -> Answer<StudyBody> {
    let runs = (0..5).flat_map(|x| {
        (0..4).map(move |y| {
            let (melt, hold) = (250.0 + 10.0 * f64::from(x), 30.0 + 10.0 * f64::from(y));
            run(
                melt,
                hold,
                10.6 + 0.004 * hold - 0.0005 * melt,
                if y == 3 { "clamp" } else { "" },
            )
        })
    });
    let body = StudyBody {
        piece: "half".to_owned(),
        resin: "pc-abs".to_owned(),
        study: kind,
        along: "melt, in °C".to_owned(),
        across: "hold pressure, in MPa".to_owned(),
        runs: runs.collect(),
        take: Some(run(270.0, 40.0, 10.625, "")),
        why: "least scatter".to_owned(),
        marks: vec![StudyMark {
            words: "the weight stops rising".to_owned(),
            along_at: 262.0,
        }],
        run_list: vec![PressRun {
            number: 1,
            melt_degc: 260.0,
            wall_degc: 70.0,
            fill_s: 0.6,
            hold_mpa: 40.0,
            hold_s: 10.0,
            shots: "5 away, 3 weighed".to_owned(),
            expect: "10.63 g".to_owned(),
        }],
        left_out_count: 2,
    };
    answer("moulding", Verdict::Good, "a study", "a window", body)
}

/// Weighed halves against the reckoning.
pub fn weights() -> Answer<WeightsBody> {
    let says = |name: &str, settled: f64, cause| CavitySays {
        name: name.to_owned(),
        settled_percent: settled,
        early_percent: 2.0 * settled,
        settled_sd_percent: 0.02,
        cause,
        words: format!("cavity {name}: said"),
    };
    let body = WeightsBody {
        piece: "half".to_owned(),
        resin: "pc-abs".to_owned(),
        weighings_count: 24,
        fitted: vec![
            FittedRatio {
                name: "freezing time of the gate".to_owned(),
                found_ratio: 1.12,
                sd_ratio: Some(0.03),
                means: "deeper".to_owned(),
            },
            FittedRatio {
                name: "heat passed to the steel".to_owned(),
                found_ratio: 1.0,
                sd_ratio: None,
                means: String::new(),
            },
        ],
        left_over_sd_g: 0.004,
        curve: (1..9)
            .map(|n| WeighedPoint {
                hold_s: f64::from(n),
                hold_mpa: 45.0,
                read_g: 10.8 - 0.5 / f64::from(n),
                read_sd_g: (n > 2).then_some(0.003),
                before_g: 10.79 - 0.4 / f64::from(n),
                after_g: 10.8 - 0.49 / f64::from(n),
            })
            .collect(),
        cavities: vec![
            says("1", -0.02, CavityCause::Even),
            says("2", 0.4, CavityCause::Steel),
        ],
        gate_freeze_s: Some(9.1),
        foretold_mass_g: 10.801,
        foretold_sd_g: 0.003,
        mass_per_mpa_g: 0.0032,
    };
    answer(
        "moulding",
        Verdict::Look,
        "weighed",
        "one cavity stands out",
        body,
    )
}
