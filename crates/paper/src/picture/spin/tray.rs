//! A tray of bearings: each as a mark on a scale of torque, with its uncertainty and the limits.

use whirlwright_workshop::spin::{TrayBody, TrayClass, TrayLine};

use crate::font::{self, Weight};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PENCIL, WASH};
use crate::picture::axis::Axis;
use crate::picture::plot::Look;
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

const LEFT: f64 = 130.0;
const RIGHT: f64 = WIDTH - 190.0;
const EACH: f64 = 26.0;
const TOP: f64 = 62.0;

/// A tray as SVG.
#[must_use]
pub fn tray(body: &TrayBody) -> String {
    tray_drawing(body).to_svg()
}

/// A tray, the freest bearing first.
#[must_use]
pub fn tray_drawing(body: &TrayBody) -> Drawing {
    let foot = TOP + EACH * body.bearings.len() as f64;
    let mut drawing = Drawing::new(
        WIDTH,
        foot + 52.0,
        "The tray of bearings",
        &description(body),
    );
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(12.0, 26.0, heading, "Torque of each bearing, in µN·m");
    let most = body
        .bearings
        .iter()
        .filter_map(|line| line.torque_un_m)
        .fold(body.look_at_most_un_m, f64::max);
    let axis = Axis::new(0.0, 1.08 * most, LEFT, RIGHT);
    let style = Style::plain(LABEL - 1.0, PENCIL);
    let (ticks, places) = axis.ticks(6);
    for tick in ticks {
        let x = axis.at(tick);
        drawing.line((x, TOP - 6.0), (x, foot + 4.0), Stroke::line(WASH, 1.0));
        drawing.anchored(
            x,
            foot + 22.0,
            style,
            Anchor::Middle,
            &rounding::number(tick, places),
        );
    }
    drawing.anchored(
        (LEFT + RIGHT) / 2.0,
        foot + 42.0,
        style,
        Anchor::Middle,
        "torque, in µN·m",
    );
    for (at, words) in [
        (body.clean_at_most_un_m, "clean"),
        (body.look_at_most_un_m, "wash beyond"),
    ] {
        let x = axis.at(at);
        drawing.line(
            (x, TOP - 8.0),
            (x, foot + 4.0),
            Stroke::dashed(INK, 1.3, 6.0, 4.0),
        );
        drawing.anchored(x, TOP - 14.0, style, Anchor::Middle, words);
    }
    for (n, line) in body.bearings.iter().enumerate() {
        draw_line(&mut drawing, &axis, line, TOP + EACH * (n as f64 + 0.5));
    }
    drawing
}

fn draw_line(drawing: &mut Drawing, axis: &Axis, line: &TrayLine, y: f64) {
    let name = font::fit(&line.name, LABEL, Weight::Bold, LEFT - 24.0);
    drawing.text(12.0, y + 5.0, Style::bold(LABEL, INK), &name);
    let (look, word) = match line.class {
        TrayClass::Clean => (Look(0), "clean"),
        TrayClass::Look => (Look(3), "look"),
        TrayClass::CleanIt => (Look(5), "wash it"),
    };
    let mut said = match (line.torque_un_m, line.free_spin_s) {
        (Some(torque), _) => {
            let sd = line.torque_sd_un_m.unwrap_or(0.0);
            let ends =
                [torque - 2.0 * sd, torque + 2.0 * sd].map(|at| axis.at(at.max(0.0)).min(RIGHT));
            drawing.line((ends[0], y), (ends[1], y), Stroke::line(INK, 2.0));
            look.mark(drawing, (axis.at(torque), y));
            drawing.note(&line.words);
            format!("{word}, {}", rounding::figures(torque, 2, "µN·m"))
        }
        (None, Some(time)) => format!("{word}, spun {}", rounding::figures(time, 2, "s")),
        (None, None) => word.to_owned(),
    };
    if line.outlier {
        said.push_str(", apart");
    }
    drawing.text(RIGHT + 12.0, y + 5.0, Style::plain(LABEL - 1.0, INK), &said);
}

fn description(body: &TrayBody) -> String {
    format!(
        "{} clean, {} to look at, {} to be washed.",
        rounding::count(body.clean, "bearing", "bearings"),
        body.look,
        body.clean_it
    )
}
