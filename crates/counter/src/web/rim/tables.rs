//! The numbers of the rim as tables, its forms, and its pictures.

use maud::{Markup, html};
use whirlwright_paper::{rounding, words};
use whirlwright_workshop::fitting::FitBody;
use whirlwright_workshop::part::Range;
use whirlwright_workshop::turning::{RecutBody, RimBody};

use super::Asked;
use crate::web::layout::link;

/// Two questions: a rim that was weighed, a pair that was measured.
pub fn forms(file: &str, asked: &Asked) -> Markup {
    html! {
        form.limits.noprint method="get" action=(link(&["rim", file, "recut"])) {
            (field("mass", "A rim weighs", "18.17 g", &asked.mass))
            button.main type="submit" { "How much comes off?" }
        }
        form.limits.noprint method="get" action=(link(&["rim", file, "pair"])) data-busy="Reckoning …" {
            (field("bore", "One rim's bore", "48.003 mm", &asked.bore))
            (field("spigot", "One half's spigot", "48.095 mm", &asked.spigot))
            button.main type="submit" { "Does this pair hold?" }
        }
    }
}

fn field(name: &str, label: &str, example: &str, typed: &str) -> Markup {
    html! {
        label { (label) span.hint { "such as " (example) }
            input type="text" name=(name) value=(typed) required autocomplete="off"; }
    }
}

/// What each turned dimension does and may be off by.
pub fn dimensions(body: &RimBody) -> Markup {
    let mm = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |v| rounding::number(v, 3));
    html! {
        div.wide { table {
            thead { tr { th { "Dimension" } th.n { "Size, mm" } th.n { "0.01 mm more: g" } th.n { "g·mm²" } th.n { "run-out 0.01: g·mm" }
                th.n { "Worst case, ± mm" } th { "Grade" } th.n { "Statistical, ± mm" } th { "Grade" } th.n { "Share, %" } } }
            tbody { @for d in &body.dimensions { tr {
                td { (d.name) @if d.datum { " (datum)" } @if d.fit { " (fit)" } }
                td.n { (mm(d.size_mm)) }
                td.n { (rounding::signed(0.01 * d.mass_g_per_mm, 4)) }
                td.n { (rounding::signed(0.01 * d.polar_g_mm2_per_mm, 1)) }
                td.n { (rounding::number(d.static_g_mm, 3)) }
                td.n { (mm(d.worst_mm)) } td { (d.worst_grade.as_deref().unwrap_or("–")) }
                td.n { (mm(d.statistical_mm)) } td { (d.statistical_grade.as_deref().unwrap_or("–")) }
                td.n { @if d.datum { "–" } @else { (rounding::number(100.0 * d.mass_share, 0)) } }
            } } }
        } }
    }
}

/// What may come off a rim, each cut by itself.
pub fn cuts(body: &RecutBody) -> Markup {
    html! {
        @if !body.cuts.is_empty() { div.wide { table.large {
            thead { tr { th { "" } th { "Take off" } th.n { "mm" } th { "" } th.n { "Size after, mm" } th.n { "Mass after, g" } th.n { "Lands inside, %" } } }
            tbody { @for cut in &body.cuts { tr {
                td { @if cut.allowed { "✓" } @else { "■ not" } }
                td { (cut.name) } td.n { (rounding::number(cut.set_mm, 3)) } td { (words::on_the_diameter(cut.surface)) }
                td.n { @if let Some(size) = cut.size_after_mm { (rounding::number(size, 3)) } @else { "–" } }
                td.n { (rounding::number(cut.mass_after_g, 2)) }
                td.n { (rounding::number(100.0 * cut.within_probability, 1)) }
            } } }
        } } }
        @if let Some(steps) = &body.two_steps { p.words { (steps.words) } }
    }
}

/// The few numbers of a fit that are looked for first.
pub fn fit(body: &FitBody) -> Markup {
    let press = body.press_by_n();
    html! {
        dl.facts {
            div { dt { "interference" } dd { (ends(body.interference_um, 0)) " µm" } }
            @if let Some(section) = &body.section {
                div { dt { "pressure as drawn" } dd { (ends(section.mean_pressure_mpa, 2)) " MPa" } }
            }
            div { dt { "push-on force" } dd { (ends(press, 0)) " N" } }
            div { dt { "heat to slip on" } dd { (rounding::places(body.slip_on_warmer_k, 0, "K")) } }
            div { dt { "pairs loose" } dd { (rounding::number(100.0 * body.chance.loose_probability, 2)) " %" } }
            div { dt { "over-stressed" } dd { (rounding::number(100.0 * body.chance.over_stressed_probability, 2)) " %" } }
        }
        h3 { "Conditions, the one that decides first" }
        ul.conditions { @for line in &body.conditions { li { span aria-hidden="true" { (if line.kept { "✓ " } else { "■ " }) } (line.words) } }
        }
    }
}

/// The moments of a fit's life.
pub fn states(body: &FitBody) -> Markup {
    html! {
        h3 { "Over its life, by two plain rings" }
        div.wide { table {
            thead { tr { th { "Moment" } th.n { "°C" } th.n { "Interference, µm" } th.n { "Pressure, MPa" } th.n { "Rim, MPa" } th.n { "Half, MPa" } th.n { "Torque, N·mm" } } }
            tbody { @for s in &body.states { tr {
                td { (s.name) } td.n { (rounding::number(s.temperature_degc, 0)) } td.n { (ends(s.interference_um, 0)) }
                td.n { (ends(s.pressure_mpa, 2)) } td.n { (ends(s.ring_hoop_mpa, 1)) } td.n { (ends(s.body_hoop_mpa, 1)) } td.n { (ends(s.torque_n_mm, 0)) }
            } } }
        } }
    }
}

fn ends(range: Range, places: usize) -> String {
    let low = rounding::number(range.low, places);
    if range.is_one() {
        return low;
    }
    format!("{low} … {}", rounding::number(range.high, places))
}
