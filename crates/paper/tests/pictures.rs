//! Pictures as SVG.

mod invented;

use whirlwright_paper::{picture, spread};
use whirlwright_workshop::moulding::StudyKind;

/// Smallest type in a picture: on an A4 sheet it shrinks to 0.73, which leaves 10 points.
const SMALLEST: f64 = 14.0;

fn all() -> Vec<(&'static str, String)> {
    let section = invented::section().body;
    let four = invented::four_parts(240).body;
    vec![
        ("cut", picture::cut(&section)),
        ("shares", picture::shares(&section)),
        ("pairing", picture::pairing(&four)),
        (
            "pairing of dressed halves",
            picture::pairing(&invented::dressed(20).body),
        ),
        (
            "pairing of nothing",
            picture::pairing(&invented::four_parts(0).body),
        ),
        (
            "distribution",
            picture::distribution(&spread::of_pairing(&four)),
        ),
        (
            "looked over",
            picture::distribution(&spread::of_measuring(&invented::measuring().body)),
        ),
        ("nothing weighed", picture::distribution(&[])),
        (
            "two planes",
            picture::polar_drawing("Unbalance", &invented::balance::planes()).to_svg(),
        ),
        (
            "correction",
            picture::balance(
                &invented::balance::correct().body,
                &invented::balance::view(),
            ),
        ),
        ("budget", picture::budget(&invented::balance::limit().body)),
        (
            "one plane",
            picture::polar_drawing("Unbalance", &invented::balance::single()).to_svg(),
        ),
        (
            "rim",
            picture::rim_view_drawing(&invented::balance::rim()).to_svg(),
        ),
        (
            "holes in the cut",
            picture::cut_works_drawing(&invented::balance::cuts()).to_svg(),
        ),
        (
            "shot",
            picture::mould::mould(&invented::mould::mould().body, &invented::mould::view()),
        ),
        (
            "weighed halves",
            picture::mould::weights(&invented::mould::weights().body),
        ),
        ("hold study", study(StudyKind::Hold)),
        ("freeze study", study(StudyKind::Freeze)),
        ("fill study", study(StudyKind::Fill)),
        ("cooling study", study(StudyKind::Cooling)),
        ("window", study(StudyKind::Window)),
    ]
}

fn study(kind: StudyKind) -> String {
    picture::mould::study(&invented::mould::study(kind).body)
}

/// The texts of a picture, without their markup.
fn texts(svg: &str) -> Vec<String> {
    svg.split("<text ")
        .skip(1)
        .filter_map(|rest| {
            rest.split_once('>')?
                .1
                .split_once("</text>")
                .map(|(text, _)| text.to_owned())
        })
        .collect()
}

#[test]
fn law_every_picture_has_a_title_a_description_and_readable_type() {
    for (name, svg) in all() {
        assert!(
            svg.contains("role=\"img\"") && svg.contains("<title>") && svg.contains("<desc>"),
            "{name}"
        );
        for size in svg.split("font-size=\"").skip(1) {
            let size: f64 = size
                .split_once('"')
                .and_then(|(s, _)| s.parse().ok())
                .unwrap();
            assert!(size >= SMALLEST, "{name}: {size}");
        }
    }
}

#[test]
fn law_every_number_in_a_picture_has_its_unit_or_its_noun() {
    // What may follow a number, and what may stand before one that names something.
    const AFTER: [&str; 18] = [
        "s", "MPa", "°C", "µm", "±", "pieces", "g", "mm", "%", "g·mm", "g·mm²", "set", "sets",
        "part", "parts", "halves", "rims", "together",
    ];
    const BEFORE: [&str; 6] = ["cavity", "insert", "pack", "set", "Number", "(place"];
    let is_number = |word: &str| {
        let bare = word.trim_start_matches(['+', '−']);
        bare.starts_with(|c: char| c.is_ascii_digit())
    };
    for (name, svg) in all() {
        let texts = texts(&svg);
        let unit_said = texts.iter().any(|text| {
            text == "g"
                || text.ends_with(", g")
                || text.contains(", in ")
                || text.starts_with("in g·mm")
        });
        // Alone beside a hole stands its number on the list.
        let in_lists = ["rim", "correction"].contains(&name);
        for text in &texts {
            let words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
            for n in (0..words.len()).filter(|n| is_number(words[*n])) {
                let followed = words.get(n + 1).is_some_and(|next| AFTER.contains(next));
                let named = n > 0 && BEFORE.contains(&words[n - 1]);
                // A number alone is a tick of a scale whose title bears the unit; `240 dressed halves`.
                let tick = words.len() == 1 && (unit_said || in_lists);
                let angle = words[n].ends_with('°');
                // Holes alike are drawn once, under all their numbers.
                let alike = words[0] == "Number";
                let counted = words.get(n + 2).is_some_and(|next| AFTER.contains(next));
                assert!(
                    followed || named || tick || counted || angle || alike,
                    "{name}: `{text}`"
                );
            }
        }
    }
}

#[test]
fn law_nothing_runs_out_of_the_picture() {
    for (name, svg) in all() {
        let width = number(&svg, "viewBox=\"0 0 ").unwrap();
        for text in svg
            .split("<text ")
            .skip(1)
            .filter(|text| !text.contains("rotate("))
        {
            let (x, wide) = (
                number(text, "x=\"").unwrap(),
                number(text, "textLength=\"").unwrap(),
            );
            let (left, right) = match () {
                () if text.contains("text-anchor=\"middle\"") => (x - wide / 2.0, x + wide / 2.0),
                () if text.contains("text-anchor=\"end\"") => (x - wide, x),
                () => (x, x + wide),
            };
            assert!(
                left >= 0.0 && right <= width,
                "{name}: {left} to {right}: {text}"
            );
        }
    }
}

fn number(text: &str, before: &str) -> Option<f64> {
    let rest = text.split_once(before)?.1;
    let end = rest
        .find(|c: char| !c.is_ascii_digit() && c != '.' && c != '-')
        .unwrap_or(rest.len());
    rest[..end].parse().ok()
}

#[test]
fn law_a_hostile_name_stays_text() {
    let mut section = invented::section().body;
    section.name = invented::HOSTILE.to_owned();
    section.pieces[0].name = invented::HOSTILE.to_owned();
    section.cut.outlines[0].name = invented::HOSTILE.to_owned();
    section.cut.outlines[1].path = "M 0 0 \"><script>".to_owned();
    let mut families = spread::of_measuring(&invented::measuring().body);
    families[0].rows[0].label = invented::HOSTILE.to_owned();
    let pictures = [
        picture::cut(&section),
        picture::shares(&section),
        picture::distribution(&families),
    ];
    for svg in pictures {
        assert!(svg.contains("&lt;script&gt;"), "the name is shown");
        assert!(!svg.contains("<script") && !svg.contains('\u{1b}'));
    }
}

#[test]
fn law_the_same_answer_gives_the_same_picture() {
    assert_eq!(all(), all());
}

#[test]
fn law_strange_numbers_are_drawn_without_harm() {
    let mut section = invented::section().body;
    (section.cut.reach_mm, section.cut.radius_mm) = (f64::NAN, 0.0);
    section.centre_of_mass_mm = f64::INFINITY;
    let svg = picture::cut(&section);
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
    let mut pairing = invented::dressed(3).body;
    pairing.sets[0].left_mass_g = Some(f64::NAN);
    pairing.limits.clear();
    let svg = picture::pairing(&pairing);
    assert!(!svg.contains("NaN") && svg.contains("sets (larger"));
}

#[test]
fn law_one_mass_or_one_set_still_makes_a_picture() {
    let mut one = invented::dressed(1).body;
    one.sets[0].right_mass_g = one.sets[0].left_mass_g;
    let svg = picture::pairing(&one);
    assert!(svg.contains("1 set"));
    let mut families = spread::of_pairing(&one);
    families[0].rows[0].counts = vec![1];
    families[0].rows[0].sd_mass_g = None;
    assert!(picture::distribution(&families).contains("1 part"));
}
