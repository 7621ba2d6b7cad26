//! The numbers of balance as tables, and its picture.

use maud::{Markup, PreEscaped, html};
use whirlwright_paper::{picture, rounding};
use whirlwright_workshop::balance::{CorrectBody, LimitBody};

/// A drawing of our own, within the page: its texts are escaped where it is written.
pub fn picture(svg: &str) -> Markup {
    html! { figure.drawing { (PreEscaped(svg)) } }
}

/// The limit in sizes of the bench, and what uses it up.
pub fn limit(body: &LimitBody) -> Markup {
    let sizes = &body.sizes;
    html! {
        dl.facts {
            div { dt { "limit" } dd { (rounding::figures(body.limit_g_mm, 3, "g·mm")) } }
            div { dt { "at one place of the rim" } dd { (rounding::figures(sizes.rim_mass_g, 2, "g")) } }
            div { dt { "seat off centre" } dd { (rounding::figures(sizes.seat_um, 3, "µm")) } }
            @if let Some(wobble) = sizes.wobble_um { div { dt { "rim wobble" } dd { (rounding::figures(wobble, 3, "µm")) } } }
            @for plane in &body.planes { div { dt { "plane " (plane.name) } dd { (rounding::figures(plane.limit_g_mm, 3, "g·mm")) } } }
        }
        (picture(&picture::budget(body)))
        @if !body.budget.is_empty() { div.wide { table {
            thead { tr { th { "Error" } th { "Side" } th { "Tolerance" } th.n { "Static, g·mm" } th.n { "Of the limit" } th.n { "Couple, g·mm²" } } }
            tbody { @for line in &body.budget { tr {
                td { (line.name) } td { (line.side.word()) } td { (line.tolerance_said) }
                td.n { (rounding::number(line.static_g_mm, 3)) }
                td.n { (rounding::places(line.limit_share * 100.0, 0, "%")) }
                td.n { (rounding::number(line.couple_g_mm2, 2)) }
            } } }
        } } }
    }
}

/// What to do where, in large type.
pub fn work(body: &CorrectBody) -> Markup {
    let holes = body
        .work
        .as_ref()
        .map(|work| work.holes.as_slice())
        .unwrap_or_default();
    let some =
        |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |v| rounding::number(v, 2));
    html! {
        @if !holes.is_empty() { div.wide { table.large {
            thead { tr { th.n { "Number" } th { "Plane" } th.n { "Angle, deg" } th.n { "Diameter, mm" } th.n { "Depth, mm" } th.n { "Radius, mm" } } }
            tbody { @for (n, hole) in holes.iter().enumerate() { tr {
                td.n { (n + 1) } td { (hole.plane) } td.n { (rounding::number(hole.angle_deg, 1)) }
                td.n { (some(hole.diameter_mm)) } td.n { (some(hole.depth_mm)) }
                td.n { (rounding::number(hole.at_radius_mm, 2)) }
            } } }
        } } }
    }
}

/// What was found in every plane.
pub fn planes(body: &CorrectBody) -> Markup {
    let some =
        |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |v| rounding::figures(v, 3, ""));
    html! {
        div.wide { table {
            thead { tr { th { "Plane" } th.n { "Found, g·mm" } th.n { "at, deg" } th.n { "± g·mm" } th.n { "Limit, g·mm" } th.n { "Put on, g" } th.n { "at, deg" } th.n { "Left, g·mm" } } }
            tbody { @for plane in &body.planes { tr {
                td { (plane.name) }
                td.n { (rounding::figures(plane.now.mass_distance_g_mm, 3, "")) }
                td.n { (rounding::number(plane.now.angle_deg, 0)) }
                td.n { (some(plane.uncertainty_g_mm)) }
                td.n { (some(plane.limit_g_mm)) }
                td.n { (rounding::figures(plane.correction_mass_g, 3, "")) }
                td.n { (rounding::number(plane.add_at_deg, 0)) }
                td.n { (some(plane.residual.map(|left| left.mass_distance_g_mm))) }
            } } }
        } }
        @for line in &body.acceptance { p { (line.words) } }
        @for doubt in &body.doubts { p.caution { span aria-hidden="true" { "▲ " } (doubt) } }
    }
}
