use super::*;
use whirlwright_workshop::balance::given::Support;

const TWO_PLANES: &str = r#"balance_readings = 1
name = "shaft"
mark = "keyway"
turns = "clockwise"
seen_from = "left"
angles = "against rotation"

[piece]
mass = "0.5 lb"
grade = "G 6.3"
speed = "3000 rpm"

[[plane]]
name = "one"
place = "-17.5 mm"
radius = "1 in"

[[plane]]
name = "two"
place = "17.5 mm"
radius = "25 mm"

[[sensor]]
name = "near"

[[sensor]]
name = "far"

[[run]]
name = "as it came"
kind = "first"
speed = "40 Hz"
readings = { near = ["170 um at 112 deg", "0.5 um at 1.5 rad"], far = "53 µm at 78 deg" }

[[run]]
kind = "trial"
speed = "2400 rpm"
added = { plane = "two", mass = "1.15 g", angle = "10 deg" }
stays_on = true
readings = { far = "77 um at 104 deg", near = "185 um at 115 deg" }
"#;

fn good(text: &str) -> ReadingsFile {
    read(text, "readings.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

fn bad(text: &str) -> String {
    read(text, "readings.toml")
        .expect_err("faults were expected")
        .to_string()
}

#[test]
fn reads_runs_with_phase_in_their_units() {
    let file = good(TWO_PLANES);
    assert_eq!(file.piece.mass_g, Some(226.796_185));
    assert_eq!(file.piece.grade_mm_per_s, Some(6.3));
    assert_eq!(file.planes[0].radius_mm, 25.4);
    assert_eq!(file.sense, AngleSense::AgainstRotation);
    let turns = file.turns.expect("said");
    assert!(turns.clockwise && turns.seen_from == End::Left);
    let Readings::Phased(phased) = file.readings else {
        panic!("the readings have phases");
    };
    assert_eq!((phased.unit.as_str(), phased.runs.len()), ("um", 2));
    // Phases are counted as the angles of the piece where nothing else is said.
    assert_eq!(phased.phase_sense, AngleSense::AgainstRotation);
    let first = &phased.runs[0];
    assert_eq!(
        (first.name.as_str(), first.speed_rpm),
        ("as it came", 2400.0)
    );
    assert_eq!(first.readings[0].len(), 2);
    // 1.5 rad, to the rounding of one product.
    assert!((first.readings[0][1].phase_deg - 1.5f64.to_degrees()).abs() < 1e-12);
    let trial = &phased.runs[1];
    assert!(trial.stays_on && trial.added[0].plane == 1);
    assert_eq!(trial.readings[1][0].amplitude_value, 77.0);
}

#[test]
fn reads_amplitudes_alone_a_test_at_rest_and_positions() {
    let head = "balance_readings = 1\nname = \"x\"\n[[plane]]\nname = \"p\"\nradius = \"28 mm\"\n";
    let runs = "[[sensor]]\nname = \"s\"\n[[run]]\nkind = \"first\"\nreading = [\"6 mV\", \"6.1 mV\"]\n\
        [[run]]\nkind = \"trial\"\nadded = { mass = \"50 mg\", angle = \"120 deg\" }\nreading = \"8 mV\"\n";
    match good(&format!("{head}{runs}")).readings {
        Readings::NoPhase(given) => {
            assert_eq!((given.unit.as_str(), given.first_values.len()), ("mV", 2));
            assert_eq!(
                (given.trials[0].mass_g, given.trials[0].angle_deg),
                (0.05, 120.0)
            );
        }
        other => panic!("{other:?}"),
    }
    let rest = "[rest]\non = \"rods\"\nshaft = \"6 mm\"\nangles = [\"200 deg\", \"204 deg\"]\nrolling_arm = \"5 um .. 10 um\"\n\
        [[rest.swing]]\nperiods = [\"12.1 s\", \"12.3 s\"]\n";
    match good(&format!("{head}{rest}")).readings {
        Readings::Rods(given) => {
            assert_eq!(
                given.support,
                Support::Rods {
                    shaft_radius_mm: 3.0
                }
            );
            assert_eq!(given.swings[0].periods_s, [12.1, 12.3]);
            let arm = given.rolling_arm_um.expect("said");
            assert!((arm.low - 5.0).abs() < 1e-9 && (arm.high - 10.0).abs() < 1e-9);
        }
        other => panic!("{other:?}"),
    }
    let positions = "[[position]]\nturned = \"0 deg\"\nreadings = { p = \"1.16 g·mm at 101.9 deg\" }\n\
        [[position]]\nturned = \"180 deg\"\nreadings = { p = [\"2.1 g·mm at 53 deg\", \"2.1 g·mm at 54 deg\"] }\n";
    match good(&format!("{head}{positions}")).readings {
        Readings::Indexed(given) => assert_eq!(given.positions[1].readings[0].len(), 2),
        other => panic!("{other:?}"),
    }
}

#[test]
fn reads_parts_that_can_be_turned() {
    let file = good(
        "balance_readings = 1\nname = \"x\"\n[recording]\neccentricity = \"4.5 um\"\nangle = \"20 deg\"\n\
         [[part]]\nname = \"a\"\nplace = \"-11 mm\"\nunbalance = \"0.3 g·mm at 10 deg\"\n\
         [[part]]\nname = \"b\"\nplace = \"11 mm\"\nunbalance = \"0.2 g·mm at 99 deg\"\non = \"a\"\nmarks = 8\n",
    );
    let parts = file.parts.expect("said");
    assert_eq!(parts.joints.len(), 1);
    assert!((parts.parts[1].unbalance.angle_deg - 99.0).abs() < 1e-12);
}

#[test]
fn refuses_every_fault_at_once_with_its_place() {
    let text = TWO_PLANES
        .replace("turns = \"clockwise\"", "turns = \"widdershins\"")
        .replace("mass = \"0.5 lb\"", "mass = \"0.5\"")
        .replace("grade = \"G 6.3\"", "grade = \"fine\"")
        .replace("radius = \"25 mm\"", "radius = \"0 mm\"")
        .replace("170 um at 112 deg", "170 um at 112")
        .replace("53 µm at 78 deg", "112 deg at 53 um")
        .replace("plane = \"two\"", "plane = \"tow\"")
        .replace(
            "far = \"77 um at 104 deg\", ",
            "fra = \"77 um at 104 deg\", ",
        );
    let told = bad(&text);
    for (line, says) in [
        (4, "one of clockwise, counter-clockwise"),
        (9, "`0.5` has no unit"),
        (10, "`grade` is `fine`"),
        (21, "more than 0"),
        (38, "did you mean `two`?"),
        (40, "there is no pick-up `fra`; this file has near, far"),
    ] {
        assert!(
            told.contains(&format!("readings.toml:{line}:")),
            "{line}\n{told}"
        );
        assert!(told.contains(says), "{says}\n{told}");
    }
}

#[test]
fn refuses_amplitudes_and_phases_in_wrong_units() {
    for (from, to, says) in [
        ("170 um at 112 deg", "170 um at 112", "has no unit"),
        ("170 um at 112 deg", "170 at 112 deg", "`170` has no unit"),
        (
            "170 um at 112 deg",
            "112 deg at 170 um",
            "an amplitude was expected first",
        ),
        ("170 um at 112 deg", "170 um at 112 g", "an angle is wanted"),
        (
            "170 um at 112 deg",
            "-3 um at 112 deg",
            "an amplitude is 0 or more",
        ),
        ("170 um at 112 deg", "170 um", "has no phase"),
        (
            "77 um at 104 deg",
            "0.077 mm at 104 deg",
            "write all of them in one unit",
        ),
        ("1.15 g", "0 g", "0 g"),
        ("1.15 g", "1.15 mm", "a mass is wanted"),
        (
            "kind = \"trial\"",
            "kind = \"trail\"",
            "did you mean `trial`?",
        ),
    ] {
        let told = bad(&TWO_PLANES.replace(from, to));
        assert!(told.contains(says), "{to}: {told}");
    }
}

#[test]
fn refuses_what_is_missing_empty_or_of_two_kinds() {
    assert!(bad("").contains("the file is empty"));
    assert!(bad("\u{1}\u{2}\u{3} = = =").contains("not TOML"));
    assert!(bad("name = \"x\"\n").contains("balance_readings = 1"));
    assert!(bad("balance_readings = 2\n").contains("format 2"));
    assert!(bad("balance_readings = 1\nname = \"x\"\n").contains("no readings"));
    let both = format!("{TWO_PLANES}\n[recording]\neccentricity = \"4 um\"\nangle = \"0 deg\"\n");
    assert!(bad(&both).contains("[[run]] and [recording]"));
    let none = TWO_PLANES.replace("[[sensor]]", "[[sensr]]");
    assert!(bad(&none).contains("did you mean `sensor`?"));
    let lacks = TWO_PLANES.replace("speed = \"2400 rpm\"\n", "");
    assert!(bad(&lacks).contains("no `speed`"));
    let alone = TWO_PLANES.replace(
        "readings = { far = \"77 um at 104 deg\", near",
        "readings = { near",
    );
    assert!(bad(&alone).contains("no reading of the pick-up `far`"));
}

#[test]
fn refuses_hostile_files_without_falling_over() {
    let long = format!("balance_readings = 1\nname = \"{}\"\n", "x".repeat(100_000));
    assert!(bad(&long).len() < 5_000);
    let many = format!(
        "balance_readings = 1\nname = \"x\"\n{}",
        "[[run]]\n".repeat(5_000)
    );
    assert!(bad(&many).len() < 20_000);
    let deep = format!(
        "balance_readings = 1\nrun = {}{}",
        "[".repeat(500),
        "]".repeat(500)
    );
    assert!(!bad(&deep).is_empty());
}
