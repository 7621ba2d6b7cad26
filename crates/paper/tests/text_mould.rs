//! Mould and press, in the terminal and on sheets.

mod invented;

use invented::mould;
use whirlwright_paper::sheet::{self, Head};
use whirlwright_paper::text;
use whirlwright_workshop::moulding::StudyKind;

fn head() -> Head {
    Head {
        design: "Dunlin".to_owned(),
        ..Head::default()
    }
}

#[test]
fn law_the_set_up_says_what_decides_what_to_change_and_every_cavity() {
    let said = text::mould(&mould::mould());
    for part in [
        "▲ look",
        "Decided by: the clamp is at the edge",
        "▲ the mould is pushed open with 540 kN",
        "lower the hold to 42 MPa",
        "0.052 g·mm at 3°, on the gate's side",
        "10.760",
        "10.840",
        "! Melt burns.",
    ] {
        assert!(said.contains(part), "`{part}` in:\n{said}");
    }
    assert!(
        said.lines().all(|line| line.chars().count() <= 100),
        "{said}"
    );
}

#[test]
fn law_a_study_shows_what_changed_and_says_what_was_left_out() {
    let said = text::mould_study(&mould::study(StudyKind::Window));
    assert!(
        said.contains("melt, °C") && !said.contains("wall, °C  fill, s  hold, MPa  hold, s  half")
    );
    assert!(said.contains("2 runs were not made") && said.contains("5 away, 3 weighed"));
    assert!(
        said.lines().all(|line| line.chars().count() <= 100),
        "{said}"
    );
}

#[test]
fn law_weighings_show_the_fit_with_its_doubt_and_what_was_held() {
    let said = text::mould_weights(&mould::weights());
    assert!(
        said.contains("1.120 ± 0.030") && said.contains("about 1.00: the weighings do not tell it"),
        "{said}"
    );
    assert!(
        said.contains("10.8010 ± 0.0030 g") && said.contains("+0.40"),
        "{said}"
    );
}

#[test]
fn law_the_sheets_can_be_set() {
    let setup = sheet::mould_sheet(&mould::mould(), &mould::view(), &head()).expect("a sheet");
    let study = sheet::study_sheet(&mould::study(StudyKind::Window), &head()).expect("a sheet");
    assert!(setup.starts_with(b"%PDF-") && study.starts_with(b"%PDF-"));
}
