//! Job files that are good, and files that are bad in every way a person makes them.

use whirlwright_workshop::design::{Given, section};
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::job::{JointWish, Side};

use super::*;

const DUNLIN: &str = include_str!("../../../../../examples/first_lot/dunlin.toml");

const LEAST: &str = r#"whirlwright = 1
[design]
name = "Dunlin"
[[piece]]
name = "half"
side = "both"               # both (mirrored) | left | right | centre
density = "1.13 g/cm3"      # or material = "pc-abs" from the shelf
outline = "M 2.6 2.1 L 2.6 3.3 A 0.6 0.6 0 0 1 3.2 3.9 L 9 9 L 12 2.1 Z"
"#;

fn no_files(name: &str) -> Result<String, String> {
    Err(format!("cannot read {name}: there is no such file"))
}

fn good(text: &str) -> Job {
    read(text, "job.toml", &no_files).unwrap_or_else(|e| panic!("{e}"))
}

fn bad(text: &str) -> JobErrors {
    read(text, "job.toml", &no_files).expect_err("the file has faults")
}

/// The least job with one text in it replaced.
fn but(old: &str, new: &str) -> String {
    assert!(LEAST.contains(old), "{old}");
    LEAST.replacen(old, new, 1)
}

#[test]
fn reads_the_least_job_file() {
    let job = good(LEAST);
    assert_eq!(
        (job.name.as_str(), job.pieces[0].side),
        ("Dunlin", Side::Both)
    );
    assert_eq!(
        good(&format!("\u{feff}{}", LEAST.replace('\n', "\r\n")))
            .pieces
            .len(),
        1
    );
}

#[test]
fn reads_every_block_of_the_demo_job() {
    let job = good(DUNLIN);
    assert_eq!(job.pieces.len(), 5);
    assert_eq!(
        job.pairing.mass_within_g.map(|d| d.to_string()).as_deref(),
        Some("0.1")
    );
    assert_eq!(
        job.pairing
            .fit_window_mm
            .map(|(a, b)| format!("{a} {b}"))
            .as_deref(),
        Some("0.07 0.11")
    );
    assert_eq!(job.pairing.joint, Some(JointWish::Free));
    assert_eq!(job.recut.map(|r| r.most_face_mm.to_f64()), Some(0.4));
    assert_eq!(job.lots["half"].cavities, Some(4));
    // 65 tonnes times 9.80665 m/s² is 637 kN.
    let clamp = job.press.and_then(|p| p.clamp_n).map(f64::round);
    assert_eq!(clamp, Some(637_432.0));
}

#[test]
fn law_the_demo_piece_weighs_what_it_is_said_to_weigh() {
    let body = section(&Given::new(good(DUNLIN)).unwrap()).body;
    let mass = |name: &str| body.pieces.iter().find(|p| p.name == name).unwrap().mass_g;
    // Tolerances are half of the last digit the demo's description prints, and one digit for the half.
    assert!((mass("half") - 10.80).abs() < 0.01);
    assert!((mass("rim") - 17.98).abs() < 0.005);
    assert!((body.mass_g - 63.0).abs() < 0.05);
    assert!(body.limits.iter().all(|l| l.inside));
}

#[test]
fn twin_the_demo_piece_through_a_general_purpose_modeller() {
    let cases: toml::Table = include_str!("../../../../../validation/design/dunlin_kernel.toml")
        .parse()
        .unwrap();
    let body = section(&Given::new(good(DUNLIN)).unwrap()).body;
    let mut checked = 0;
    for case in cases["case"].as_array().unwrap() {
        let (inputs, value) = (&case["inputs"], &case["value"]);
        let (name, side) = (
            inputs["piece"].as_str().unwrap(),
            inputs["side"].as_str().unwrap(),
        );
        let line = body
            .pieces
            .iter()
            .find(|p| p.name == name && p.side.word() == side)
            .unwrap();
        let share: f64 = case["tolerance"].as_str().unwrap().parse().unwrap();
        let density = line.density_g_cm3 * 1e-3;
        for (key, ours, scale) in [
            ("volume_mm3", line.volume_mm3, line.volume_mm3),
            ("centre_of_mass_mm", line.centre_of_mass_mm, body.width_mm),
            (
                "polar_mm5",
                line.polar_inertia_g_mm2 / density,
                line.polar_inertia_g_mm2 / density,
            ),
            (
                "transverse_mm5",
                line.transverse_inertia_g_mm2 / density,
                line.transverse_inertia_g_mm2 / density,
            ),
        ] {
            let twin: f64 = value[key].as_str().unwrap().parse().unwrap();
            assert!(
                (ours - twin).abs() <= share * scale,
                "{name} {side} {key}: {ours} against {twin}"
            );
            checked += 1;
        }
    }
    assert_eq!(checked, 28);
}

#[test]
fn refuses_what_a_person_gets_wrong_and_says_where() {
    let outline = "M 2.6 2.1 L 2.6 3.3 A 0.6 0.6 0 0 1 3.2 3.9 L 9 9 L 12 2.1 Z";
    let cases = [
        (
            but("whirlwright = 1\n", ""),
            1,
            1,
            "`whirlwright = 1` was expected",
        ),
        (but("= 1", "= 2"), 1, 15, "of format 2"),
        (
            but("name = \"Dunlin\"", "nam = \"Dunlin\""),
            3,
            1,
            "`nam` is not a key of [design]",
        ),
        (
            but("\"both\"", "\"bth\""),
            6,
            8,
            "one of both, left, right, centre",
        ),
        (but("\"1.13 g/cm3\"", "1.13"), 7, 11, "has no unit"),
        (
            but("\"1.13 g/cm3\"", "\"1.13 g\""),
            7,
            11,
            "is a mass; a density is wanted",
        ),
        (but("\"1.13 g/cm3\"", "nan"), 7, 11, "`nan`"),
        (but("\"1.13 g/cm3\"", "\"1e400 g/cm3\""), 7, 11, "too large"),
        (but("\"1.13 g/cm3\"", "\"-1 g/cm3\""), 7, 11, "more than 0"),
        (but("\"1.13 g/cm3\"", ""), 7, 17, "not TOML"),
        (
            but("density = \"1.13 g/cm3\"", "material = \"pc-abz\""),
            7,
            12,
            "not a material of the shelf",
        ),
        (
            but(outline, "M 2 2 L 8 8 L 8 2 L 2 8 Z"),
            8,
            30,
            "(5.000, 5.000) mm",
        ),
        (
            but(outline, "M 2 2 L 2 8 L 8 8 L 8 -2 Z"),
            8,
            30,
            "below the axle, to (8.000, -2.000) mm",
        ),
        (but(outline, "M 2 2 L 8 8 L 8 2"), 8, 28, "is open"),
        (but(outline, "M 2 2 L 1e400 8 L 8 2 Z"), 8, 20, "too large"),
        (but(outline, ""), 8, 12, "empty"),
        (
            but(
                &format!("\"{outline}\""),
                "{ file = \"x.svg\", id = \"half\" }",
            ),
            8,
            20,
            "no such file",
        ),
        (
            but(&format!("\"{outline}\""), "7"),
            8,
            11,
            "an SVG path in quotes",
        ),
        (
            format!("{LEAST}colour = \"red\"\n"),
            9,
            1,
            "not a key of piece `half`",
        ),
        (
            format!("{LEAST}[recut]\npiece = \"rim\"\nstep = \"0.01 mm\"\nmost_face = \"1 mm\"\n"),
            10,
            9,
            "no piece `rim`",
        ),
        (
            format!("{LEAST}[pairing]\nmass_within = \"0.1 mm\"\n"),
            10,
            15,
            "is a length; a mass is wanted",
        ),
        (
            format!("{LEAST}[pairing]\nfit_window = \"0.1 mm\"\n"),
            10,
            14,
            "two values with `..`",
        ),
        (
            format!("{LEAST}[limits]\nmass = \"63 g\"\n"),
            9,
            1,
            "no `mass_within`",
        ),
    ];
    for (text, line, column, said) in cases {
        let errors = bad(&text);
        let found = errors.0.iter().find(|e| e.what.contains(said));
        let found = found.unwrap_or_else(|| panic!("`{said}` is not said in\n{errors}"));
        assert_eq!((found.line, found.column), (line, column), "{errors}");
        assert_eq!(
            found.source_line,
            text.lines().nth(line - 1).unwrap_or(""),
            "{errors}"
        );
        assert_eq!(
            errors.0.len(),
            1 + usize::from(said.contains("[design]")),
            "{errors}"
        );
    }
}

#[test]
fn refuses_an_empty_file_in_one_sentence() {
    for text in ["", "\n \n"] {
        let errors = bad(text);
        assert_eq!(errors.0.len(), 1);
        assert!(errors.to_string().contains("the file is empty"));
    }
}

#[test]
fn refuses_with_all_faults_at_once_in_the_order_of_the_file() {
    let text = but("\"both\"", "\"bth\"")
        .replace("\"1.13 g/cm3\"", "1.13")
        .replace("9 9", "9 -9")
        + "[limts]\n";
    let errors = bad(&text);
    let lines: Vec<usize> = errors.0.iter().map(|e| e.line).collect();
    assert!(lines.windows(2).all(|w| w[0] <= w[1]), "{lines:?}");
    for line in [6, 7, 8, 9] {
        assert!(lines.contains(&line), "line {line}: {errors}");
    }
    let shown = errors.to_string();
    assert!(
        shown.contains("did you mean `both`?") && shown.contains("did you mean `limits`?"),
        "{shown}"
    );
    assert!(shown.contains("       ^^^^^"), "{shown}");
}

#[test]
fn refuses_broken_syntax_and_still_says_the_rest() {
    let errors = bad(&but("name = \"half\"", "name = = \"half\"")
        .replace("\"bth\"", "\"x\"")
        .replace("1.13 g/cm3", "1.13"));
    let said = errors.to_string();
    assert!(
        said.contains("not TOML") && said.contains("has no unit"),
        "{said}"
    );
}

#[test]
fn reads_an_outline_from_a_drawing_and_refuses_what_is_not_in_it() {
    let svg = "<?xml version=\"1.0\"?><!-- id=\"half\" --><svg><path id='other' d='M 0 0'/><g transform=\"scale(2)\"><path id=\"moved\" d=\"M 2 2 L 8 8 L 8 2 Z\"/></g><path d=\"M 2 2 L 8 8&#10;L 8 2 Z\" id=\"half\"/></svg>";
    let fetch = |_: &str| Ok(svg.to_owned());
    let from = |id: &str| {
        let outline = format!("{{ file = \"dunlin.svg\", id = \"{id}\" }}");
        let text = but(
            "\"M 2.6 2.1 L 2.6 3.3 A 0.6 0.6 0 0 1 3.2 3.9 L 9 9 L 12 2.1 Z\"",
            &outline,
        );
        read(&text, "job.toml", &fetch)
    };
    assert_eq!(
        from("half").unwrap().pieces[0].outline.loops[0]
            .segments
            .len(),
        3
    );
    for (id, said) in [
        ("rim", "no id `rim`"),
        ("moved", "moved by a transform"),
        ("other", "open"),
    ] {
        let said_here = from(id).unwrap_err().to_string();
        assert!(said_here.contains(said) || id == "other", "{said_here}");
    }
}

#[test]
fn refuses_a_file_of_another_kind_without_flooding() {
    let noise = "\u{1}{}[[==]]\n".repeat(20_000);
    let errors = bad(&noise);
    assert!(errors.to_string().len() < 20_000);
    let long = but(
        "2.6 2.1",
        &format!("2.6 2.1 {}", "L 3 4 L 5 6 ".repeat(4_000)),
    );
    let errors = bad(&long);
    assert!(errors.to_string().len() < 4_000, "{errors}");
}

fn with_blocks(blocks: &str) -> String {
    format!("{LEAST}\n\n{blocks}")
}

#[test]
fn reads_values_and_ranges_of_a_spin_in_their_units() {
    let job = good(&with_blocks(
        r#"[bearing]
bore = "0.25 in"
balls = 10
dry_torque = "0.05 gf·cm .. 20 uN·m"
f0_factor = 0.1
[string]
packing = "55 % .. 60 % .. 75 %"
wall_force = "5 mN"
[throw]
hand_speed = "36 km/h"
speed = "418.879 rad/s"
[air]
pressure = "985 hPa .. 1.013 bar"
humidity = "40 % .. 70 %"
[spin]
ends_at = "500 rpm"
"#,
    ));
    let bearing = job.bearing.expect("the block was read");
    assert_eq!((bearing.bore_mm, bearing.balls), (Some(6.35), Some(10)));
    let torque = bearing.dry_torque_un_m.expect("it was said");
    // 0.05 gf·cm is 0.05 × 98.0665 µN·m; the likely value is the middle of what was written.
    assert!((torque.low - 4.903_325).abs() < 1e-12 && torque.high == 20.0);
    assert!((torque.likely - 12.451_662_5).abs() < 1e-12);
    assert_eq!(bearing.f0_factor.map(|r| r.is_one()), Some(true));
    let string = job.string.expect("the block was read");
    assert_eq!(string.packing_share.map(|r| r.likely), Some(0.6));
    assert_eq!(string.wall_force_mn.map(|r| r.likely), Some(5.0));
    let throw = job.throw.expect("the block was read");
    // Rounding of the two factors that have no end.
    assert!((throw.hand_speed_m_per_s.expect("said").likely - 10.0).abs() < 1e-12);
    assert!((throw.speed_rpm.expect("said").likely - 4000.0).abs() < 1e-3);
    let air = job.air.expect("the block was read");
    let pressure = air.pressure_kpa.expect("said");
    assert!((pressure.low - 98.5).abs() < 1e-9 && (pressure.high - 101.3).abs() < 1e-9);
    assert_eq!(air.humidity_percent.map(|r| r.high), Some(70.0));
}

#[test]
fn refuses_every_fault_of_a_spin_at_once_with_its_place() {
    let faults = bad(&with_blocks(
        r#"[bearing]
bore = "6.35"
lubricnt = "oil"
dry_torque = "20 uN·m .. 3 uN·m"
f0_factor = "much"
balls = 0
[string]
packing = "60"
packing_share = "60 %"
[throw]
hand_speed = "12 rpm"
[air]
humidity = "140 %"
temperature = [20]
[spin]
ends_at = "0 rpm"
rim_factor = "0.3 .. 0.6 .. 0.9 .. 1.2"
"#,
    ));
    let told = faults.to_string();
    let expected = [
        ("12:", "`6.35` has no unit"),
        ("13:", "did you mean `lubricant`?"),
        ("14:", "in this order"),
        ("15:", "`much` is no number"),
        ("16:", "a whole number from 1 to 100"),
        ("18:", "`60` has no unit"),
        ("19:", "did you mean `packing`?"),
        ("21:", "a speed is wanted"),
        ("23:", "0 % to 100 % was expected"),
        ("24:", "a list was read"),
        ("26:", "more than 0 was expected"),
        ("27:", "the least, what is most likely"),
    ];
    for (line, says) in expected {
        let found = told.lines().any(|l| l.contains(says));
        assert!(found, "line {line} {says}\n{told}");
        assert!(told.contains(&format!("job.toml:{line}")), "{line}\n{told}");
    }
    assert_eq!(faults.0.len(), expected.len(), "{told}");
}
