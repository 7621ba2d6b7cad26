//! The rim on paper: its fit, the stress in the cut, its recut card.

use whirlwright_paper::sheet::{self, Head};
use whirlwright_paper::{picture, text};
use whirlwright_workshop::fitting::{self, Draws, FitBody, NOT_ASKED, StressPicture};
use whirlwright_workshop::part::fit_wishes::FitWishes;
use whirlwright_workshop::part::job::{Job, Piece, PieceMaterial, PressesOn, RecutWishes, Side};
use whirlwright_workshop::part::{Answer, Outline};
use whirlwright_workshop::turning::{self, Weighed};
use whirlwright_workshop::{design, shelf};

/// Smallest type in a picture: on an A4 sheet it shrinks to 0.73, which leaves 10 points.
const SMALLEST: f64 = 14.0;
const RING: &str = "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z";
/// A cup: a web that backs one end of a thin wall.
const CUP: &str = "M 11 10 L 13.5 10 L 13.5 22 L 21.5 22 L 21.5 24.045 L 11 24.045 Z";

fn piece(name: &str, path: &str, word: &str) -> Piece {
    let found = shelf::material(word).expect("on the shelf");
    Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(path).expect("a path"),
        material: PieceMaterial {
            density_g_cm3: found.density_g_cm3,
            shelf_id: Some(found.id.clone()),
            kind: found.kind,
            why: found.why(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

fn drawn() -> design::Given {
    let mut rim = piece("rim", RING, "en-aw-6061");
    rim.presses_on.push(PressesOn {
        piece: "half".to_owned(),
        overlap_mm: 0.06,
    });
    let job = Job {
        name: "invented".to_owned(),
        recut: Some(RecutWishes {
            piece: "rim".to_owned(),
            step_mm: "0.01".parse().expect("a step"),
            most_face_mm: "0.4".parse().expect("a depth"),
            gram_per_mm: None,
        }),
        pieces: vec![piece("half", CUP, "pc-abs"), rim],
        fit: Some(FitWishes {
            hole: Some("48 +0.015/-0.015".to_owned()),
            shaft: Some("48.09 +0.012/-0.012".to_owned()),
            torque_n_mm: Some(200.0),
            ..FitWishes::default()
        }),
        ..Job::default()
    };
    design::Given::new(job).expect("a sound drawing")
}

fn fitted(wanted: bool) -> (Answer<FitBody>, Option<StressPicture>) {
    let design = drawn();
    let given = fitting::Given::of_design(&design).expect("a fit");
    let draws = Draws {
        pairs_count: 2000,
        seed: 1,
    };
    let section = if wanted {
        fitting::sections(&design, &given).map_err(|why| why.to_string())
    } else {
        Err(NOT_ASKED.to_owned())
    };
    fitting::with_section(&given, fitting::fit(&given, draws), section)
}

fn head() -> Head {
    Head {
        lot: String::new(),
        design: "invented".to_owned(),
        revision: "A".to_owned(),
        printed: "2026-03-03 09:12".to_owned(),
        note: None,
        link: None,
    }
}

fn told(mass_g: f64) -> Answer<turning::RecutBody> {
    turning::recut(&turned(), mass_g).expect("a recut")
}

fn turned() -> turning::Given {
    turning::Given::of_design(&drawn()).expect("a turned piece")
}

#[test]
fn law_pictures_of_the_rim_are_readable_and_small() {
    let (answer, field) = fitted(true);
    let field = field.expect("a field");
    let section = answer.body.section.as_ref().expect("sections");
    let pictures = [
        picture::stress(section, &field),
        picture::fit(&answer.body),
        picture::recut(&told(18.2).body, RING),
    ];
    for svg in pictures {
        assert!(svg.len() < 1_000_000, "{} bytes", svg.len());
        assert!(svg.contains("<title>") && svg.contains("<desc>") && !svg.contains("NaN"));
        for size in svg.split("font-size=\"").skip(1) {
            let size = size
                .split_once('"')
                .and_then(|(s, _)| s.parse::<f64>().ok());
            assert!(size.is_some_and(|s| s >= SMALLEST), "{size:?}");
        }
    }
    let stress = picture::stress(section, &field);
    for part in [
        "MPa",
        "von Mises",
        "sliding freely",
        "held fast",
        "along the axle",
    ] {
        assert!(stress.contains(part), "{part}");
    }
    let peak = format!("{:.1} MPa", section.slip.ring_peak.equivalent_mpa);
    // Beside its place, and in the legend with its place in mm.
    assert!(stress.matches(&peak).count() >= 2, "{peak}");
}

#[test]
fn law_the_terminal_says_which_force_the_press_is_set_by() {
    let (answer, _) = fitted(true);
    let told = text::fit(&answer);
    assert!(told.contains("set the press by this one"), "{told}");
    assert!(told.contains("by two plain rings"), "{told}");
    assert_eq!(told.matches("push-on force").count(), 1, "{told}");
    let (plain, field) = fitted(false);
    assert!(field.is_none());
    let told = text::fit(&plain);
    assert!(told.contains("left out: as asked"), "{told}");
    assert_eq!(told.matches("push-on force").count(), 1, "{told}");
    assert!(told.lines().all(|line| line.chars().count() <= 100));
}

#[test]
fn law_sheets_of_the_rim_are_documents() {
    let (answer, field) = fitted(true);
    let design = drawn();
    let weighed = |n: u32, mass_g| Weighed {
        serial: format!("R{n}"),
        mass_g,
    };
    let pieces: Vec<Weighed> = (0..40)
        .map(|n| weighed(n, 17.95 + 0.01 * f64::from(n)))
        .collect();
    let tray = turning::tray(&turned(), &pieces, 0).expect("a tray");
    let sheets = [
        sheet::fit_sheet(&answer, field.as_ref(), &head()),
        sheet::fit_sheet(&answer, None, &head()),
        sheet::recut_card(&told(18.2), &design.job().pieces[1].outline.path, &head()),
        sheet::recut_card(&told(17.0), RING, &head()),
        sheet::cut_list(&tray, &head()),
        sheet::rim_sheet(&turning::rim(&turned()).expect("a rim"), &head()),
    ];
    for pdf in sheets {
        assert!(pdf.expect("a sheet").starts_with(b"%PDF-"));
    }
}
