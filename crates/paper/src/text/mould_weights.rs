//! Weighed halves against the reckoning, in the terminal.

use whirlwright_workshop::moulding::WeightsBody;
use whirlwright_workshop::part::Answer;

use super::page::Page;
use super::table::Table;
use crate::rounding::{number, places, signed, with_uncertainty};

/// What was fitted, the curve, and what each cavity says.
#[must_use]
pub fn mould_weights(answer: &Answer<WeightsBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("Fitted, as a ratio to what was taken");
    for (label, value) in fitted(body) {
        page.row(&label, &value);
    }
    page.heading("Foretold at the job's set-up");
    page.row(
        "half",
        &with_uncertainty(body.foretold_mass_g, body.foretold_sd_g, "g"),
    );
    if let Some(freeze) = body.gate_freeze_s {
        page.row(
            "gate frozen",
            &format!("{} after the start", places(freeze, 1, "s")),
        );
    }
    page.row(
        "hold",
        &format!("{} a MPa", places(body.mass_per_mpa_g, 4, "g")),
    );
    page.heading("Cavities against the middle of them");
    let mut table = Table::new(&CAVITY_HEADS);
    for row in cavities(body) {
        table.row(row);
    }
    table.write(&mut page);
    for cavity in &body.cavities {
        page.point(&cavity.words);
    }
    page.heading("The middle of the cavities, g");
    let mut table = Table::new(&CURVE_HEADS);
    for row in curve(body) {
        table.row(row);
    }
    table.write(&mut page);
    page.end(answer)
}

/// The fitted numbers with what they mean.
#[must_use]
pub fn fitted(body: &WeightsBody) -> Vec<(String, String)> {
    body.fitted
        .iter()
        .map(|f| {
            let said = match f.sd_ratio {
                Some(sd) => format!("{}; {}", with_uncertainty(f.found_ratio, sd, ""), f.means),
                None => format!(
                    "about {}: the weighings do not tell it",
                    number(f.found_ratio, 2)
                ),
            };
            (f.name.clone(), said)
        })
        .collect()
}

const CAVITY_HEADS: [&str; 4] = ["cavity", ">gate frozen, %", ">± sd, %", ">shortest hold, %"];

fn cavities(body: &WeightsBody) -> Vec<Vec<String>> {
    body.cavities
        .iter()
        .map(|c| {
            vec![
                c.name.clone(),
                signed(c.settled_percent, 2),
                number(c.settled_sd_percent, 2),
                signed(c.early_percent, 2),
            ]
        })
        .collect()
}

const CURVE_HEADS: [&str; 6] = [
    ">hold, s",
    ">hold, MPa",
    ">weighed",
    ">± sd",
    ">as reckoned before",
    ">with the fit",
];

fn curve(body: &WeightsBody) -> Vec<Vec<String>> {
    body.curve
        .iter()
        .map(|p| {
            vec![
                number(p.hold_s, 1),
                number(p.hold_mpa, 0),
                number(p.read_g, 3),
                p.read_sd_g.map_or_else(String::new, |sd| number(sd, 3)),
                number(p.before_g, 3),
                number(p.after_g, 3),
            ]
        })
        .collect()
}
