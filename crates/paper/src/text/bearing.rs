//! The bearing, in the terminal.

use whirlwright_workshop::bearing::BearingBody;
use whirlwright_workshop::part::{Answer, Range};

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// Frequencies, loads, rating and friction of a bearing.
#[must_use]
pub fn bearing(answer: &Answer<BearingBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    whole(&mut page, body);
    lines(&mut page, body);
    loads(&mut page, body);
    friction(&mut page, body);
    page.end(answer)
}

/// A likely number with its low and high ends.
fn range(range: Range, unit: &str) -> String {
    if range.is_one() {
        return rounding::figures(range.likely, 3, unit);
    }
    format!(
        "{} ({} to {})",
        rounding::figures(range.likely, 3, unit),
        rounding::figures(range.low, 2, ""),
        rounding::figures(range.high, 2, "")
    )
}

fn whole(page: &mut Page, body: &BearingBody) {
    page.heading("Bearing");
    page.row(
        "size",
        &format!(
            "{} × {} × {} mm",
            body.bore_mm, body.outside_mm, body.width_mm
        ),
    );
    page.row(
        "balls",
        &format!(
            "{} of {} mm; at most {} would fit",
            body.balls, body.ball_mm, body.balls_at_most
        ),
    );
    page.row(
        "static rating",
        &rounding::figures(body.static_rating_n, 3, "N"),
    );
    page.row("lubricant", &body.lubricant);
    page.row(
        "viscosity",
        &format!(
            "{} at {}",
            range(body.viscosity_cst, "cSt"),
            rounding::places(body.temperature_degc, 0, "°C")
        ),
    );
    page.row("friction torque", &range(body.torque_un_m, "µN·m"));
    page.row("of this: viscous", &range(body.viscous_torque_un_m, "µN·m"));
    page.row("of this: load", &range(body.load_torque_un_m, "µN·m"));
    page.row("of this: dry", &range(body.dry_torque_un_m, "µN·m"));
}

fn lines(page: &mut Page, body: &BearingBody) {
    page.heading(&format!(
        "How often it comes by at {}",
        rounding::places(body.speed_rpm, 0, "rpm")
    ));
    let mut table = Table::new(&["what", ">times a turn", ">Hz"]);
    for line in &body.lines {
        table.row(vec![
            line.name.clone(),
            rounding::number(line.order, 4),
            rounding::number(line.frequency_hz, 1),
        ]);
    }
    table.write(page);
}

fn loads(page: &mut Page, body: &BearingBody) {
    page.heading("What the loads do");
    let mut table = Table::new(&[
        "when",
        ">load N",
        ">inner MPa",
        ">outer MPa",
        ">static safety",
    ]);
    for load in &body.loads {
        table.row(vec![
            load.name.clone(),
            rounding::figures(load.load_n, 3, ""),
            rounding::number(load.inner.pressure_mpa, 0),
            rounding::number(load.outer.pressure_mpa, 0),
            rounding::number(load.static_safety_ratio, 1),
        ]);
    }
    table.write(page);
}

fn friction(page: &mut Page, body: &BearingBody) {
    page.heading(&format!(
        "Friction torque at {}, µN·m",
        rounding::places(body.speed_rpm, 0, "rpm")
    ));
    let mut table = Table::new(&["lubricant", "what it is", ">low", ">likely", ">high"]);
    for line in &body.lubricants {
        table.row(vec![
            line.lubricant.clone(),
            line.words.clone(),
            rounding::figures(line.torque_un_m.low, 2, ""),
            rounding::figures(line.torque_un_m.likely, 2, ""),
            rounding::figures(line.torque_un_m.high, 2, ""),
        ]);
    }
    table.write(page);
}
