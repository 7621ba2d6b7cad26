//! The press of the drawn sections against plain rings and its own laws.

use whirlwright_workshop::design;
use whirlwright_workshop::fitting::{
    Draws, FitBody, Given, Refusal, SeatPoint, SectionFit, SectionFitBody, SectionGiven,
    SectionMoment, fit, section_fit, sections, with_section,
};
use whirlwright_workshop::part::fit_wishes::FitWishes;
use whirlwright_workshop::part::job::{Job, Piece, PieceMaterial, PressesOn, Side};
use whirlwright_workshop::part::{Answer, Outline, Range, Verdict};
use whirlwright_workshop::shelf;

fn material(word: &str) -> PieceMaterial {
    let found = shelf::material(word).expect("on the shelf");
    PieceMaterial {
        density_g_cm3: found.density_g_cm3,
        shelf_id: Some(found.id.clone()),
        kind: found.kind,
        why: found.why(),
    }
}

fn piece(name: &str, path: &str, word: &str) -> Piece {
    Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(path).expect("a path"),
        material: material(word),
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

/// A ring on a body, both as drawn, with the limits `48 +0.02/-0.02` and `48.09 +0.02/-0.02`.
fn drawn(body: &str, ring: &str, size_mm: f64) -> SectionGiven {
    let mut outer = piece("ring", ring, "en-aw-6061");
    outer.presses_on.push(PressesOn {
        piece: "body".to_owned(),
        overlap_mm: 0.06,
    });
    let job = Job {
        name: "law".to_owned(),
        pieces: vec![piece("body", body, "pc-abs"), outer],
        fit: Some(FitWishes {
            hole: Some("48 +0.02/-0.02".to_owned()),
            shaft: Some("48.09 +0.02/-0.02".to_owned()),
            ..FitWishes::default()
        }),
        ..Job::default()
    };
    let design = design::Given::new(job).expect("a sound drawing");
    let fit = Given::of_design(&design).expect("a fit");
    SectionGiven::of_design(&design, fit, Some(size_mm)).expect("a seat")
}

fn answer(given: &SectionGiven) -> SectionFit {
    section_fit(given).expect("an answer")
}

const BODY: &str = "M 0 20 L 8 20 L 8 24 L 0 24 Z";
const RING: &str = "M 0 24 L 8 24 L 8 28 L 0 28 Z";

/// Rings of one length that slide freely: Lamé is exact, cold, warm and turning slowly.
#[test]
fn closed_form_plain_rings_are_lame() {
    let mut given = drawn(BODY, RING, 0.8);
    for (temperature_degc, hours_count) in [(20.0, 0.0), (5.0, 0.0), (35.0, 0.0), (20.0, 5000.0)] {
        given.moment = SectionMoment {
            temperature_degc,
            hours_count,
            ..given.moment
        };
        let body = answer(&given).answer.body;
        let share = body.slip.mean_pressure_mpa / body.plain_rings_mpa;
        // 0.2 % is what was asked of the elements.
        assert!((share - 1.0).abs() < 2e-3, "{share} at {temperature_degc}");
        assert!(body.plain_rings_mpa > 0.0);
    }
}

/// A range holds its likely value, is wider than the bounds of friction, and is nothing when cold has parted the seat.
#[test]
fn law_ranges_hold_and_cold_parts_the_seat() {
    let mut given = drawn(BODY, RING, 0.8);
    let new = answer(&given).answer;
    let p = new.body.mean_pressure_mpa;
    assert!(p.low < new.body.slip.mean_pressure_mpa && new.body.stick.mean_pressure_mpa < p.high);
    assert!(p.low <= p.likely && p.likely <= p.high, "{p:?}");
    assert_eq!(new.verdict, Verdict::Good);
    // 0.045 mm at 24 mm of radius and 2 um a degree: gone some 25 degrees down; 90 leaves nothing.
    given.moment.temperature_degc = given.fit.measured_at_degc - 90.0;
    let cold = answer(&given).answer;
    assert_eq!(cold.verdict, Verdict::Stop);
    assert_eq!(cold.body.mean_pressure_mpa, Range::exactly(0.0));
    assert_eq!(cold.body.slip.pressing_share, 0.0);
}

/// What the answer says changed is what does change; and the same question gives the same bytes.
#[test]
fn law_the_stated_change_is_that_from_twice_the_size() {
    let fine = answer(&drawn(BODY, RING, 0.7)).answer.body;
    let coarse = answer(&drawn(BODY, RING, 1.4)).answer.body;
    let (later, before) = (fine.stick.body_peak, coarse.stick.body_peak);
    let percent = 100.0 * (later.equivalent_mpa - before.equivalent_mpa) / later.equivalent_mpa;
    assert!((later.change_percent - percent).abs() < 1e-9);
    let again = answer(&drawn(BODY, RING, 0.7));
    let text = |body| serde_json::to_string(body).expect("JSON");
    assert_eq!(text(&again.answer.body), text(&fine));
    assert_eq!(again.picture, answer(&drawn(BODY, RING, 0.7)).picture);
}

/// The answer reads back as it was written, and says what it took from memory.
#[test]
fn law_the_answer_reads_back_and_says_what_is_from_memory() {
    let told = answer(&drawn(BODY, RING, 0.8)).answer;
    let text = serde_json::to_string(&told).expect("JSON");
    let back: Answer<SectionFitBody> = serde_json::from_str(&text).expect("the same answer");
    assert_eq!(serde_json::to_string(&back).expect("JSON"), text);
    assert!(
        told.trust.iter().any(|t| t.why.contains("memory")),
        "{:?}",
        told.trust
    );
    assert!(!told.cautions.is_empty() && !told.next.is_empty());
}

/// The demo's own drawing: the thin wall behind the seat is far softer than the solid shoulder, the answer settles, the picture
/// covers both sections.
#[test]
fn law_the_demo_settles_and_its_picture_is_whole() {
    let text = include_str!("../../../examples/first_lot/dunlin.toml");
    let table: toml::Table = text.parse().expect("a job");
    let pieces = table["piece"].as_array().expect("pieces");
    let outline = |name: &str| {
        let found = pieces.iter().find(|p| p["name"].as_str() == Some(name));
        found
            .and_then(|p| p["outline"].as_str())
            .expect("an outline")
    };
    let given = drawn(outline("half"), outline("rim"), 0.3);
    let SectionFit { answer, picture } = answer(&given);
    let body = &answer.body;
    assert_eq!((body.seat_from_mm, body.seat_to_mm), (13.5, 21.2));
    assert!(
        body.pressure_change_percent.abs() < 1.0,
        "{}",
        body.pressure_change_percent
    );
    assert!(body.slip.ring_outside_growth_um > 0.0 && body.slip.spigot_growth_um < 0.0);
    // The thin wall follows the ring: the two growths make up the interference but for fractions of a µm, and most of the
    // pressure sits at the shoulder, where the wall is backed.
    let closed = body.slip.ring_bore_growth_um - body.slip.spigot_growth_um;
    let off = closed - body.interference_um.likely;
    assert!(
        off.abs() < 2.0 && body.slip.widest_gap_um < 2.0,
        "{off} {}",
        body.slip.widest_gap_um
    );
    assert_eq!(body.slip.most_pressure_at_mm, 13.5);
    let area: f64 = picture
        .triangles
        .iter()
        .map(|t| {
            let [a, b, c] = t.map(|k| picture.places_mm[k as usize]);
            0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
        })
        .sum();
    let exact = shoelace(outline("half")) + shoelace(outline("rim"));
    // Straight edges of 0.3 mm leave a curve of 4 mm by h²/8r: 3 µm along some 40 mm of curves.
    assert!((area - exact).abs() < 0.1, "{area} {exact}");
    assert_eq!(picture.triangles.len(), picture.equivalent_mpa.len());
}

/// The area an outline encloses, from many places on it.
fn shoelace(path: &str) -> f64 {
    let outline = Outline::read(path).expect("a path");
    let segments = outline.loops.iter().flat_map(|l| &l.segments);
    let stretches = segments.flat_map(|s| {
        (0..200).map(move |k| (s.at(f64::from(k) / 200.0), s.at(f64::from(k + 1) / 200.0)))
    });
    let twice: f64 = stretches.map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    0.5 * twice.abs()
}

/// A drawing without a seat, and an element of no size.
#[test]
fn law_what_cannot_be_pressed_is_named() {
    let job = |ring: &str| {
        let mut outer = piece("ring", ring, "en-aw-6061");
        outer.presses_on.push(PressesOn {
            piece: "body".to_owned(),
            overlap_mm: 0.06,
        });
        let fit = FitWishes {
            hole: Some("48 +0.02/-0.02".to_owned()),
            shaft: Some("48.09 +0.02/-0.02".to_owned()),
            ring_outside_mm: Some(56.0),
            body_inside_mm: Some(40.0),
            length_mm: Some(8.0),
            ..FitWishes::default()
        };
        let job = Job {
            name: "law".to_owned(),
            pieces: vec![piece("body", BODY, "pc-abs"), outer],
            fit: Some(fit),
            ..Job::default()
        };
        design::Given::new(job).expect("a sound drawing")
    };
    let apart = job("M 20 24 L 28 24 L 28 28 L 20 28 Z");
    let fit = Given::of_design(&apart).expect("a fit");
    let refused = SectionGiven::of_design(&apart, fit.clone(), None);
    assert!(matches!(refused, Err(Refusal::NoSeat { .. })));
    let flat = SectionGiven::of_design(&job(RING), fit, Some(0.0));
    assert!(matches!(flat, Err(Refusal::NotPositive { .. })));
}

fn design_of(body: &str, ring: &str, wishes: FitWishes) -> (design::Given, Given) {
    let said = FitWishes {
        hole: Some("48 +0.02/-0.02".to_owned()),
        shaft: Some("48.09 +0.02/-0.02".to_owned()),
        torque_n_mm: Some(200.0),
        ..wishes
    };
    design_as_said(body, ring, said)
}

fn design_as_said(body: &str, ring: &str, wishes: FitWishes) -> (design::Given, Given) {
    let mut outer = piece("ring", ring, "en-aw-6061");
    outer.presses_on.push(PressesOn {
        piece: "body".to_owned(),
        overlap_mm: 0.06,
    });
    let job = Job {
        name: "law".to_owned(),
        pieces: vec![piece("body", body, "pc-abs"), outer],
        fit: Some(wishes),
        ..Job::default()
    };
    let design = design::Given::new(job).expect("a sound drawing");
    let given = Given::of_design(&design).expect("a fit");
    (design, given)
}

const DRAWS: Draws = Draws {
    pairs_count: 1000,
    seed: 1,
};

/// The force is friction times pressure times the seat's area, the torque that at its radius; and where the drawing is two plain
/// rings, both ways of reckoning agree and nothing needs to be said.
#[test]
fn closed_form_the_force_of_the_sections_is_friction_on_the_seat() {
    let (design, given) = design_of(BODY, RING, FitWishes::default());
    let plain = fit(&given, DRAWS);
    let section = sections(&design, &given).map_err(|why| why.to_string());
    let (answer, picture) = with_section(&given, plain.clone(), section);
    assert!(picture.is_some());
    let section = answer.body.section.as_ref().expect("sections");
    let (mu, p) = (given.friction_coefficient, section.mean_pressure_mpa);
    for (force, pressure, friction) in [
        (section.push_on_n.low, p.low, mu.low),
        (section.push_on_n.likely, p.likely, mu.likely),
        (section.push_on_n.high, p.high, mu.high),
    ] {
        let by_hand = friction * pressure * 2.0 * std::f64::consts::PI * 24.0 * 8.0;
        assert!((force / by_hand - 1.0).abs() < 1e-12, "{force} {by_hand}");
    }
    // The strain at a peak is its stress over the modulus of the piece.
    for (peak, member) in [
        (section.slip.body_peak, &given.body),
        (section.stick.ring_peak, &given.ring),
    ] {
        let by_hand = 100.0 * peak.equivalent_mpa / member.modulus_mpa.likely;
        assert!((peak.strain_percent / by_hand - 1.0).abs() < 1e-14);
    }
    let torque = section.torque_n_mm;
    assert!((torque.likely / (section.push_on_n.likely * 24.0) - 1.0).abs() < 1e-15);
    // Sliding freely it is plane stress, held fast the ends cannot bulge: the middle of both lies a little above.
    let force = section.push_on_n.likely / plain.body.push_on_n.likely;
    assert!((1.0..1.05).contains(&force), "{force}");
    assert_eq!(answer.body.push_on_n, plain.body.push_on_n);
    assert_eq!(answer.body.press_by_n(), section.push_on_n);
    assert!(!answer.cautions.iter().any(|c| c.contains("plain rings")));
    let worst = &section.worst;
    let share = worst.mean_pressure_mpa / worst.plain_rings_mpa;
    // The lesser of both: sliding freely is plane stress to 0.2 %; held fast, the resin that shrinks along the axle in the cold
    // takes some more off.
    assert!(
        worst.plain_rings_mpa > 0.0 && (0.85..0.98).contains(&share),
        "{share}"
    );
    assert_eq!(worst.kept, worst.torque_n_mm >= 200.0);
}

/// A web behind the seat presses much harder than two plain rings: said once, and the press is set by it.
#[test]
fn law_a_backed_seat_is_told_once_and_sets_the_press() {
    let backed = "M 0 10 L 3 10 L 3 22 L 8 22 L 8 24 L 0 24 Z";
    let (design, given) = design_of(backed, RING, FitWishes::default());
    let plain = fit(&given, DRAWS);
    let section = sections(&design, &given).map_err(|why| why.to_string());
    let (answer, _) = with_section(&given, plain.clone(), section);
    let section = answer.body.section.as_ref().expect("sections");
    assert!(section.mean_pressure_mpa.likely > 1.25 * section.plain_rings_mpa);
    let said = answer.cautions.iter().filter(|c| c.contains("plain rings"));
    assert_eq!(said.clone().count(), 1, "{:?}", answer.cautions);
    assert!(said.clone().all(|c| c.contains("careful side")));
    let stop = format!("passes {:.0} N", section.push_on_n.high);
    assert!(answer.cautions.iter().any(|c| c.contains(&stop)), "{stop}");
    assert!(answer.headline.contains("as drawn"), "{}", answer.headline);
    assert!(answer.trust.len() > plain.trust.len());
    let text = serde_json::to_string(&answer).expect("JSON");
    let back: Answer<FitBody> = serde_json::from_str(&text).expect("the same answer");
    assert_eq!(serde_json::to_string(&back).expect("JSON"), text);
}

/// A groove in the seat, however shallow, bears nothing; two lands are two lengths; a lip beside the ring is no seat.
#[test]
fn law_a_groove_bears_nothing_and_a_lip_is_no_seat() {
    let of = |body: &str| {
        let (design, given) = design_of(body, RING, FitWishes::default());
        let section = sections(&design, &given).expect("sections").answer.body;
        (given.length_mm, section)
    };
    let shallow = "M 0 20 L 8 20 L 8 24 L 5 24 L 5 23.9 L 3 23.9 L 3 24 L 0 24 Z";
    let (length_mm, grooved) = of(shallow);
    assert_eq!(length_mm, 6.0);
    assert!(
        (grooved.seat_length_mm - 6.0).abs() < 1e-9,
        "{}",
        grooved.seat_length_mm
    );
    let in_groove = |p: &SeatPoint| p.x_mm > 3.0 && p.x_mm < 5.0;
    assert!(!grooved.slip.line.iter().any(in_groove));
    let (_, whole) = of(BODY);
    // The same interference on less of the body: the lands press harder.
    assert!(grooved.mean_pressure_mpa.likely > whole.mean_pressure_mpa.likely);
    let (_, lip) = of("M -2 20 L 8 20 L 8 24 L 0 24 L 0 24.8 L -2 24.8 Z");
    assert_eq!((lip.seat_from_mm, lip.seat_to_mm), (0.0, 8.0));
    assert!((lip.seat_length_mm - 8.0).abs() < 1e-9);
    // Two stretches of one taper go on from each other: both bear.
    let (_, taper) = of("M 0 20 L 8 20 L 8 23.99 L 4 24 L 0 24.01 Z");
    assert!(
        (taper.seat_length_mm - 8.0).abs() < 1e-3,
        "{}",
        taper.seat_length_mm
    );
}

/// Sizes of the job go before the drawing: the sections are left out with the reason, and nothing else changes.
#[test]
fn law_what_is_left_out_says_why() {
    let said = FitWishes {
        body_inside_mm: Some(40.0),
        ..FitWishes::default()
    };
    let (design, given) = design_of(BODY, RING, said);
    let plain = fit(&given, DRAWS);
    let section = sections(&design, &given).map_err(|why| why.to_string());
    let (answer, picture) = with_section(&given, plain.clone(), section);
    assert!(picture.is_none() && answer.body.section.is_none());
    let why = answer.body.section_left_out.as_deref().expect("a reason");
    assert!(why.contains("body_inside"), "{why}");
    assert_eq!(answer.headline, plain.headline);
    assert_eq!(answer.cautions, plain.cautions);
    assert_eq!(answer.body.press_by_n(), plain.body.push_on_n);
}

/// Sections that hold less than asked at the worst moment make the verdict worse, also where plain rings would hold.
#[test]
fn law_sections_that_let_go_are_not_good() {
    let (design, given) = design_of(BODY, RING, FitWishes::default());
    let plain = fit(&given, DRAWS);
    assert_eq!(plain.verdict, Verdict::Good, "{}", plain.decided_by);
    let mut section = sections(&design, &given).expect("sections");
    let line = &mut section.answer.body.conditions[0];
    (line.at_least_um, line.margin_um, line.kept) = (Some(500.0), -400.0, false);
    let (answer, _) = with_section(&given, plain, Ok(section));
    assert_eq!(answer.verdict, Verdict::Look);
    assert!(
        answer.decided_by.contains("as drawn"),
        "{}",
        answer.decided_by
    );
}

/// A pair of one size alone on plain rings.
fn of_one_size(interference_um: f64) -> SectionFitBody {
    let said = FitWishes {
        hole: Some("48 +0/0".to_owned()),
        shaft: Some(format!("{:.5} +0/0", 48.0 + interference_um / 1000.0)),
        torque_n_mm: Some(200.0),
        ..FitWishes::default()
    };
    let (design, given) = design_as_said(BODY, RING, said);
    sections(&design, &given).expect("sections").answer.body
}

/// Every condition of the sections changes where it says it does.
#[test]
fn law_the_conditions_of_the_sections_change_where_they_say() {
    let found = of_one_size(90.0);
    let of = |body: &SectionFitBody, name: &str| {
        let line = body.conditions.iter().find(|c| c.name.contains(name));
        line.unwrap_or_else(|| panic!("no {name}")).clone()
    };
    let need_um = of(&found, "holds cold").at_least_um.expect("a need");
    let most_um = of(&found, "body at its peak").at_most_um.expect("a limit");
    assert!(need_um > 0.0 && most_um > need_um, "{need_um} {most_um}");
    // The need is found to 0.1 µm, and the middle of the seat moves a little with the size.
    for (interference_um, holds, stands) in [
        (need_um - 0.5, false, true),
        (need_um + 0.5, true, true),
        (most_um - 1.0, true, true),
        (most_um + 1.0, true, false),
    ] {
        let body = of_one_size(interference_um);
        assert_eq!(of(&body, "holds cold").kept, holds, "{interference_um}");
        assert_eq!(body.worst.kept, holds, "{interference_um}");
        assert_eq!(
            of(&body, "body at its peak").kept,
            stands,
            "{interference_um}"
        );
    }
    // At its limit the strain is the safe one: 0.6 % of this resin, on the stiffer of the two bounds.
    let body = of_one_size(most_um);
    let strain = body
        .slip
        .body_peak
        .strain_percent
        .max(body.stick.body_peak.strain_percent);
    assert!((strain - 0.6).abs() < 1e-3, "{strain}");
}

/// The window and the chances are drawn from all conditions.
#[test]
fn law_the_stricter_way_of_reckoning_sets_the_window() {
    let backed = "M 0 10 L 3 10 L 3 22 L 8 22 L 8 24 L 0 24 Z";
    let (design, given) = design_of(backed, RING, FitWishes::default());
    let plain = fit(&given, DRAWS);
    let section = sections(&design, &given).map_err(|why| why.to_string());
    let (answer, _) = with_section(&given, plain.clone(), section);
    let (before, after) = (
        plain.body.window_um.expect("a window"),
        answer.body.window_um.expect("a window"),
    );
    assert!(after.least_um >= before.least_um && after.most_um < before.most_um);
    let most = answer.body.conditions.iter().filter_map(|c| c.at_most_um);
    assert_eq!(most.fold(f64::INFINITY, f64::min), after.most_um);
    assert!(
        answer.body.chance.over_stressed_probability >= plain.body.chance.over_stressed_probability
    );
    assert!(answer.body.conditions.is_sorted_by_key(|c| c.margin_um));
    let sizes = answer.body.advice.shaft_mm.expect("sizes");
    assert!((sizes.most_mm - (47.98 + after.most_um / 1000.0)).abs() < 1e-9);
}
