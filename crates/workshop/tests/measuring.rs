//! Mean and spread against certified sets and against an independent reckoning.

use std::fs;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use whirlwright_workshop::measuring::{
    NumberColumn, Slip, Weight, Windows, look_for_slips, look_over,
};
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Verdict};

#[derive(Deserialize)]
struct Cases<I, V> {
    case: Vec<Case<I, V>>,
}

#[derive(Deserialize)]
struct Case<I, V> {
    name: String,
    inputs: I,
    value: V,
    tolerance: V,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

#[expect(
    clippy::disallowed_methods,
    reason = "a test reads its cases; the station reads nothing"
)]
fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn near(what: &str, found: f64, value: &str, tolerance: &str) {
    let [value, tolerance]: [f64; 2] = [value, tolerance].map(|text| text.parse().expect(what));
    assert!(
        (found - value).abs() <= tolerance,
        "{what}: {found} is not {value} ± {tolerance}"
    );
}

fn weighed(serial: usize, mass: &str) -> LotPart {
    let mass_g = Some(mass.parse::<Decimal>().expect("a number"));
    LotPart {
        mass_g,
        ..LotPart::new(format!("P{serial}"), Kind::Other)
    }
}

#[derive(Deserialize)]
struct InFile {
    file: String,
}

#[derive(Deserialize)]
struct Certified {
    mean: String,
    sd: String,
}

#[derive(Deserialize)]
struct Set {
    n: usize,
    data: Option<Vec<serde_json::Number>>,
    digits: Option<String>,
    generator: Option<Generator>,
}

#[derive(Deserialize)]
struct Generator {
    first: String,
    then_alternate: Vec<String>,
}

impl Set {
    fn numbers(self) -> Vec<String> {
        match (self.data, self.digits, self.generator) {
            (Some(data), ..) => data.iter().map(ToString::to_string).collect(),
            (None, Some(digits), _) => digits.chars().map(String::from).collect(),
            (None, None, Some(generator)) => {
                let rest = generator.then_alternate.into_iter().cycle();
                std::iter::once(generator.first)
                    .chain(rest)
                    .take(self.n)
                    .collect()
            }
            (None, None, None) => Vec::new(),
        }
    }
}

#[test]
fn published_mean_and_sd_of_the_certified_sets() {
    let cases: Cases<InFile, Certified> =
        toml::from_str(&read("validation/measuring/strd.toml")).expect("cases");
    for case in cases.case {
        let path = format!("validation/measuring/{}", case.inputs.file);
        let set: Set = serde_json::from_str(&read(&path)).expect(&path);
        let count = set.n;
        let numbers = set.numbers();
        assert_eq!(numbers.len(), count, "{path}");
        let parts: Vec<LotPart> = numbers
            .iter()
            .enumerate()
            .map(|(at, text)| weighed(at, text))
            .collect();
        let answer = look_over(&parts, &Windows::default());
        let spread = answer.body.by_kind.first().expect("one kind");
        near(
            &case.name,
            spread.mean_mass_g,
            &case.value.mean,
            &case.tolerance.mean,
        );
        let sd = spread.sd_mass_g.expect("more than one number");
        near(&case.name, sd, &case.value.sd, &case.tolerance.sd);
    }
}

#[derive(Deserialize)]
struct InLot {
    file: String,
    origin: Option<String>,
}

#[derive(Deserialize)]
struct Reckoned {
    count: String,
    mean_mass_g: String,
    sd_mass_g: String,
}

/// Serial in the first column, origin in the second, mass under `mass_g`.
fn lot(path: &str, kind: Kind) -> Vec<LotPart> {
    let text = read(path);
    let mut lines = text.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let header = lines.next().expect("a header");
    let mass = header
        .iter()
        .position(|word| *word == "mass_g")
        .expect("a mass column");
    lines
        .map(|cells| LotPart {
            origin: Some(cells[1].to_owned()),
            mass_g: Some(cells[mass].parse().expect("a mass")),
            ..LotPart::new(cells[0], kind)
        })
        .collect()
}

fn kind_of(path: &str) -> Kind {
    match path {
        path if path.ends_with("halves.csv") => Kind::Half,
        path if path.ends_with("rims.csv") => Kind::Rim,
        _ => Kind::Other,
    }
}

#[test]
fn twin_spread_by_kind_and_by_origin_of_the_example_lots() {
    for file in ["first_lot.toml", "coins.toml"] {
        let text = read(&format!("validation/measuring/{file}"));
        let cases: Cases<InLot, Reckoned> = toml::from_str(&text).expect(file);
        for case in cases.case {
            let parts = lot(&case.inputs.file, kind_of(&case.inputs.file));
            let body = look_over(&parts, &Windows::practice()).body;
            let origin = &case.inputs.origin;
            let all = body.by_kind.iter().chain(&body.by_origin);
            let spread = all
                .into_iter()
                .find(|spread| spread.origin == *origin)
                .expect(&case.name);
            near(
                &case.name,
                spread.count as f64,
                &case.value.count,
                &case.tolerance.count,
            );
            near(
                &case.name,
                spread.mean_mass_g,
                &case.value.mean_mass_g,
                &case.tolerance.mean_mass_g,
            );
            let sd = spread.sd_mass_g.expect("more than one part");
            near(
                &case.name,
                sd,
                &case.value.sd_mass_g,
                &case.tolerance.sd_mass_g,
            );
        }
    }
}

#[test]
fn law_every_weighed_part_stands_in_one_bin_and_no_bin_is_finer_than_the_scale() {
    for path in ["examples/first_lot/halves.csv", "examples/coins/coins.csv"] {
        let parts = lot(path, kind_of(path));
        let body = look_over(&parts, &Windows::practice()).body;
        let histogram = body.histograms.first().expect("one kind");
        assert_eq!(
            histogram.counts.iter().sum::<usize>(),
            parts.len(),
            "{path}"
        );
        let steps = histogram.bin_mass_g / histogram.step_mass_g;
        // Whole steps, up to the rounding of one division.
        assert!(
            steps > 0.999 && (steps - steps.round()).abs() < 1e-9,
            "{path}: {steps}"
        );
        for (bin, count) in histogram.counts.iter().enumerate() {
            let origins = histogram.by_origin.iter().map(|origin| origin.counts[bin]);
            assert_eq!(origins.sum::<usize>(), *count, "{path}, bin {bin}");
        }
    }
}

#[test]
fn law_the_good_lot_has_no_doubt_and_one_swapped_pair_of_digits_is_one() {
    let mut parts = lot("examples/first_lot/halves.csv", Kind::Half);
    let answer = look_over(&parts, &Windows::practice());
    assert_eq!(answer.verdict, Verdict::Good, "{}", answer.decided_by);
    assert!(answer.body.differences[0].starts_with("cavity 4 is the heaviest (10.912 g"));

    // 10.83 read as 10.38, in cavity 3 whose middle is 10.83.
    let part = parts.iter().position(|part| {
        part.origin.as_deref() == Some("3") && part.mass_g == "10.83".parse().ok()
    });
    let part = part.expect("a part of 10.83 g");
    parts[part].mass_g = "10.38".parse().ok();
    let answer = look_over(&parts, &Windows::practice());
    let doubted: Vec<usize> = answer.body.doubts.iter().map(|doubt| doubt.part).collect();
    assert_eq!((answer.verdict, doubted), (Verdict::Look, vec![part]));
}

#[test]
fn law_the_order_of_the_parts_changes_nothing_but_the_order_of_the_doubts() {
    let parts = lot("examples/coins/coins.csv", Kind::Other);
    let turned: Vec<LotPart> = parts.iter().rev().cloned().collect();
    let [one, other] = [&parts, &turned].map(|parts| look_over(parts, &Windows::practice()).body);
    assert_eq!(one.histograms, other.histograms);
    for (a, b) in one.by_origin.iter().zip(&other.by_origin) {
        assert_eq!((&a.origin, a.count), (&b.origin, b.count));
        // The sums run the other way round: 250 roundings of a mass of 7.5 g.
        assert!((a.mean_mass_g - b.mean_mass_g).abs() < 250.0 * 7.5 * f64::EPSILON);
    }
    let serials = |body: &whirlwright_workshop::measuring::MeasuringBody| {
        let mut serials: Vec<_> = body
            .doubts
            .iter()
            .map(|doubt| doubt.serial.clone())
            .collect();
        serials.sort();
        serials
    };
    assert_eq!(serials(&one).len(), 3);
    assert_eq!(serials(&one), serials(&other));
}

#[test]
fn law_nothing_and_one_part_are_answered() {
    let nothing = look_over(&[], &Windows::practice());
    assert_eq!((nothing.verdict, nothing.body.parts), (Verdict::Stop, 0));
    let one = look_over(&[weighed(1, "7.5")], &Windows::practice());
    assert_eq!(
        (one.verdict, one.body.by_kind[0].sd_mass_g),
        (Verdict::Good, None)
    );
    let blank = look_over(&[LotPart::new("P1", Kind::Half)], &Windows::practice());
    assert_eq!((blank.verdict, blank.body.weighed), (Verdict::Stop, 0));
}

fn slips_of(kind: Kind, masses: &[&str], fits: &[&str]) -> Vec<Slip> {
    let parts: Vec<LotPart> = masses
        .iter()
        .enumerate()
        .map(|(at, mass)| LotPart {
            mass_g: mass.parse().ok(),
            fit_mm: fits.get(at).and_then(|fit| fit.parse().ok()),
            ..LotPart::new(format!("P{at}"), kind)
        })
        .collect();
    let values = fits.iter().filter_map(|fit| fit.parse().ok()).collect();
    let column = NumberColumn {
        name: "bore_mm".to_owned(),
        column: 5,
        values,
    };
    look_for_slips(&parts, &Windows::practice(), &[column])
}

#[test]
fn law_a_column_that_is_wrong_as_a_whole_is_named_once_with_its_likely_cause() {
    for (kind, masses, fits, cause) in [
        (
            Kind::Rim,
            ["47.995", "47.983", "47.996"],
            ["18.07", "18.06", "17.79"],
            "swapped",
        ),
        (
            Kind::Rim,
            ["0.634", "0.637", "0.635"],
            ["47.995"; 3],
            "ounces?",
        ),
        (
            Kind::Rim,
            ["0.01807", "0.01806", "0.01779"],
            ["47.995"; 3],
            "kilograms?",
        ),
        (
            Kind::Half,
            ["10700", "10770", "10760"],
            ["48.089"; 3],
            "milligrams?",
        ),
        (
            Kind::Half,
            ["10.70", "10.77", "10.76"],
            ["1.8933"; 3],
            "inches?",
        ),
        (
            Kind::Half,
            ["3000.1", "3000.2", "3000.3"],
            ["48.089"; 3],
            "look at the header",
        ),
    ] {
        let slips = slips_of(kind, &masses, &fits);
        assert_eq!(slips.len(), 1, "{cause}: {slips:?}");
        assert_eq!((slips[0].part, slips[0].weight), (None, Weight::Refuse));
        assert!(
            slips[0].advice.contains(cause),
            "{cause}: {}",
            slips[0].advice
        );
    }
}

#[test]
fn law_a_slipped_point_is_suggested_and_never_mended() {
    for (read, meant) in [
        ("108.1", "10.81"),
        ("1.081", "10.81"),
        ("1081", "10.81"),
        ("0.01083", "10.83"),
    ] {
        let slips = slips_of(Kind::Half, &["10.70", "10.77", read, "10.76"], &[]);
        assert_eq!(
            (slips.len(), slips[0].part),
            (1, Some(2)),
            "{read}: {slips:?}"
        );
        assert!(
            slips[0].advice.contains(&format!("Is {meant} g meant?")),
            "{}",
            slips[0].advice
        );
    }
    let slips = slips_of(Kind::Half, &["10.70", "10.77", "77777.7", "10.76"], &[]);
    assert!(!slips[0].advice.contains("meant"), "{}", slips[0].advice);
}

#[test]
fn law_parts_without_a_window_are_only_compared_with_each_other() {
    assert_eq!(slips_of(Kind::Other, &["0.377", "0.378", "0.379"], &[]), []);
    let nine = [
        "7.50", "7.51", "7.52", "7.50", "7.51", "7.52", "7.50", "7.51", "9.51",
    ];
    let slips = slips_of(Kind::Other, &nine, &[]);
    assert_eq!(
        (slips.len(), slips[0].part, slips[0].weight),
        (1, Some(8), Weight::Doubt)
    );
}
