//! The form that asks for a pairing: the same wishes as the command's flags.

use maud::{Markup, html};
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::job::PairingWishes;

use super::layout::link;
use crate::desk::wish::Wish;

/// The form, filled with what was asked last, or else with what the job file says.
pub fn limits(lot: &str, wish: &Wish, job: Option<&Job>, four: bool) -> Markup {
    let said = job.map(|j| j.pairing).unwrap_or_default();
    let PairingWishes {
        mass_within_g,
        piece_mass_g,
        piece_within_g,
        ..
    } = said;
    let g = |d: whirlwright_workshop::part::Decimal| format!("{d} g");
    let fit = said
        .fit_window_mm
        .map(|(low, high)| format!("{low} mm .. {high} mm"));
    html! {
        form.limits method="get" action=(link(&["lot", lot, "pairing"])) data-busy="Pairing …" {
            (text("mass_within", "Sides agree within", "0.1 g", &wish.mass_within, mass_within_g.map(g)))
            @if four {
                (text("piece_mass", "Both together weigh", "57.60 g", &wish.piece_mass, piece_mass_g.map(g)))
                (text("piece_within", "… give or take", "0.1 g", &wish.piece_within, piece_within_g.map(g)))
                (text("fit_window", "Spigot less bore", "0.07 mm .. 0.11 mm", &wish.fit_window, fit))
                (tick("recut", "Say which rims to recut", wish.recut))
            } @else {
                (text("unbalance_within", "Unbalance agrees within", "0.3 g·mm", &wish.unbalance_within, said.unbalance_within_g_mm.map(|d| format!("{d} g·mm"))))
                (text("offset_within", "Offset agrees within", "0.03 mm", &wish.offset_within, said.offset_within_mm.map(|d| format!("{d} mm"))))
                (text("clock_marks", "Clock marks of the joint", "none", &wish.clock_marks, None))
                (tick("all", "Pair all, whatever the limits", wish.all))
            }
            (tick("include_doubtful", "Use doubtful readings too", wish.include_doubtful))
            button.main type="submit" { "Pair with these limits" }
        }
    }
}

fn text(
    name: &str,
    label: &str,
    example: &str,
    typed: &Option<String>,
    said: Option<String>,
) -> Markup {
    let value = typed.clone().or(said).unwrap_or_default();
    html! {
        label { (label) span.hint { "such as " (example) }
            input type="text" name=(name) value=(value) autocomplete="off"; }
    }
}

fn tick(name: &str, label: &str, on: bool) -> Markup {
    html! { label.tick { input type="checkbox" name=(name) value="true" checked[on]; (label) } }
}

/// The wishes as hidden fields, so that what is recorded is what was shown.
pub fn hidden(wish: &Wish) -> Markup {
    let fields = match serde_json::to_value(wish) {
        Ok(serde_json::Value::Object(fields)) => fields,
        _ => serde_json::Map::new(),
    };
    html! {
        @for (name, value) in fields {
            @if let Some(text) = value.as_str() { input type="hidden" name=(name) value=(text); }
            @else if value == true { input type="hidden" name=(name) value="true"; }
        }
    }
}
