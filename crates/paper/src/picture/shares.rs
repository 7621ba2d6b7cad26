//! Where the mass sits and where the inertia comes from: two bars a piece.

use kurbo::{Rect, Shape as _};
use whirlwright_workshop::design::SectionBody;

use super::axis::Axis;
use super::pieces::{Piece, pieces};
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL, RULE};
use crate::rounding;

const LEFT: f64 = 150.0;
const RIGHT: f64 = WIDTH - 210.0;
const BAR: f64 = 17.0;
const EACH: f64 = 2.0 * BAR + 16.0;
const TOP: f64 = 44.0;

/// Shares of mass and inertia as SVG.
#[must_use]
pub fn shares(body: &SectionBody) -> String {
    shares_drawing(body).to_svg()
}

/// Shares of mass and inertia.
#[must_use]
pub fn shares_drawing(body: &SectionBody) -> Drawing {
    let mut pieces = pieces(body);
    pieces.sort_by(|a, b| b.inertia_share.total_cmp(&a.inertia_share));
    let height = TOP + pieces.len() as f64 * EACH + 10.0;
    let title = format!("Shares of mass and inertia of {}", body.name);
    let mut drawing = Drawing::new(WIDTH, height, &title, &description(&pieces));
    let heading = "Share of the mass, share of the inertia about the axle";
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), heading);
    let axis = Axis::new(0.0, 1.0, LEFT, RIGHT);
    for (n, piece) in pieces.iter().enumerate() {
        draw_piece(&mut drawing, &axis, piece, TOP + n as f64 * EACH);
    }
    let end = height - 10.0;
    drawing.line((LEFT, TOP - 4.0), (LEFT, end), Stroke::line(RULE, 1.0));
    drawing
}

fn description(pieces: &[Piece]) -> String {
    let said: Vec<String> = pieces
        .iter()
        .map(|piece| {
            let (mass, inertia) = (percent(piece.mass_share), percent(piece.inertia_share));
            format!(
                "{}: {mass} of the mass, {inertia} of the inertia.",
                piece.name
            )
        })
        .collect();
    said.join(" ")
}

fn percent(share: f64) -> String {
    rounding::places(share * 100.0, 1, "%")
}

fn draw_piece(drawing: &mut Drawing, axis: &Axis, piece: &Piece, top: f64) {
    let name = font::fit(&piece.name, LABEL, Weight::Bold, LEFT - 30.0);
    drawing.text(12.0, top + BAR + 6.0, Style::bold(LABEL, INK), &name);
    let style = Style::plain(LABEL - 1.0, PENCIL);
    for (n, (share, what)) in [
        (piece.mass_share, "of the mass"),
        (piece.inertia_share, "of the inertia"),
    ]
    .into_iter()
    .enumerate()
    {
        let y = top + n as f64 * (BAR + 3.0);
        let right = axis.at(share.clamp(0.0, 1.0));
        let bar = Rect::new(LEFT, y, right.max(LEFT + 1.0), y + BAR);
        let colour = CATEGORIES[n];
        drawing.fill(bar, colour, 0.35);
        if n == 1 {
            let hatch = Hatch {
                angle_deg: 45.0,
                spacing: 6.0,
            };
            let lines = hatch::lines(&bar.to_path(0.1), hatch);
            drawing.path(lines, None, Some(Stroke::line(colour, 1.0)));
        }
        drawing.path(bar.to_path(0.1), None, Some(Stroke::line(INK, 0.9)));
        drawing.text(
            bar.x1 + 8.0,
            y + 13.0,
            style,
            &format!("{} {what}", percent(share)),
        );
    }
}
