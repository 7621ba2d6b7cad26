//! Speed against time, and under it what slows the piece, one loss upon the other.

use kurbo::Rect;
use whirlwright_workshop::spin::{CurvePoint, SpinBody};

use crate::ink::{Drawing, Style};
use crate::palette::INK;
use crate::picture::plot::{Band, Layer, Legend, Limit, LinePlot, Look, Scale, Series, Stack};
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

const HEAD: f64 = 40.0;
const FIELD: f64 = 270.0;
/// Between the upper field's legend and the lower field's heading.
const BETWEEN: f64 = 14.0;

/// The forecast as SVG.
#[must_use]
pub fn spin(body: &SpinBody) -> String {
    spin_drawing(body).to_svg()
}

/// The forecast: speed above, torques below, over one scale of time.
#[must_use]
pub fn spin_drawing(body: &SpinBody) -> Drawing {
    let (speed, losses) = (speed(body), losses(body));
    let (over, under) = (speed.legend(), losses.legend());
    let width = WIDTH - 24.0;
    let second = HEAD + FIELD + over.height(width) + BETWEEN;
    let foot = second + HEAD + FIELD;
    let height = foot + under.height(width) + 10.0;
    let title = format!("{}: how long it sleeps and what slows it", body.name);
    let mut drawing = Drawing::new(WIDTH, height, &title, &description(body));
    field(&mut drawing, 0.0, &speed.title, &over, |d, room| {
        speed.draw_in(d, room)
    });
    field(&mut drawing, second, &losses.title, &under, |d, room| {
        losses.draw_in(d, room)
    });
    drawing
}

/// The same as two pictures, for sheets, where each finds its own room.
#[must_use]
pub fn spin_drawings(body: &SpinBody) -> [Drawing; 2] {
    [speed(body).drawing(), losses(body).drawing()]
}

fn field(
    drawing: &mut Drawing,
    top: f64,
    title: &str,
    legend: &Legend,
    draw: impl FnOnce(&mut Drawing, Rect),
) {
    drawing.text(12.0, top + 26.0, Style::bold(LABEL + 2.0, INK), title);
    let foot = top + HEAD + FIELD;
    draw(drawing, Rect::new(0.0, top + HEAD, WIDTH, foot));
    legend.draw(drawing, 12.0, foot, WIDTH - 24.0);
}

fn time(body: &SpinBody) -> Scale {
    let ends = [0.0, body.sleep_s.high];
    let curve = body.curve.iter().map(|point| point.time_s);
    Scale::over("time from the throw, in s", curve.chain(ends)).with_head_room(0.03)
}

fn speed(body: &SpinBody) -> LinePlot {
    let points: Vec<(f64, f64)> = body.curve.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let speeds = points.iter().map(|(_, speed)| *speed);
    let up = Scale::over("speed, in rpm", speeds)
        .from_nought()
        .with_head_room(0.06);
    let top = up.to;
    let mut plot = LinePlot::new("Speed after the throw", time(body), up);
    let (low, high) = (body.sleep_s.low, body.sleep_s.high);
    let said = format!(
        "the sleep ends here in nine throws of ten: {} to {}",
        rounding::places(low, 0, "s"),
        rounding::places(high, 0, "s")
    );
    plot.bands.push(Band {
        name: said,
        low: vec![(low, 0.0), (high, 0.0)],
        high: vec![(low, top), (high, top)],
        look: Look(2),
    });
    plot.series.push(Series::line(
        "speed, everything as likely as can be",
        0,
        points,
    ));
    let ends = body.ends_at_rpm.likely;
    plot.limits.push(Limit {
        words: format!("no return below {}", rounding::places(ends, 0, "rpm")),
        at: ends,
        upright: false,
    });
    plot.limits.push(Limit {
        words: format!("sleeps {}", rounding::places(body.sleep_s.likely, 0, "s")),
        at: body.sleep_s.likely,
        upright: true,
    });
    plot
}

/// What slows the piece, with the reading of it out of a moment of the curve.
type Torque = (&'static str, fn(&CurvePoint) -> f64);

const TORQUES: [Torque; 5] = [
    ("bearing", |p| p.bearing_un_m),
    ("air on the faces", |p| p.faces_un_m),
    ("air on the rim", |p| p.rim_un_m),
    ("air in the gap", |p| p.gap_un_m),
    ("string rub", |p| p.string_un_m),
];

fn losses(body: &SpinBody) -> Stack {
    let layers = TORQUES.iter().enumerate().map(|(n, (name, torque))| Layer {
        name: (*name).to_owned(),
        sizes: body.curve.iter().map(torque).collect(),
        look: Look(n),
    });
    // What takes nothing needs no entry.
    let takes = |layer: &Layer| layer.sizes.iter().any(|size| *size > 0.0);
    Stack {
        title: "What slows it".to_owned(),
        description: String::new(),
        across: time(body),
        up_label: "torque, in µN·m".to_owned(),
        places: body.curve.iter().map(|point| point.time_s).collect(),
        layers: layers.filter(takes).collect(),
        height: FIELD,
    }
}

fn description(body: &SpinBody) -> String {
    let seconds = |value: f64| rounding::places(value, 0, "s");
    let mut said = format!(
        "It sleeps {} ({} to {}), from {} down to {}.",
        seconds(body.sleep_s.likely),
        seconds(body.sleep_s.low),
        seconds(body.sleep_s.high),
        rounding::places(body.speed_rpm.likely, 0, "rpm"),
        rounding::places(body.ends_at_rpm.likely, 0, "rpm"),
    );
    for loss in &body.losses {
        let share = rounding::places(100.0 * loss.share, 0, "%");
        said.push_str(&format!(" {}: {share} of the energy.", loss.name));
    }
    said
}
