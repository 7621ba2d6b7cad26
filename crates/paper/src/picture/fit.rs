//! The fit: limits as fields over the nominal size, and pressure over temperature and time.

use kurbo::Rect;
use whirlwright_workshop::fitting::FitBody;
use whirlwright_workshop::part::{Limits, Range};

use super::axis::Axis;
use super::plot::{Band, LinePlot, Look, Scale, Series};
use super::{LABEL, WIDTH};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, Colour, INK, PENCIL};
use crate::{rounding, words};

/// Height of the picture of the fields.
const FIELDS: f64 = 210.0;

/// Fields and pressures, one under the other, as SVG.
#[must_use]
pub fn fit(body: &FitBody) -> String {
    let parts = [
        fields_drawing(body),
        over_temperature_drawing(body),
        over_time_drawing(body),
    ];
    let height = parts.iter().map(|p| p.height).sum();
    let title = format!("{} on {}", body.ring, body.body);
    let said: Vec<&str> = parts.iter().map(|p| p.description.as_str()).collect();
    let mut drawing = Drawing::new(WIDTH, height, &title, &said.join(" "));
    let mut top = 0.0;
    for part in &parts {
        top += drawing.put(0.0, top, WIDTH, part);
    }
    drawing.to_svg()
}

/// The limits of bore and spigot as fields over the nominal size.
#[must_use]
pub fn fields_drawing(body: &FitBody) -> Drawing {
    let nominal = body.hole.nominal_mm;
    let off = |mm: f64| (mm - nominal) * 1000.0;
    let field = |l: &Limits| (off(l.least_mm()), off(l.most_mm()));
    let fields = [
        ("bore", field(&body.hole), &body.hole.text, CATEGORIES[0]),
        (
            "spigot",
            field(&body.shaft),
            &body.shaft.text,
            CATEGORIES[1],
        ),
    ];
    let description = format!(
        "Over the nominal size of {nominal} mm the bore lies from {} to {} µm, the spigot from {} to {} µm.",
        rounding::number(fields[0].1.0, 1),
        rounding::number(fields[0].1.1, 1),
        rounding::number(fields[1].1.0, 1),
        rounding::number(fields[1].1.1, 1)
    );
    let mut drawing = Drawing::new(WIDTH, FIELDS, "Fields of the fit", &description);
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(
        12.0,
        26.0,
        heading,
        &format!("Fields over {} (µm)", rounding::places(nominal, 3, "mm")),
    );
    let ends = fields.iter().flat_map(|f| [f.1.0, f.1.1]).chain([0.0]);
    let low = ends.clone().fold(f64::INFINITY, f64::min);
    let high = ends.fold(f64::NEG_INFINITY, f64::max);
    let room = 0.12 * (high - low).max(1.0);
    let axis = Axis::new(low - room, high + room, FIELDS - 14.0, 44.0);
    let zero = axis.at(0.0);
    drawing.line((60.0, zero), (WIDTH - 20.0, zero), Stroke::line(INK, 1.4));
    drawing.text(20.0, zero + 4.0, Style::plain(LABEL, INK), "0");
    for (n, (name, (least, most), text, colour)) in fields.iter().enumerate() {
        let left = 120.0 + n as f64 * 240.0;
        box_of(&mut drawing, &axis, left, (*least, *most), *colour);
        let label = format!("{name} {}", words::limits(text));
        let middle = axis.at(0.5 * (least + most));
        // The line of the nominal size is not to run through the words.
        let clear = if (middle - zero).abs() < LABEL {
            zero - LABEL
        } else {
            middle
        };
        drawing.text(left + 116.0, clear + 4.0, Style::plain(LABEL, INK), &label);
    }
    drawing
}

fn box_of(
    drawing: &mut Drawing,
    axis: &Axis,
    left: f64,
    (least, most): (f64, f64),
    colour: Colour,
) {
    let (top, foot) = (axis.at(most), axis.at(least));
    // A size without a field still shows as a line.
    let rect = Rect::new(left, top, left + 100.0, foot.max(top + 1.5));
    drawing.fill(rect, colour, 0.45);
    drawing.frame(rect, Stroke::line(colour, 1.2));
    let small = Style::plain(LABEL - 1.0, PENCIL);
    for (value, at) in [(most, top - 3.0), (least, foot + 10.0)] {
        drawing.anchored(
            left - 6.0,
            at,
            small,
            Anchor::End,
            &rounding::signed(value, 0),
        );
    }
}

fn band(name: &str, look: usize, points: &[(f64, Range)]) -> Band {
    Band {
        name: name.to_owned(),
        low: points.iter().map(|(x, r)| (*x, r.low)).collect(),
        high: points.iter().map(|(x, r)| (*x, r.high)).collect(),
        look: Look(look),
    }
}

fn line(name: &str, look: usize, points: &[(f64, Range)]) -> Series {
    Series::line(
        name,
        look,
        points.iter().map(|(x, r)| (*x, r.likely)).collect(),
    )
}

fn plot(title: &str, label: &str, sets: &[(&str, Vec<(f64, Range)>)]) -> LinePlot {
    let across = sets.iter().flat_map(|(_, p)| p.iter().map(|(x, _)| *x));
    let up = sets.iter().flat_map(|(_, p)| p.iter().map(|(_, r)| r.high));
    let mut plot = LinePlot::new(
        title,
        Scale::over(label, across),
        Scale::over("pressure, MPa", up).from_nought(),
    );
    for (n, (name, points)) in sets.iter().enumerate() {
        plot.series.push(line(name, n, points));
        plot.bands
            .push(band(&format!("{name}: limits and grades"), n, points));
    }
    plot
}

/// Pressure over temperature, new and at the end of its years.
#[must_use]
pub fn over_temperature_drawing(body: &FitBody) -> Drawing {
    let points = &body.over_temperature;
    let new = points
        .iter()
        .map(|p| (p.temperature_degc, p.new_mpa))
        .collect();
    let later = points
        .iter()
        .map(|p| (p.temperature_degc, p.later_mpa))
        .collect();
    let sets = [("new", new), ("at the end of its years", later)];
    let mut plot = plot(
        "Pressure over temperature, two plain rings",
        "temperature, °C",
        &sets,
    );
    plot.description = "Pressure between ring and body over the temperature, for the limits of interference and the range of stiffness; it falls to nothing where they part.".to_owned();
    plot.drawing()
}

/// Pressure over time at the usual temperature; powers of ten of hours across.
#[must_use]
pub fn over_time_drawing(body: &FitBody) -> Drawing {
    let points = &body.over_time;
    let of = |p: &whirlwright_workshop::fitting::TimePoint| (p.hours_count.log10(), p.pressure_mpa);
    let points = points.iter().map(of).collect();
    let label = "time, powers of ten of hours: 0 an hour, 3 six weeks, 4 fourteen months";
    let mut plot = plot(
        "Pressure over time, two plain rings",
        label,
        &[("pressure", points)],
    );
    plot.description =
        "Pressure between ring and body as the resin creeps, at the usual temperature.".to_owned();
    plot.drawing()
}
