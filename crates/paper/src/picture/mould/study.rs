//! A study: curves of weight over what was changed, or the window of melt and hold pressure.

use kurbo::Rect;
use whirlwright_workshop::moulding::{StudyBody, StudyKind, StudyRun};

use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PAPER};
use crate::picture::plot::{Frame, LevelMap, Limit, LinePlot, Scale, Series};
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

/// A study as SVG.
#[must_use]
pub fn study(body: &StudyBody) -> String {
    study_drawing(body).to_svg()
}

/// A study.
#[must_use]
pub fn study_drawing(body: &StudyBody) -> Drawing {
    match body.study {
        StudyKind::Window => window(body),
        StudyKind::Hold | StudyKind::Freeze => above(
            &curves(body, "Weight", "mass of a half, in g", |r| r.mass_g),
            &curves(body, "Pull toward the gate", "unbalance, in g·mm", |r| {
                r.toward_gate_g_mm
            }),
            body,
        ),
        StudyKind::Fill => above(
            &curves(
                body,
                "Pressure at the switch-over",
                "at the nozzle, in MPa",
                |r| r.switch_mpa,
            ),
            &curves(body, "Weight", "mass of a half, in g", |r| r.mass_g),
            body,
        ),
        StudyKind::Cooling => curves(
            body,
            "Until it may be pushed out",
            "from the end of filling, in s",
            |r| r.cooling_s.unwrap_or(f64::NAN),
        )
        .drawing(),
    }
}

fn above(upper: &LinePlot, lower: &LinePlot, body: &StudyBody) -> Drawing {
    let plots = [upper.drawing(), lower.drawing()];
    let height = plots.iter().map(|p| p.height).sum();
    let mut drawing = Drawing::new(WIDTH, height, &upper.title, &body.why);
    let mut y = 0.0;
    for plot in &plots {
        y += drawing.put(0.0, y, WIDTH, plot);
    }
    drawing
}

fn curves(body: &StudyBody, title: &str, up: &str, of: fn(&StudyRun) -> f64) -> LinePlot {
    let across = Scale::over(&body.along, body.runs.iter().map(|r| r.along_at)).with_room(0.02);
    let up = Scale::over(up, body.runs.iter().map(of)).with_room(0.08);
    let mut plot = LinePlot::new(title, across, up);
    for (n, at) in levels(body, |r| r.across_at).into_iter().enumerate() {
        let mut points: Vec<(f64, f64)> = body
            .runs
            .iter()
            .filter(|r| r.across_at == at)
            .map(|r| (r.along_at, of(r)))
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let name = if body.across.is_empty() {
            String::new()
        } else {
            said(&body.across, at)
        };
        plot.series.push(Series::line(&name, n, points));
    }
    for mark in &body.marks {
        plot.limits.push(Limit {
            words: mark.words.clone(),
            at: mark.along_at,
            upright: true,
        });
    }
    plot.height = 270.0;
    plot
}

/// The name of a curve: `hold pressure, in MPa` at 40 is `hold pressure 40 MPa`.
fn said(across: &str, at: f64) -> String {
    let (what, unit) = across.split_once(", in ").unwrap_or((across, ""));
    format!("{what} {}", rounding::figures(at, 3, unit))
}

/// The values of a key, ascending, each once.
fn levels(body: &StudyBody, of: fn(&StudyRun) -> f64) -> Vec<f64> {
    let mut all: Vec<f64> = body.runs.iter().map(of).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Levels of mass over melt and hold pressure; runs that break a limit are crossed out.
fn window(body: &StudyBody) -> Drawing {
    const HEIGHT: f64 = 400.0;
    let (across, up) = (levels(body, |r| r.along_at), levels(body, |r| r.across_at));
    let run = |x: f64, y: f64| {
        body.runs
            .iter()
            .find(|r| r.along_at == x && r.across_at == y)
    };
    let mass = |r: Option<&StudyRun>| r.map_or(f64::NAN, |r| r.mass_g);
    let pairs = across.iter().flat_map(|x| up.iter().map(move |y| (*x, *y)));
    let map = LevelMap {
        across: cells(&body.along, &across),
        up: cells(&body.across, &up),
        columns: across.len(),
        rows: up.len(),
        levels: pairs.clone().map(|(x, y)| mass(run(x, y))).collect(),
        level_label: "mass of a half, in g".to_owned(),
    };
    let mut drawing = Drawing::new(WIDTH, 40.0 + HEIGHT + 40.0, "The window", &body.why);
    drawing.text(
        12.0,
        26.0,
        Style::bold(LABEL + 2.0, INK),
        "The window of melt and hold pressure",
    );
    let frame = map.draw_in(&mut drawing, Rect::new(0.0, 40.0, WIDTH, 40.0 + HEIGHT));
    let half = (
        frame.rect.width() / across.len().max(1) as f64 / 2.0,
        frame.rect.height() / up.len().max(1) as f64 / 2.0,
    );
    for r in body.runs.iter().filter(|r| !r.breaks.is_empty()) {
        crossed(&mut drawing, &frame, r, half);
    }
    if let Some(take) = &body.take {
        let at = frame.at((take.along_at, take.across_at));
        drawing.disc(at, 9.0, Some((PAPER, 1.0)), Some(Stroke::line(INK, 2.4)));
        drawing.disc(at, 3.0, Some((INK, 1.0)), None);
    }
    let style = Style::plain(LABEL - 1.0, INK);
    let words = "crossed out: breaks a limit; ringed dot: the most even point, to be taken";
    drawing.anchored(
        WIDTH / 2.0,
        40.0 + HEIGHT + 22.0,
        style,
        Anchor::Middle,
        words,
    );
    drawing
}

/// A scale whose cells are centred on the values.
fn cells(label: &str, values: &[f64]) -> Scale {
    let scale = Scale::over(label, values.iter().copied());
    let steps = values.len().saturating_sub(1);
    let half = if steps == 0 {
        0.5
    } else {
        (scale.to - scale.from) / steps as f64 / 2.0
    };
    Scale {
        from: scale.from - half,
        to: scale.to + half,
        ..scale
    }
}

fn crossed(drawing: &mut Drawing, frame: &Frame, run: &StudyRun, half: (f64, f64)) {
    let (x, y) = frame.at((run.along_at, run.across_at));
    let (dx, dy) = (half.0 * 0.45, half.1 * 0.45);
    for sign in [-1.0, 1.0] {
        let ends = ((x - dx, y - sign * dy), (x + dx, y + sign * dy));
        drawing.line(ends.0, ends.1, Stroke::line(PAPER, 3.4));
        drawing.line(ends.0, ends.1, Stroke::line(INK, 1.5));
    }
    drawing.note(&run.breaks);
}
