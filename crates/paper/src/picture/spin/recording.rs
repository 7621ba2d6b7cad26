//! A recording: the speed track over the map of its orders, on one scale of time.

use kurbo::Rect;
use whirlwright_workshop::spin::recording::{OrderMap, RecordingBody};

use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PAPER};
use crate::picture::plot::map::RAMP;
use crate::picture::plot::{Frame, LevelMap, LinePlot, Scale, Series};
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

const HEAD: f64 = 40.0;
const TRACK: f64 = 230.0;
const MAP: f64 = 330.0;

/// A recording as SVG.
#[must_use]
pub fn recording(body: &RecordingBody) -> String {
    recording_drawing(body).to_svg()
}

/// A recording.
#[must_use]
pub fn recording_drawing(body: &RecordingBody) -> Drawing {
    let with_map = !body.map.columns_level.is_empty();
    let second = HEAD + TRACK + 6.0;
    let height = if with_map {
        second + HEAD + MAP + 8.0
    } else {
        second
    };
    let title = format!("{}: speed and orders", body.name);
    let mut drawing = Drawing::new(WIDTH, height, &title, &description(body));
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(12.0, 26.0, heading, "Speed as it was heard");
    // The map keeps room for its ramp at the right; the track above ends where the map does.
    let right = if with_map { WIDTH - RAMP } else { WIDTH };
    track(body).draw_in(&mut drawing, Rect::new(0.0, HEAD, right, HEAD + TRACK));
    if with_map {
        drawing.text(
            12.0,
            second + 26.0,
            heading,
            "What else turns or shakes, by order (times a turn)",
        );
        let room = Rect::new(0.0, second + HEAD, WIDTH, second + HEAD + MAP);
        let frame = map(body).draw_in(&mut drawing, room);
        name_orders(&mut drawing, &frame, body);
    }
    drawing
}

fn time(body: &RecordingBody) -> Scale {
    Scale::over("time, in s", [body.begin_s, body.end_s])
}

fn track(body: &RecordingBody) -> LinePlot {
    let points: Vec<(f64, f64)> = body.track.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let speeds = points.iter().map(|(_, speed)| *speed);
    let up = Scale::over("speed, in rpm", speeds)
        .from_nought()
        .with_head_room(0.06);
    let mut plot = LinePlot::new("Speed as it was heard", time(body), up);
    plot.series.push(Series::line("", 0, points));
    plot
}

fn map(body: &RecordingBody) -> LevelMap {
    let OrderMap {
        times_s,
        first_order,
        step_order,
        columns_level,
    } = &body.map;
    let rows = columns_level.iter().map(Vec::len).max().unwrap_or(0);
    let level = |column: &Vec<f32>, row: usize| column.get(row).map_or(f64::NAN, |l| f64::from(*l));
    // The middles of the columns lie half a column inside the ends of the map.
    let half = match times_s.as_slice() {
        [first, .., last] => (last - first) / (times_s.len() - 1) as f64 / 2.0,
        _ => 0.5,
    };
    let ends = [
        times_s.first().map(|t| t - half),
        times_s.last().map(|t| t + half),
    ];
    let low = first_order - step_order / 2.0;
    LevelMap {
        across: Scale::over("time, in s", ends.into_iter().flatten()),
        up: Scale::over("order, times a turn", [low, low + rows as f64 * step_order]),
        columns: columns_level.len(),
        rows,
        levels: columns_level
            .iter()
            .flat_map(|column| (0..rows).map(move |row| level(column, row)))
            .collect(),
        level_label: "level under the loudest, in dB".to_owned(),
    }
}

/// Writes the names of the orders that were found at the right end of their lines.
fn name_orders(drawing: &mut Drawing, frame: &Frame, body: &RecordingBody) {
    let style = Style::bold(LABEL - 1.0, INK);
    let mut taken: Vec<f64> = Vec::new();
    for line in body.orders.iter().filter(|line| line.found) {
        let y = frame.up.at(line.order);
        let free = taken.iter().all(|other: &f64| (other - y).abs() > 20.0);
        if !free || !frame.holds((frame.across.to, line.order)) {
            continue;
        }
        taken.push(y);
        let words = format!(
            "{}, order {}",
            line.name,
            rounding::figures(line.order, 3, "")
        );
        let (right, wide) = (frame.rect.x1 - 8.0, style.width(&words));
        let scrap = Rect::new(right - wide - 4.0, y - 9.0, right + 4.0, y + 9.0);
        drawing.fill(scrap, PAPER, 0.8);
        drawing.anchored(right, y + 5.0, style, Anchor::End, &words);
        let tick = Stroke::line(INK, 1.6);
        drawing.line((frame.rect.x1, y), (frame.rect.x1 + 5.0, y), tick);
    }
}

fn description(body: &RecordingBody) -> String {
    let mut said = format!(
        "From {} at {} down to {} at {}.",
        rounding::places(body.begin_speed_rpm, 0, "rpm"),
        rounding::places(body.begin_s, 1, "s"),
        rounding::places(body.end_speed_rpm, 0, "rpm"),
        rounding::places(body.end_s, 1, "s")
    );
    for line in body.orders.iter().filter(|line| line.found) {
        said.push_str(&format!(
            " Order {}: {}.",
            rounding::figures(line.order, 3, ""),
            line.name
        ));
    }
    said
}
