//! Printed sheets.

mod invented;

use whirlwright_paper::sheet::{self, Head, Step, Traveller};

fn head() -> Head {
    Head {
        lot: "D26".to_owned(),
        design: "Dunlin".to_owned(),
        revision: "B".to_owned(),
        printed: "2026-03-03 09:12".to_owned(),
        note: Some("invented, seeded".to_owned()),
        link: Some("http://127.0.0.1:8787/lot/D26".to_owned()),
    }
}

/// How many pages a document has, counted by its page objects.
fn pages(pdf: &[u8]) -> usize {
    assert!(pdf.starts_with(b"%PDF-"), "a PDF begins with its mark");
    let count = |mark: &[u8]| {
        pdf.windows(mark.len())
            .filter(|window| *window == mark)
            .count()
    };
    count(b"/Type/Page\n")
        + count(b"/Type /Page\n")
        + count(b"/Type/Page/")
        + count(b"/Type /Page/")
}

#[test]
fn law_lists_take_the_pages_they_need() {
    let rows_a_page = 60;
    for n in [0, 1, 7, 240, 1000] {
        let answer = invented::four_parts(n);
        let pick_list = pages(&sheet::pick_list(&answer, &head()).unwrap());
        assert!(
            pick_list > 4 * n / (rows_a_page + 20) && pick_list <= 4 * n / rows_a_page + 2,
            "{n}: {pick_list}"
        );
        let sets = pages(&sheet::set_list(&answer, &head()).unwrap());
        assert!(sets > n / 25 && sets <= n / 15 + 1, "{n}: {sets}");
        let recuts = pages(&sheet::recut_list(&answer, &head()).unwrap());
        assert!(
            recuts > n / 3 / 26 && recuts <= n / 3 / 20 + 2,
            "{n}: {recuts}"
        );
    }
}

#[test]
fn law_the_traveller_of_a_lot_is_one_page() {
    let plan = Traveller::of_pairing(&invented::four_parts(240).body);
    assert_eq!(plan.counts, ["480 halves", "480 rims", "240 sets"]);
    assert_eq!(pages(&sheet::traveller(&plan, &head()).unwrap()), 1);
    assert_eq!(
        pages(&sheet::traveller(&Traveller::default(), &head()).unwrap()),
        1
    );
    let long = Traveller {
        steps: vec![Step::new("Weigh", &"every part ".repeat(40)); 30],
        ..plan
    };
    assert!(pages(&sheet::traveller(&long, &head()).unwrap()) > 3);
}

#[test]
fn law_the_steps_name_the_recut_only_where_there_is_one() {
    let names = |n| -> Vec<String> {
        Traveller::of_pairing(&invented::four_parts(n).body)
            .steps
            .into_iter()
            .map(|s| s.what)
            .collect()
    };
    assert!(names(240).iter().any(|step| step.contains("Recut")));
    assert!(!names(1).iter().any(|step| step.contains("Recut")));
}

#[test]
fn law_the_same_answer_gives_the_same_bytes() {
    let sheets = || {
        [
            sheet::pick_list(&invented::four_parts(30), &head()).unwrap(),
            sheet::set_list(&invented::dressed(30), &head()).unwrap(),
            sheet::recut_list(&invented::four_parts(30), &head()).unwrap(),
            sheet::pairing_sheet(&invented::dressed(30), &head()).unwrap(),
            sheet::section_sheet(&invented::section(), &head()).unwrap(),
            sheet::traveller(&Traveller::default(), &head()).unwrap(),
        ]
    };
    assert!(sheets() == sheets(), "two runs differ");
}

#[test]
fn law_very_long_and_hostile_names_make_a_sheet_too() {
    let long = "a very long name without end ".repeat(60);
    let mut answer = invented::four_parts(3);
    let mut dressed = invented::dressed(3);
    for name in [long.as_str(), invented::HOSTILE, "日本語の名前", ""] {
        for set in &mut answer.body.sets {
            name.clone_into(&mut set.left);
            for place in &mut set.places {
                name.clone_into(&mut place.id);
                place.tray = Some(name.to_owned());
            }
        }
        for cut in &mut answer.body.recuts {
            name.clone_into(&mut cut.id);
        }
        name.clone_into(&mut answer.headline);
        name.clone_into(&mut dressed.decided_by);
        let text = || name.to_owned();
        let head = Head {
            lot: text(),
            design: text(),
            revision: text(),
            printed: text(),
            note: Some(text()),
            link: Some(text()),
        };
        assert!(pages(&sheet::pick_list(&answer, &head).unwrap()) >= 1);
        assert!(pages(&sheet::recut_list(&answer, &head).unwrap()) >= 1);
        assert!(pages(&sheet::set_list(&answer, &head).unwrap()) >= 1);
        assert!(pages(&sheet::pairing_sheet(&dressed, &head).unwrap()) >= 1);
    }
}
