//! Turned dimensions, tolerances, cuts and trays.

mod numbers;

use numbers::cases;
use whirlwright_kit::normal::two_draws;
use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::design::{self, section};
use whirlwright_workshop::part::fit_wishes::TurningWishes;
use whirlwright_workshop::part::job::{
    Job, MaterialKind, Piece, PieceMaterial, RecutWishes, Side, Wanted,
};
use whirlwright_workshop::part::{Outline, Verdict};
use whirlwright_workshop::turning::{
    DimensionLine, Given, Refusal, RimBody, Weighed, recut, rim, tray,
};

fn designed(outline: &str, density_g_cm3: f64, wishes: TurningWishes) -> design::Given {
    let piece = Piece {
        name: "rim".to_owned(),
        side: Side::Right,
        outline: Outline::read(outline).expect("a path"),
        material: PieceMaterial {
            density_g_cm3,
            shelf_id: None,
            kind: MaterialKind::Metal,
            why: "stated here".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    let decimal = |text: &str| text.parse().expect("a decimal");
    let job = Job {
        name: "turning".to_owned(),
        pieces: vec![piece],
        recut: Some(RecutWishes {
            piece: "rim".to_owned(),
            step_mm: decimal("0.01"),
            most_face_mm: decimal("0.4"),
            gram_per_mm: None,
        }),
        turning: Some(wishes),
        ..Job::default()
    };
    design::Given::new(job).expect("a sound drawing")
}

const RING: &str = "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z";

fn given(wishes: TurningWishes) -> Given {
    Given::of_design(&designed(RING, 2.70, wishes)).expect("a turned ring")
}

fn line<'a>(body: &'a RimBody, name: &str) -> &'a DimensionLine {
    let known: Vec<&str> = body.dimensions.iter().map(|d| d.name.as_str()).collect();
    let found = body.dimensions.iter().find(|d| d.name == name);
    found.unwrap_or_else(|| panic!("no {name} among {known:?}"))
}

#[test]
fn closed_form_what_the_sizes_of_a_ring_do() {
    for case in cases(include_str!("../../../validation/turning/ring.toml")) {
        let text = |key: &str| case.inputs[key].as_str().unwrap();
        let design = designed(
            text("outline"),
            case.need("density_g_cm3"),
            TurningWishes::default(),
        );
        let body = rim(&Given::of_design(&design).unwrap()).unwrap().body;
        let found = line(&body, text("dimension"));
        case.check(|key| match key {
            "mass_g_per_mm" => found.mass_g_per_mm,
            "polar_g_mm2_per_mm" => found.polar_g_mm2_per_mm,
            "transverse_g_mm2_per_mm" => found.transverse_g_mm2_per_mm,
            "centre_mm_per_mm" => found.centre_mm_per_mm,
            "static_g_mm" => found.static_g_mm,
            "couple_g_mm2" => found.couple_g_mm2,
            "tenth_mm" => 0.1 / found.mass_g_per_mm,
            "two_hundredths_g_mm" => 2.0 * found.static_g_mm,
            other => panic!("{}: nothing here is called {other}", case.name),
        });
    }
}

/// The derivatives are those of the drawing: a rim drawn a little larger and a little smaller.
#[test]
fn law_sensitivities_are_the_slopes_of_redrawn_sections() {
    // A rim with a groove, a chamfer and a taper.
    let drawn = |face: f64, outside: f64, bore: f64, groove: f64| {
        format!(
            "M 13.5 {bore} L {face} {bore} L {face} {} L {} {outside} L 18 {outside} L 18 {groove} L 16.5 {groove} L 16.5 {outside} L {} {outside} L 13.5 27 Z",
            outside - 0.5,
            face - 0.5,
            // The corner runs along the taper.
            13.5 + 0.75 * (outside - 27.0)
        )
    };
    let size = [21.5, 29.0, 24.0, 27.5];
    let of = |s: [f64; 4]| {
        let design = designed(
            &drawn(s[0], s[1], s[2], s[3]),
            2.70,
            TurningWishes::default(),
        );
        let piece = section(&design).body.pieces[0].clone();
        [
            piece.mass_g,
            piece.polar_inertia_g_mm2,
            piece.transverse_inertia_g_mm2,
            piece.centre_of_mass_mm,
        ]
    };
    let design = designed(
        &drawn(size[0], size[1], size[2], size[3]),
        2.70,
        TurningWishes::default(),
    );
    let body = rim(&Given::of_design(&design).unwrap()).unwrap().body;
    let names = ["face 21.5", "outside 58", "bore 48", "outside 55"];
    for (n, name) in names.iter().enumerate() {
        let found = line(&body, name);
        let per_border = if n == 0 { 1.0 } else { 2.0 };
        let h = 1e-4;
        let (mut up, mut down) = (size, size);
        up[n] += h;
        down[n] -= h;
        let (up, down) = (of(up), of(down));
        let ours = [
            found.mass_g_per_mm,
            found.polar_g_mm2_per_mm,
            found.transverse_g_mm2_per_mm,
            found.centre_mm_per_mm,
        ];
        for k in 0..4 {
            let slope = (up[k] - down[k]) / (2.0 * h) / per_border;
            let slack = 1e-6 * ours[k].abs() + 1e-13 * up[k].abs() / h;
            assert!(
                (ours[k] - slope).abs() < slack,
                "{name} {k}: {} {slope}",
                ours[k]
            );
        }
    }
}

#[test]
fn law_tolerances_sum_to_what_the_mass_may_be_off() {
    let body = rim(&given(TurningWishes::default())).unwrap().body;
    let open = || body.dimensions.iter().filter(|d| !d.datum);
    let worst: f64 = open()
        .map(|d| d.mass_g_per_mm.abs() * d.worst_mm.unwrap())
        .sum();
    let squares: f64 = open()
        .map(|d| (d.mass_g_per_mm * d.statistical_mm.unwrap()).powi(2))
        .sum();
    assert!((worst - 0.1).abs() < 1e-14 && (squares.sqrt() - 0.1).abs() < 1e-14);
    // Grades are never wider than the tolerance, so neither sum is passed.
    assert!(body.sum.worst_g <= 0.1 && body.sum.statistical_g <= 0.1);
    assert!(open().all(|d| d.statistical_mm > d.worst_mm));
    let shares: f64 = body.dimensions.iter().map(|d| d.mass_share).sum();
    assert!((shares - 1.0).abs() < 1e-14);
    assert_eq!(body.hold.as_deref(), Some("outside 58"));
}

/// No other split of the same limit is cheaper.
#[test]
fn law_the_split_of_the_tolerances_is_the_cheapest() {
    let body = rim(&given(TurningWishes::default())).unwrap().body;
    let open: Vec<&DimensionLine> = body.dimensions.iter().filter(|d| !d.datum).collect();
    // Widths of grade 9 at the sizes: over 6 up to 10, over 50 up to 65, over 40 up to 50.
    let hard = |d: &DimensionLine| match d.name.as_str() {
        "face 21.5" => 36.0,
        "outside 58" => 74.0,
        _ => 62.0,
    };
    let price = |t: &[f64]| -> f64 { open.iter().zip(t).map(|(d, t)| hard(d) / t).sum() };
    let best: Vec<f64> = open.iter().map(|d| d.worst_mm.unwrap()).collect();
    for from in 0..open.len() {
        for to in 0..open.len() {
            let mut other = best.clone();
            let grams = 0.002;
            other[from] -= grams / open[from].mass_g_per_mm.abs();
            other[to] += grams / open[to].mass_g_per_mm.abs();
            assert!(price(&other) >= price(&best) * (1.0 - 1e-12));
        }
    }
}

#[test]
fn law_limits_that_stand_are_counted_first() {
    let wishes = TurningWishes {
        held: vec![("bore 48".to_owned(), "48 H7".to_owned())],
        ..TurningWishes::default()
    };
    let body = rim(&given(wishes)).unwrap().body;
    let bore = line(&body, "bore 48");
    assert_eq!(
        (bore.held.as_deref(), bore.worst_mm),
        (Some("48 H7"), Some(0.0125))
    );
    let held = bore.mass_g_per_mm.abs() * 0.0125;
    assert!((body.sum.held_g - held).abs() < 1e-15);
    let open = body
        .dimensions
        .iter()
        .filter(|d| !d.datum && d.held.is_none());
    let worst: f64 = open
        .map(|d| d.mass_g_per_mm.abs() * d.worst_mm.unwrap())
        .sum();
    assert!((worst + held - 0.1).abs() < 1e-14);
}

/// The turner's story: 0.07 g over is 0.031 mm of face or 0.036 mm on the outside; never the bore.
#[test]
fn closed_form_a_rim_seven_hundredths_over() {
    let wishes = TurningWishes {
        mass_g: Some(18.0),
        mass_within_g: Some(0.05),
        ..TurningWishes::default()
    };
    let answer = recut(&given(wishes), 18.07).unwrap();
    let [face, outside] = &answer.body.cuts[..] else {
        panic!("{:?}", answer.body.cuts)
    };
    assert_eq!(
        (face.name.as_str(), outside.name.as_str()),
        ("face 21.5", "outside 58")
    );
    // Where they stand on the drawing, for the picture: the outer face, the outside.
    assert!(face.border_mm.iter().all(|p| p[0] == 21.5) && face.border_mm.len() >= 2);
    assert!(outside.border_mm.iter().all(|p| p[1] == 29.0) && outside.border_mm.len() >= 2);
    // As told in the story: to a thousandth.
    assert!((face.exact_mm - 0.031).abs() < 0.001 && (outside.exact_mm - 0.036).abs() < 0.001);
    assert!((face.set_mm - 0.03).abs() < 1e-12 && (outside.set_mm - 0.04).abs() < 1e-12);
    assert!(
        answer.headline.contains("the bore stays"),
        "{}",
        answer.headline
    );
    assert_eq!(answer.verdict, Verdict::Look);
    // The face is straight: what it takes is its depth times the flat ring.
    let ring = std::f64::consts::PI * 265.0 * 2.70e-3;
    assert!((face.mass_after_g - (18.07 - 0.03 * ring)).abs() < 1e-12);
    assert!(face.within_probability > 0.9 && face.polar_change_g_mm2 < 0.0);
}

/// A cut is exact: the piece redrawn with it has the mass that was told.
#[test]
fn law_the_piece_after_the_cut_weighs_what_was_told() {
    let drawn_g = std::f64::consts::PI * 265.0 * 8.0 * 2.70e-3;
    let wishes = TurningWishes {
        mass_g: Some(drawn_g - 0.3),
        least_outside_mm: Some(57.0),
        ..TurningWishes::default()
    };
    let read_g = drawn_g;
    let answer = recut(&given(wishes), read_g).unwrap();
    let outside = answer
        .body
        .cuts
        .iter()
        .find(|c| c.name == "outside 58")
        .unwrap();
    let redrawn = format!(
        "M 13.5 24 L 21.5 24 L 21.5 {r} L 13.5 {r} Z",
        r = 29.0 - 0.5 * outside.exact_mm
    );
    let mass = section(&designed(&redrawn, 2.70, TurningWishes::default()))
        .body
        .mass_g;
    // Some roundings of the mass.
    assert!((mass - (read_g - 0.3)).abs() < 1e-13, "{mass}");
    assert!(outside.allowed && answer.body.cuts.iter().all(|c| c.name != "bore 48"));
}

#[test]
fn law_walls_hold_the_cuts_back_and_light_rims_are_told() {
    let wishes = |least_width_mm| TurningWishes {
        mass_g: Some(17.5),
        least_width_mm,
        cut: vec!["face 21.5".to_owned()],
        ..TurningWishes::default()
    };
    let held = recut(&given(wishes(Some(7.9))), 17.98).unwrap();
    assert_eq!(held.verdict, Verdict::Stop);
    assert!(!held.body.cuts[0].allowed && held.headline.contains("no allowed cut"));
    let free = recut(&given(wishes(Some(7.6))), 17.98).unwrap();
    assert_eq!(free.verdict, Verdict::Look);
    let light = recut(&given(wishes(None)), 17.2).unwrap();
    assert_eq!(light.verdict, Verdict::Stop);
    assert!(light.headline.contains("too light"));
    let inside = recut(&given(wishes(None)), 17.55).unwrap();
    assert_eq!(inside.verdict, Verdict::Good);
}

/// A crude scale and a deep cut: two steps land better, and drawing them out by hand agrees.
#[test]
fn twin_two_steps_land_as_often_as_drawn_pieces_do() {
    let wishes = TurningWishes {
        mass_g: Some(17.4),
        mass_within_g: Some(0.012),
        scale_sd_g: Some(0.003),
        cut_sd_mm: Some(0.002),
        ..TurningWishes::default()
    };
    let given = Given {
        mass_of_cut_share: 0.03,
        step_mm: 0.001,
        ..given(wishes)
    };
    let body = recut(&given, 17.98).unwrap().body;
    let line = &body.cuts[0];
    let steps = body.two_steps.as_ref().expect("two steps");
    assert!(steps.within_probability > line.within_probability + 0.1);
    let per_mm = std::f64::consts::PI * 265.0 * 2.70e-3;
    let mut stream = SplitMix64::new(3);
    let count = 40_000;
    let mut inside = 0u32;
    for _ in 0..count {
        let ((a, b), (c, d)) = (two_draws(&mut stream), two_draws(&mut stream));
        let first = (0.003 * a)
            .mul_add(1.0, per_mm * 0.002 * b)
            .mul_add(1.0, 0.03 * (17.98 - steps.mass_between_g) * c);
        let truly = steps.leave_g + first;
        let read = truly + 0.003 * d;
        let (e, f) = two_draws(&mut stream);
        let cut = if read > 0.0 {
            (read / per_mm / 0.001).round() * 0.001 * per_mm * (1.0 + 0.03 * f) + per_mm * 0.002 * e
        } else {
            0.0
        };
        inside += u32::from((truly - cut).abs() <= 0.012);
    }
    let share = f64::from(inside) / f64::from(count);
    // Four standard errors of the count, and the thousandth that the integral's slices leave.
    let slack = 4.0 * (share * (1.0 - share) / f64::from(count)).sqrt() + 0.002;
    assert!(
        (share - steps.within_probability).abs() < slack,
        "{share} {steps:?}"
    );
}

fn weighed(masses: &[f64]) -> Vec<Weighed> {
    let one = |(n, mass_g): (usize, &f64)| Weighed {
        serial: format!("R{n:04}"),
        mass_g: *mass_g,
    };
    masses.iter().enumerate().map(one).collect()
}

#[test]
fn law_the_tool_goes_one_way_over_a_tray() {
    let wishes = TurningWishes {
        mass_g: Some(18.0),
        ..TurningWishes::default()
    };
    let masses = [18.0, 18.31, 18.12, 17.85, 18.24, 18.55, 18.05, 18.12, 19.9];
    let answer = tray(&given(wishes), &weighed(&masses), 0).unwrap();
    let body = &answer.body;
    assert_eq!(body.within_count, 2);
    assert_eq!((body.too_light.len(), body.too_heavy.len()), (1, 1));
    let depths: Vec<f64> = body.cuts.iter().map(|c| c.set_mm).collect();
    assert!(depths.is_sorted() && depths.len() == 5);
    // From nought to the deepest: no order can be shorter.
    assert!((body.tool_way_mm - depths[4]).abs() < 1e-12 && body.tool_way_mm < body.tray_way_mm);
    assert!(
        body.cuts
            .iter()
            .all(|c| (c.mass_after_g - 18.0).abs() <= 0.1)
    );
    // Ties keep the order of the tray.
    assert_eq!(
        (body.cuts[0].serial.as_str(), body.cuts[1].serial.as_str()),
        ("R0002", "R0007")
    );
}

/// The turner's story of the worn insert: bores open by 0.02 mm in 125 rims; the advice keeps 99 of a
/// hundred within 0.1 g, asked after every tenth rim since the last offset.
#[test]
fn law_offset_advice_follows_a_worn_insert() {
    let asked = given(TurningWishes {
        mass_g: Some(18.0),
        ..TurningWishes::default()
    });
    let bore = std::f64::consts::PI * 24.0 * 8.0 * 2.70e-3;
    let mut stream = SplitMix64::new(8);
    let (mut set_g, mut since, mut inside, mut offsets) = (0.0, Vec::new(), 0, 0);
    let count = 1000;
    for n in 0..count {
        let worn_g = -bore * 0.02 * f64::from(n) / 125.0;
        let mass = 18.0 + set_g + worn_g + 0.025 * two_draws(&mut stream).0;
        inside += u32::from((mass - 18.0).abs() <= 0.1);
        since.push(mass);
        if n % 10 != 9 {
            continue;
        }
        let body = tray(&asked, &weighed(&since), 0).unwrap().body;
        if let Some(advice) = body.offset {
            // The face's tool takes the offset; its sign is that of the size.
            let face = advice
                .offsets
                .iter()
                .find(|o| o.name == "face 21.5")
                .unwrap();
            assert!(face.size_mm * advice.level_g < 0.0);
            set_g += face.size_mm * std::f64::consts::PI * 265.0 * 2.70e-3;
            offsets += 1;
            since.clear();
            // Nothing is said again before new pieces are weighed.
            assert!(
                tray(&asked, &weighed(&[18.0]), 0)
                    .unwrap()
                    .body
                    .offset
                    .is_none()
            );
        }
    }
    assert!(offsets >= 3, "{offsets}");
    assert!(f64::from(inside) >= 0.99 * f64::from(count), "{inside}");
}

#[test]
fn law_what_cannot_be_answered_is_refused() {
    let with = |wishes: TurningWishes| Given::of_design(&designed(RING, 2.70, wishes));
    let cut = |name: &str| TurningWishes {
        cut: vec![name.to_owned()],
        ..TurningWishes::default()
    };
    assert!(matches!(
        recut(&with(cut("bore 48")).unwrap(), 18.1),
        Err(Refusal::BoreIsFit { .. })
    ));
    let unknown = recut(&with(cut("face 3")).unwrap(), 18.1).unwrap_err();
    assert!(
        unknown.to_string().contains("outside 58, bore 48"),
        "{unknown}"
    );
    let plain = || with(TurningWishes::default()).unwrap();
    for read in [0.0, 634.0, f64::NAN, -18.0] {
        assert!(matches!(
            recut(&plain(), read),
            Err(Refusal::NotThisPiece { .. })
        ));
    }
    assert!(matches!(tray(&plain(), &[], 0), Err(Refusal::EmptyTray)));
    let wall = TurningWishes {
        least_width_mm: Some(-1.0),
        ..TurningWishes::default()
    };
    assert!(matches!(with(wall), Err(Refusal::Negative { .. })));
    let round = "M 10 24 A 5 5 0 0 1 20 24 A 5 5 0 0 1 10 24 Z";
    let torus = Given::of_design(&designed(round, 2.70, TurningWishes::default())).unwrap();
    assert!(matches!(rim(&torus), Err(Refusal::NoStraightRun { .. })));
    let limits = TurningWishes {
        held: vec![("bore 48".to_owned(), "48 h7".to_owned())],
        ..TurningWishes::default()
    };
    assert!(matches!(with(limits), Err(Refusal::Limits { .. })));
}

/// The outside is never cut so far that the whole leaves its own diameter.
#[test]
fn law_the_whole_keeps_its_diameter() {
    let mut job = designed(RING, 2.70, TurningWishes::default()).job().clone();
    job.limits.diameter_mm = Some(Wanted {
        value: 58.0,
        within: 0.02,
    });
    let given = Given::of_design(&design::Given::new(job).unwrap()).unwrap();
    assert!((given.most_outside_mm - 0.02).abs() < 1e-12);
}
