//! The recut list: which rims go back to the lathe, and how much of the face comes off.

use whirlwright_workshop::pairing::{PairBody, RecutLine};
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::places::split;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::{rounding, words};

/// What can hurt at the lathe, and what would spoil the rim.
const CAUTIONS: [&str; 3] = [
    "Guard shut. No gloves, rags or long sleeves near a turning spindle; chips with a hook; chuck key out.",
    "A thin ring: keep to the speed limit of the jaws, and let it go round, not oval. Fine aluminium \
     chips burn: no water on burning metal.",
    "Cut the face only. The bore is a fit: it is never cut to correct a mass.",
];

/// The recut list as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn recut_list(answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Recut list");
    layout.verdict(answer);
    let recuts = &answer.body.recuts;
    if recuts.is_empty() {
        layout.paragraph("No rim needs to be cut.");
        return layout.finish();
    }
    layout.paragraph(&total(answer));
    for caution in CAUTIONS {
        layout.caution(caution);
    }
    layout.aside(
        "Let the rim reach 20 °C and be dry and free of chips, weigh it, and write the mass into the \
         box. A rim that misses its mass by more than a step of the scale goes back to the bench, not \
         into its set.",
    );
    write_rows(&mut layout, recuts);
    layout.y += 14.0;
    layout.room(60.0);
    layout.paragraph(&format!("Total: {}", total(answer)));
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

fn total(answer: &Answer<PairBody>) -> String {
    let recuts = &answer.body.recuts;
    let mass: f64 = recuts.iter().map(|cut| cut.mass_g).sum();
    let deepest = recuts.iter().map(|cut| cut.face_mm).fold(0.0, f64::max);
    format!(
        "{}, {} taken off in all; the deepest cut is {} of face.",
        rounding::count(recuts.len(), "rim", "rims"),
        rounding::places(mass, 2, "g"),
        rounding::places(deepest, 2, "mm")
    )
}

fn write_rows(layout: &mut Layout<'_>, recuts: &[RecutLine]) {
    // The lathe is set in hundredths; a finer step shows all its figures.
    let face = rounding::shared_places(recuts.iter().map(|cut| cut.face_mm), 4).max(2);
    let mass = rounding::shared_places(recuts.iter().map(|cut| cut.mass_before_g), 4).max(2);
    let columns = [
        Column::words("where"),
        Column::words("rim").large(12.0),
        Column::numbers("set"),
        Column::numbers("before, g"),
        Column::numbers("take off, mm").large(16.0),
        Column::numbers("after, g").large(12.0),
        Column::words("weighed after, g"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 27.0,
        tick: true,
        boxed: Some((6, 96.0)),
    };
    let rows: Vec<Vec<String>> = recuts
        .iter()
        .map(|cut| {
            let (tray, spot) = split(&cut.place);
            let place = if cut.place.tray.is_some() {
                format!("{tray}, {spot}")
            } else {
                format!("row {spot}")
            };
            vec![
                place,
                cut.id.clone(),
                cut.set.to_string(),
                rounding::number(cut.mass_before_g, mass),
                rounding::number(cut.face_mm, face),
                rounding::number(cut.mass_after_g, mass),
            ]
        })
        .collect();
    table::write(layout, &plan, &rows);
}
