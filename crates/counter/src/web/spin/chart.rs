//! Interactive plots of a spin: speed against time, and what slows it, one loss upon the other.

use maud::{Markup, html};
use plotly::common::{DashType, Fill, Line, Marker, Mode};
use plotly::{Plot, Scatter};
use whirlwright_paper::ink::Drawing;
use whirlwright_paper::{palette, rounding};
use whirlwright_workshop::spin::recording::RecordingBody;
use whirlwright_workshop::spin::{CompareBody, CurvePoint, LogBody, SpinBody};

use crate::web::chart::axes;
use crate::web::layout;

/// A line of a plot: its name, its points, and whether they are readings.
pub struct Trace<'a> {
    pub name: &'a str,
    pub points: Vec<(f64, f64)>,
    pub dots: bool,
}

/// Most points of a line that are sent: more than a screen has columns.
const MOST_POINTS: usize = 2000;

/// Lines and readings over one scale of time.
pub fn lines(
    id: &str,
    says: &str,
    labels: (&str, &str),
    traces: &[Trace<'_>],
    table: &Markup,
) -> Markup {
    const DASHES: [DashType; 4] = [
        DashType::Solid,
        DashType::Dash,
        DashType::Dot,
        DashType::LongDash,
    ];
    let mut plot = Plot::new();
    for (n, trace) in traces.iter().enumerate() {
        let every = trace.points.len().div_ceil(MOST_POINTS).max(1);
        let (across, up): (Vec<f64>, Vec<f64>) =
            trace.points.iter().step_by(every).copied().unzip();
        let colour = palette::category(n).hex();
        let drawn = Scatter::new(across, up).name(trace.name);
        let drawn = if trace.dots {
            drawn
                .mode(Mode::Markers)
                .marker(Marker::new().size(5).color(colour))
        } else {
            let dash = DASHES[n % DASHES.len()].clone();
            drawn
                .mode(Mode::Lines)
                .line(Line::new().width(2.5).dash(dash).color(colour))
        };
        plot.add_trace(drawn);
    }
    plot.set_layout(axes(labels.0, labels.1));
    layout::plot(id, says, &plot.to_json(), table)
}

/// Speed against time of a forecast.
pub fn speed(id: &str, body: &SpinBody) -> Markup {
    let points = body.curve.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let ends = body.ends_at_rpm.likely;
    let trace = |name, points| Trace {
        name,
        points,
        dots: false,
    };
    let traces = [
        trace("speed, as likely as can be", points),
        trace(
            "no return below",
            vec![(0.0, ends), (body.sleep_s.high, ends)],
        ),
        trace(
            "where nine sleeps of ten end",
            vec![(body.sleep_s.low, ends), (body.sleep_s.high, ends)],
        ),
    ];
    let says = format!(
        "Speed after the throw: it sleeps {}, nine times of ten between {} and {}",
        rounding::places(body.sleep_s.likely, 0, "s"),
        rounding::places(body.sleep_s.low, 0, "s"),
        rounding::places(body.sleep_s.high, 0, "s")
    );
    lines(
        id,
        &says,
        ("time from the throw in s", "speed in rpm"),
        &traces,
        &curve_table(body),
    )
}

/// What slows the piece, with the reading of it out of a moment of the curve.
type Torque = (&'static str, fn(&CurvePoint) -> f64);

/// What slows it.
pub fn losses(id: &str, body: &SpinBody) -> Markup {
    let layers: [Torque; 5] = [
        ("bearing", |p| p.bearing_un_m),
        ("air on the faces", |p| p.faces_un_m),
        ("air on the rim", |p| p.rim_un_m),
        ("air in the gap", |p| p.gap_un_m),
        ("string rub", |p| p.string_un_m),
    ];
    let times: Vec<f64> = body.curve.iter().map(|p| p.time_s).collect();
    let mut plot = Plot::new();
    for (n, (name, torque)) in layers.into_iter().enumerate() {
        let torques: Vec<f64> = body.curve.iter().map(torque).collect();
        if torques.iter().all(|torque| *torque == 0.0) {
            continue;
        }
        let line = Line::new().width(1.0).color(palette::category(n).hex());
        let area = Scatter::new(times.clone(), torques)
            .name(name)
            .mode(Mode::Lines)
            .line(line);
        plot.add_trace(area.stack_group("torque").fill(Fill::ToNextY));
    }
    plot.set_layout(axes("time from the throw in s", "torque in µN·m"));
    layout::plot(
        id,
        "What slows it, one loss upon the other",
        &plot.to_json(),
        &curve_table(body),
    )
}

/// A log with its fit.
pub fn log(body: &LogBody) -> Markup {
    let read: Vec<(f64, f64)> = body
        .points
        .iter()
        .map(|p| (p.time_s, p.speed_rpm))
        .collect();
    let fit = body.curve.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let table = points_table(&read);
    let traces = [
        Trace {
            name: "as read",
            points: read,
            dots: true,
        },
        Trace {
            name: "fit",
            points: fit,
            dots: false,
        },
    ];
    lines(
        "log",
        &format!("{}: speed against time, with its fit", body.log),
        TIME_AND_SPEED,
        &traces,
        &table,
    )
}

/// The speed of a recording.
pub fn track(body: &RecordingBody) -> Markup {
    let points: Vec<(f64, f64)> = body.track.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let table = points_table(&points);
    let traces = [Trace {
        name: "speed as heard",
        points,
        dots: false,
    }];
    lines(
        "track",
        &format!("{}: speed against time", body.name),
        TIME_AND_SPEED,
        &traces,
        &table,
    )
}

/// Throws beside each other.
pub fn compared(body: &CompareBody) -> Markup {
    let points = |n: usize| {
        body.logs[n]
            .curve
            .iter()
            .map(|p| (p.time_s, p.speed_rpm))
            .collect()
    };
    let traces: Vec<Trace<'_>> = (0..body.logs.len())
        .map(|n| Trace {
            name: &body.logs[n].log,
            points: points(n),
            dots: false,
        })
        .collect();
    let table = html! {
        div.wide { table {
            thead { tr { th { "Log" } @for v in body.logs.first().map(|l| l.values.as_slice()).unwrap_or_default() { th.n { (v.name) ", " (v.unit) } } } }
            tbody { @for log in &body.logs { tr {
                td { (log.log) } @for v in &log.values { td.n { (rounding::with_uncertainty(v.value, v.sd, "")) } }
            } } }
        } }
    };
    lines(
        "compare",
        "The fitted falls, from the speed that all have",
        TIME_AND_SPEED,
        &traces,
        &table,
    )
}

const TIME_AND_SPEED: (&str, &str) = ("time in s", "speed in rpm");

/// Some of many points as a table.
fn points_table(points: &[(f64, f64)]) -> Markup {
    let every = points.len().div_ceil(ROWS).max(1);
    html! {
        div.wide { table {
            thead { tr { th.n { "time, s" } th.n { "speed, rpm" } } }
            tbody { @for (time, speed) in points.iter().step_by(every) { tr {
                td.n { (rounding::number(*time, 1)) } td.n { (rounding::number(*speed, 0)) }
            } } }
        } }
    }
}

/// Rows of a table that stands for a curve.
const ROWS: usize = 24;

/// Some moments of the curve as a table.
fn curve_table(body: &SpinBody) -> Markup {
    let every = body.curve.len().div_ceil(ROWS).max(1);
    html! {
        div.wide { table {
            thead { tr { th.n { "time, s" } th.n { "speed, rpm" } th.n { "bearing, µN·m" } th.n { "faces" } th.n { "rim" } th.n { "gap" } th.n { "string" } } }
            tbody { @for p in body.curve.iter().step_by(every) { tr {
                td.n { (rounding::number(p.time_s, 1)) } td.n { (rounding::number(p.speed_rpm, 0)) }
                @for torque in [p.bearing_un_m, p.faces_un_m, p.rim_un_m, p.gap_un_m, p.string_un_m] {
                    td.n { (rounding::number(torque, 1)) }
                }
            } } }
        } }
    }
}

/// Pictures as they are printed.
pub fn figures(pictures: &[Drawing]) -> Markup {
    html! {
        @for picture in pictures {
            figure {
                img src=(layout::inline_svg(&picture.to_svg())) alt={ (picture.title) ". " (picture.description) };
                figcaption { (picture.title) }
            }
        }
    }
}

/// Labels and values.
pub fn rows(rows: &[(String, String)]) -> Markup {
    html! {
        div.wide { table { tbody { @for (label, value) in rows { tr { th { (label) } td { (value) } } } } } }
    }
}
