//! Laws that hold for every station: same input, same bytes; an answer reads back as it was written; it
//! says how far to trust it; what rests on memory says so.

use serde::Serialize;
use serde::de::DeserializeOwned;
use whirlwright_workshop::design::{Given, SectionBody, section};
use whirlwright_workshop::measuring::{MeasuringBody, Windows, look_over};
use whirlwright_workshop::pairing::{
    DressedGiven, Limits, PairBody, PartsGiven, Recut, pair_dressed, pair_parts,
};
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::outline::Outline;
use whirlwright_workshop::part::{Answer, Decimal, Kind, LotPart, Verdict};
use whirlwright_workshop::shelf::materials;

fn decimal(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

/// Parts of one kind, every mass `step` last digits above the one before, cavities in turn.
fn parts(kind: Kind, count: i64, first_hundredths: i64, step: i64) -> Vec<LotPart> {
    let part = |place: i64| {
        let mut part = LotPart::new(format!("{kind:?}-{place}"), kind);
        let units = first_hundredths + (place * step) % 17;
        part.mass_g = Some(Decimal { units, places: 2 });
        part.origin = Some((place % 4 + 1).to_string());
        part
    };
    (0..count).map(part).collect()
}

fn piece(name: &str, path: &str, material: PieceMaterial) -> Piece {
    Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(path).expect("a path"),
        material,
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

fn job(pieces: Vec<Piece>) -> Given {
    let job = Job {
        name: "law".to_owned(),
        limits: PieceLimits::default(),
        pieces,
        ..Job::default()
    };
    Given::new(job).expect("a sound drawing")
}

fn steel_like(why: &str) -> PieceMaterial {
    let kind = MaterialKind::Metal;
    PieceMaterial {
        density_g_cm3: 7.0,
        shelf_id: None,
        kind,
        why: why.to_owned(),
    }
}

fn a_section() -> Answer<SectionBody> {
    section(&job(vec![piece(
        "rim",
        "M 8 24 H 16 V 29 H 8 Z",
        steel_like("stated here"),
    )]))
}

fn a_look() -> Answer<MeasuringBody> {
    look_over(&parts(Kind::Half, 40, 1070, 5), &Windows::practice())
}

fn dressed(parts: Vec<LotPart>) -> Answer<PairBody> {
    let limits = Limits {
        mass_within_g: Some(decimal("0.1")),
        ..Limits::default()
    };
    pair_dressed(&DressedGiven::new(parts, limits)).expect("an answer")
}

fn four() -> Answer<PairBody> {
    let given = PartsGiven {
        halves: parts(Kind::Half, 24, 1072, 5),
        rims: parts(Kind::Rim, 26, 1795, 7),
        mass_within_g: decimal("0.1"),
        piece_mass_g: decimal("57.60"),
        piece_within_g: decimal("0.1"),
        fit_window: None,
        colour_must_agree: false,
        forbidden: Vec::new(),
        include_doubtful: false,
        recut: Some(Recut {
            gram_per_mm: 2.25,
            step_mm: decimal("0.01"),
            most_face_mm: decimal("0.3"),
        }),
        more_rims: None,
        scale_step_g: None,
    };
    pair_parts(&given, &|_| false).expect("an answer")
}

/// Written, read back and written again: the same bytes.
fn reads_back<B: Serialize + DeserializeOwned>(answer: &Answer<B>) -> String {
    let written = serde_json::to_string(answer).expect("an answer can be written");
    let read: Answer<B> = serde_json::from_str(&written).expect("an answer can be read");
    assert_eq!(
        serde_json::to_string(&read).expect("written again"),
        written
    );
    written
}

#[test]
fn law_same_input_same_bytes_and_an_answer_reads_back() {
    assert_eq!(reads_back(&a_section()), reads_back(&a_section()));
    assert_eq!(reads_back(&a_look()), reads_back(&a_look()));
    let tray = || dressed(parts(Kind::Dressed, 31, 2870, 5));
    assert_eq!(reads_back(&tray()), reads_back(&tray()));
    assert_eq!(reads_back(&four()), reads_back(&four()));
}

/// What every answer must say, whatever the station.
fn says_what_it_must<B>(answer: &Answer<B>) {
    let station = &answer.station;
    assert!(
        !answer.headline.is_empty() && !answer.decided_by.is_empty(),
        "{station} is silent"
    );
    assert!(
        !answer.trust.is_empty(),
        "{station} does not say how far to trust it"
    );
    assert!(
        answer
            .trust
            .iter()
            .all(|t| !t.number.is_empty() && !t.why.is_empty()),
        "{station}"
    );
    let needs_a_step = answer.verdict != Verdict::Good;
    assert!(
        !needs_a_step || !answer.next.is_empty(),
        "{station} leaves a {:?} without a next step",
        answer.verdict
    );
}

#[test]
fn law_every_answer_says_what_decided_it_and_how_far_to_trust_it() {
    says_what_it_must(&a_section());
    says_what_it_must(&a_look());
    says_what_it_must(&dressed(parts(Kind::Dressed, 31, 2870, 5)));
    says_what_it_must(&four());
    // Nothing to choose from is still an answer.
    says_what_it_must(&look_over(&[], &Windows::practice()));
}

#[test]
fn law_what_rests_on_memory_says_so() {
    let known = materials()
        .iter()
        .find(|m| m.tag == "memory")
        .expect("a material from memory");
    let material = PieceMaterial {
        density_g_cm3: known.density_g_cm3,
        shelf_id: Some(known.id.clone()),
        kind: known.kind,
        why: known.why(),
    };
    let answer = section(&job(vec![piece("half", "M 3 3 H 16 V 24 H 3 Z", material)]));
    assert!(
        answer.trust.iter().any(|t| t.why.contains("from memory")),
        "{:?}",
        answer.trust
    );
    let stated = a_section();
    assert!(
        stated.trust.iter().all(|t| !t.why.contains("from memory")),
        "{:?}",
        stated.trust
    );
}

/// The order of the file is the order of the tray, and chooses nothing: number of sets, cost and proof
/// stay as they are when the parts are shuffled.
#[test]
fn law_the_order_of_the_parts_changes_no_number() {
    let parts = parts(Kind::Dressed, 31, 2870, 5);
    // 31 is prime, so steps of 12 visit every part once.
    let shuffled: Vec<LotPart> = (0..31)
        .map(|place| parts[(place * 12) % 31].clone())
        .collect();
    let (there, here) = (dressed(parts).body, dressed(shuffled).body);
    assert_eq!(there.set_count, here.set_count);
    assert_eq!(there.total_cost.to_bits(), here.total_cost.to_bits());
    assert!(there.optimal && here.optimal);
    assert_eq!(there.lower_bound.to_bits(), there.total_cost.to_bits());
}
