//! Polar plots and views of the rim made up for the tests and the samples.

use whirlwright_paper::picture::{
    BalanceView, CutWork, Edge, Polar, RimView, Stands, Turn, Vector, Work,
};
use whirlwright_workshop::balance::{
    AcceptLine, Arrow, BudgetLine, CorrectBody, DesignCheck, DropSize, FreeRotor, GradeLine, Hole,
    HoleKind, LimitBody, LotShare, Method, PlaneLimit, PlaneResult, WorkBody, WorkPlace,
};
use whirlwright_workshop::design::CutOutline;
use whirlwright_workshop::part::answer::ANSWER_FORMAT;
use whirlwright_workshop::part::job::{FeatureShape, MaterialKind, Side};
use whirlwright_workshop::part::{AngleSense, Answer, Basis, Couple, Trust, Unbalance, Verdict};

fn vector(stands: Stands, label: &str, size: f64, angle_deg: f64, within: f64) -> Vector {
    Vector {
        stands,
        label: label.to_owned(),
        size,
        angle_deg,
        within: (within > 0.0).then_some(within),
    }
}

/// Two planes: one with a limit near what was found, one with a limit far below it.
pub fn planes() -> Vec<Polar> {
    let plane = |heading: &str, grows, found: f64, at: f64, limit| Polar {
        heading: heading.to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "scribed line".to_owned(),
        unit: "g·mm".to_owned(),
        grows,
        spins: Some(Turn::Counterclockwise),
        limit: Some(limit),
        vectors: vec![
            vector(Stands::Reading, "reading", found * 1.02, at + 1.5, 0.0),
            vector(Stands::Reading, "reading", found * 0.97, at - 2.0, 0.0),
            vector(Stands::Found, "found", found, at, found * 0.03),
            vector(
                Stands::Correction,
                "the holes act as",
                found * 0.96,
                at + 181.0,
                0.0,
            ),
            vector(
                Stands::Left,
                "left after it",
                found * 0.045,
                at + 70.0,
                found * 0.03,
            ),
        ],
    };
    vec![
        plane("Left plane", Turn::Clockwise, 0.62, 236.2, 0.38),
        plane("Right plane", Turn::Counterclockwise, 2.9, 121.8, 0.38),
    ]
}

/// One plane without a limit.
pub fn single() -> Vec<Polar> {
    let mut planes = planes();
    planes.truncate(1);
    planes[0].limit = None;
    planes
}

fn shapes() -> [FeatureShape; 4] {
    [
        FeatureShape::AxialCylinder {
            diameter_mm: 2.0,
            radius_mm: 26.5,
            angle_deg: 225.0,
            x_mm: (-21.5, -18.3),
        },
        FeatureShape::AxialCylinder {
            diameter_mm: 1.5,
            radius_mm: 26.5,
            angle_deg: 255.0,
            x_mm: (-21.5, -19.1),
        },
        FeatureShape::RingSector {
            radius_mm: (26.0, 28.0),
            x_mm: (-21.5, -20.5),
            angle_deg: 40.0,
            span_deg: 24.0,
        },
        FeatureShape::RadialCylinder {
            diameter_mm: 2.0,
            x_mm: -17.5,
            angle_deg: 130.0,
            radius_mm: (25.0, 29.0),
        },
    ]
}

/// A rim with two holes, a pocket and a pin.
pub fn rim() -> RimView {
    let works = shapes().into_iter().enumerate().map(|(n, shape)| Work {
        number: n + 1,
        shape,
        comes_off: n != 3,
        words: [
            "drill Ø 2.0 mm, 3.2 mm deep, at 225°, radius 26.50 mm",
            "drill Ø 1.5 mm, 2.4 mm deep, at 255°, radius 26.50 mm",
            "mill a pocket 2 mm wide and 1 mm deep over 24°, its middle at 40°",
            "press in a steel pin of 2 mm at 130°",
        ][n]
            .to_owned(),
    });
    let edge = |radius_mm, what: &str| Edge {
        radius_mm,
        what: what.to_owned(),
    };
    RimView {
        heading: "Left rim".to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "scribed line".to_owned(),
        grows: Turn::Clockwise,
        edges: vec![edge(29.0, "rim"), edge(24.0, "rim"), edge(5.3, "hub")],
        places: Some((26.5, 24, 0.0)),
        works: works.collect(),
    }
}

/// The same works in the cut.
pub fn cuts() -> Vec<CutWork> {
    let cut = |n: usize, words: &str| CutWork {
        heading: format!("Number {}", n + 1),
        outline: "M -13.5 24 L -21.5 24 L -21.5 29 L -13.5 29 Z".to_owned(),
        shape: shapes()[n],
        words: words.to_owned(),
    };
    vec![
        cut(0, "hole 3.20 mm deep, wall 4.80 mm left"),
        cut(1, "hole 2.40 mm deep, wall 5.60 mm left"),
        cut(2, "pocket 1.00 mm deep, wall 1.00 mm left"),
        cut(3, "pin of steel"),
    ]
}

fn answer<B>(body: B, headline: &str, decided_by: &str) -> Answer<B> {
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "balance".to_owned(),
        verdict: Verdict::Stop,
        headline: headline.to_owned(),
        decided_by: decided_by.to_owned(),
        body,
        trust: vec![Trust {
            number: "planes".to_owned(),
            basis: Basis::Computed,
            why: "the circles hold the true unbalance 95 times in 100".to_owned(),
        }],
        cautions: vec![
            "Trial masses fly: guard shut, eye protection on, a slow first run.".to_owned(),
        ],
        next: vec!["drill the holes of the list".to_owned()],
    }
}

fn free() -> FreeRotor {
    FreeRotor {
        speed_rpm: 5000.0,
        seat_um: 9.6,
        seat_mm_per_s: 5.1,
        tilt_mrad: Some(4.2),
        wobble_um: Some(121.0),
        string_mn: None,
        rigid_force_mn: 168.0,
    }
}

/// What the drawing shows beside the answer: the rims of a piece, seen as it turned on the rig.
pub fn view() -> BalanceView {
    let outline = |side, path: &str| CutOutline {
        name: "rim".to_owned(),
        side,
        kind: MaterialKind::Metal,
        path: path.to_owned(),
    };
    BalanceView {
        mark: Some("scribed line".to_owned()),
        clockwise_from_left: Some(true),
        outlines: vec![
            outline(Side::Left, "M -13.5 24 L -21.5 24 L -21.5 29 L -13.5 29 Z"),
            outline(Side::Right, "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z"),
        ],
    }
}

/// A correction of two planes with three holes.
pub fn correct() -> Answer<CorrectBody> {
    let plane = |name: &str, x_mm: f64, found: f64, at: f64| PlaneResult {
        name: name.to_owned(),
        x_mm: Some(x_mm),
        radius_mm: 26.5,
        unbalance: Unbalance::new(found, at),
        now: Unbalance::new(found, at),
        correction_mass_g: found / 26.5,
        add_at_deg: (at + 180.0) % 360.0,
        take_off_at_deg: at,
        uncertainty_g_mm: Some(0.028),
        mass_uncertainty_g: Some(0.0011),
        angle_uncertainty_deg: Some(2.7),
        limit_g_mm: Some(0.379),
        residual: Some(Unbalance::new(0.017, at - 70.0)),
    };
    let hole = |plane: &str, x: f64, place_number, angle_deg, diameter, depth| Hole {
        plane: plane.to_owned(),
        kind: HoleKind::Axial,
        place_number,
        angle_deg,
        diameter_mm: Some(diameter),
        depth_mm: Some(depth),
        point_mm: Some(0.6),
        at_radius_mm: 26.5,
        at_x_mm: x,
        span_deg: None,
        mass_g: -0.0212,
        centre_radius_mm: 26.5,
        centre_x_mm: x,
        unbalance_g_mm: 0.56,
        wall_left_mm: Some(1.5),
        words: format!(
            "drill {diameter} mm, {depth} mm deep at full diameter, at {angle_deg}° (place {place_number}) on the {plane} rim"
        ),
    };
    let arrow = |run: &str, sensor: &str, amplitude_value, phase_deg| Arrow {
        run: run.to_owned(),
        sensor: sensor.to_owned(),
        speed_rpm: 2400.0,
        amplitude_value,
        phase_deg,
        unit: "um".to_owned(),
        repeats: 3,
        fitted_value: amplitude_value,
    };
    let place = |plane: &str, side| WorkPlace {
        plane: plane.to_owned(),
        piece: Some("rim".to_owned()),
        side: Some(side),
        outer_radius_mm: Some(29.0),
        inner_radius_mm: Some(24.0),
        places_number: 24,
        first_deg: 0.0,
    };
    let planes = vec![
        plane("left", -17.5, 0.617, 236.4),
        plane("right", 17.5, 0.474, 121.3),
    ];
    let work = WorkBody {
        places: vec![place("left", Side::Left), place("right", Side::Right)],
        holes: vec![
            hole("left", -21.5, 16, 225.0, 1.5, 2.1),
            hole("left", -21.5, 17, 240.0, 1.5, 2.1),
            hole("right", 21.5, 9, 120.0, 2.0, 1.7),
        ],
        residual: planes.iter().filter_map(|plane| plane.residual).collect(),
        residual_static: Unbalance::new(0.02, 10.0),
        residual_couple: None,
        inside: Some(true),
        proved: true,
        patterns_count: 4321,
        words: "no pattern of as many holes leaves less".to_owned(),
    };
    let body = CorrectBody {
        name: "D26-S017".to_owned(),
        method: Method::InfluenceCoefficients,
        sense: AngleSense::WithRotation,
        mass_g: 63.014,
        speed_rpm: Some(5000.0),
        planes,
        resultant: Unbalance::new(0.6, 191.0),
        couple: None,
        acceptance: vec![AcceptLine {
            of: "left".to_owned(),
            found_g_mm: 0.617,
            uncertainty_g_mm: Some(0.028),
            limit_g_mm: 0.379,
            accepted_up_to_g_mm: 0.379,
            measured_inside: false,
            guaranteed_inside: Some(false),
            words: "left: 0.617 g·mm found, 0.379 g·mm allowed: outside".to_owned(),
        }],
        as_it_came: Some(free()),
        corrected: Some(free()),
        arrows: vec![
            arrow("as it came", "left rim", 88.0, 270.1),
            arrow("trial left", "left rim", 118.0, 311.0),
            arrow("trial right", "left rim", 108.0, 219.0),
            arrow("as it came", "right rim", 94.0, 78.0),
            arrow("trial left", "right rim", 118.0, 131.0),
            arrow("trial right", "right rim", 130.0, 46.0),
        ],
        effects: Vec::new(),
        trials: Vec::new(),
        uncertainty: None,
        other: None,
        fixture: Vec::new(),
        at_rest: None,
        doubts: vec!["the pick-up left rim hardly changed in the trial right".to_owned()],
        clocking: None,
        work: Some(work),
    };
    answer(
        body,
        "D26-S017 is out in both planes; three holes bring it inside",
        "left: 0.617 ± 0.028 g·mm found, 0.379 g·mm allowed",
    )
}

/// A limit with its budget and a drawn lot.
pub fn limit() -> Answer<LimitBody> {
    let line = |name: &str, side, static_g_mm: f64| BudgetLine {
        name: name.to_owned(),
        piece: "rim".to_owned(),
        side,
        tolerance_said: "0.020 mm full indicator movement".to_owned(),
        static_g_mm,
        couple_g_mm2: static_g_mm * 17.5,
        limit_share: static_g_mm / 0.758,
        words: String::new(),
    };
    let plane = |name: &str, x_mm: f64| PlaneLimit {
        name: name.to_owned(),
        x_mm,
        distance_mm: x_mm.abs(),
        limit_g_mm: 0.379,
        accepted_up_to_g_mm: 0.379,
        rim_mass_g: 0.013,
    };
    let body = LimitBody {
        name: "Dunlin".to_owned(),
        mass_g: 63.014,
        speed_rpm: 5000.0,
        grade_mm_per_s: 6.3,
        permissible_um: 12.0,
        limit_g_mm: 0.758,
        accepted_up_to_g_mm: 0.758,
        measuring_error_g_mm: 0.0,
        planes: vec![plane("left", -17.5), plane("right", 17.5)],
        couple_limit_g_mm2: 13.3,
        sizes: DropSize {
            rim_mass_g: 0.026,
            rim_radius_mm: 29.0,
            seat_um: 12.0,
            wobble_um: Some(124.0),
            face_um: Some(11.9),
            outside_um: Some(6.6),
        },
        at_limit: free(),
        design: DesignCheck {
            inertia_ratio: 0.908,
            couple_amplification: Some(10.9),
            nutation_order: 1.10,
            static_unbalance: Unbalance::default(),
            couple: Couple::default(),
            tilt_mrad: None,
            wobble_um: None,
            words: "A couple tilts this piece 10.9 times as far as a flat disc.".to_owned(),
        },
        budget: vec![
            line("rim run-out", Side::Left, 0.571),
            line("rim run-out", Side::Right, 0.571),
            line("bearing seat", Side::Left, 0.157),
            line("bearing seat", Side::Right, 0.157),
            line("gate mark on the half", Side::Both, 0.1),
        ],
        worst_g_mm: 1.56,
        statistical_g_mm: 0.85,
        worst_g_mm2: 27.3,
        statistical_g_mm2: 14.8,
        lot: Some(LotShare {
            drawn_pieces: 10_000,
            seed: 1,
            words: "each error drawn evenly up to its worst".to_owned(),
            inside_share: 0.931,
            inside_low_share: 0.926,
            inside_high_share: 0.936,
            planes_inside_share: 0.82,
            mean_g_mm: 0.42,
            most_of_95_in_100_g_mm: 0.81,
            mean_wobble_um: Some(40.0),
            counts: vec![
                210, 800, 1500, 1900, 1800, 1500, 1100, 600, 350, 150, 70, 20,
            ],
            step_g_mm: 0.1,
        }),
        grades: vec![GradeLine {
            name: "G 6.3".to_owned(),
            grade_mm_per_s: 6.3,
            limit_g_mm: 0.758,
            permissible_um: 12.0,
            examples: "fly-wheels, fans, pump impellers".to_owned(),
            tag: "read".to_owned(),
            inside_share: Some(0.931),
        }],
    };
    answer(
        body,
        "Dunlin may be 0.758 g·mm out",
        "93.1 % of drawn pieces are inside 0.758 g·mm",
    )
}
