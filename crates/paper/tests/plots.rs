//! Plots as SVG: every kind of mark, told apart without colour, and nothing harmed by strange numbers.

use whirlwright_paper::ink::Drawing;
use whirlwright_paper::picture::plot::{
    Band, Layer, LevelMap, Limit, LinePlot, Look, Scale, Series, Stack, multiples,
};

fn falling(scale: f64) -> Vec<(f64, f64)> {
    (0..=200)
        .map(f64::from)
        .map(|t| (t, scale * 4000.0 / (1.0 + t / 60.0)))
        .collect()
}

fn lines() -> LinePlot {
    let series = ["made up", "lighter", "heavier", "drier", "wetter", "bare"];
    let points: Vec<_> = (0..6).map(|n| falling(1.0 - 0.1 * f64::from(n))).collect();
    let all = || points.iter().flatten();
    let mut plot = LinePlot::new(
        "Speed against time",
        Scale::over("time, in s", all().map(|p| p.0)),
        Scale::over("speed, in rpm", all().map(|p| p.1)).from_nought(),
    );
    plot.description = "Six invented curves that fall.".to_owned();
    plot.bands.push(Band {
        name: "range of what was made up".to_owned(),
        low: falling(0.95),
        high: falling(1.05),
        look: Look(0),
    });
    for (n, (name, points)) in series.iter().zip(points).enumerate() {
        plot.series.push(Series::line(name, n, points));
    }
    let readings = falling(0.8).into_iter().step_by(5).collect();
    plot.series.push(Series::dots("readings", 6, readings));
    plot.limits.push(Limit {
        words: "ends at 500 rpm".to_owned(),
        at: 500.0,
        upright: false,
    });
    plot.limits.push(Limit {
        words: "180 s".to_owned(),
        at: 180.0,
        upright: true,
    });
    plot
}

fn stack() -> Stack {
    let places: Vec<f64> = (0..=100).map(f64::from).collect();
    let layers = ["bearing", "faces", "rim", "gap", "string"]
        .iter()
        .enumerate();
    Stack {
        title: "Losses against time".to_owned(),
        description: "Five invented losses.".to_owned(),
        across: Scale::over("time, in s", places.iter().copied()),
        up_label: "torque, in µN·m".to_owned(),
        layers: layers
            .map(|(n, name)| Layer {
                name: (*name).to_owned(),
                sizes: places
                    .iter()
                    .map(|t| (n + 1) as f64 * 100.0 / (20.0 + t))
                    .collect(),
                look: Look(n),
            })
            .collect(),
        places,
        height: 300.0,
    }
}

fn map() -> LevelMap {
    let (columns, rows) = (90, 60);
    let level = |column: usize, row: usize| {
        let (t, order) = (column as f64 / 90.0, row as f64 / 10.0);
        -60.0
            + 50.0 * (-30.0 * (order - 1.0).powi(2)).exp()
            + 20.0 * (-40.0 * (order - 4.2 - 0.2 * t).powi(2)).exp()
    };
    LevelMap {
        across: Scale::over("time, in s", [0.0, 90.0]),
        up: Scale::over("order", [0.0, 6.0]),
        columns,
        rows,
        levels: (0..columns * rows)
            .map(|n| level(n / rows, n % rows))
            .collect(),
        level_label: "level, in dB".to_owned(),
    }
}

fn small() -> Drawing {
    let plots: Vec<LinePlot> = [
        "inertia",
        "mass",
        "rim radius",
        "lubricant viscosity in the bearing",
    ]
    .iter()
    .map(|name| {
        let points: Vec<_> = (5..=20)
            .map(|n| (f64::from(n) / 10.0, 100.0 * f64::from(n).sqrt()))
            .collect();
        let mut plot = LinePlot::new(
            name,
            Scale::over("times the design's", points.iter().map(|p| p.0)),
            Scale::over("sleep, in s", points.iter().map(|p| p.1)).from_nought(),
        );
        plot.series.push(Series::line("sleep", 0, points));
        plot
    })
    .collect();
    multiples("Sleep against each lever", "Four invented levers.", &plots)
}

fn all() -> Vec<(&'static str, String)> {
    vec![
        ("lines", lines().drawing().to_svg()),
        ("stack", stack().drawing().to_svg()),
        (
            "map",
            map()
                .drawing("Levels of the orders", "Two invented orders.", 330.0)
                .to_svg(),
        ),
        ("small", small().to_svg()),
    ]
}

#[test]
fn law_every_plot_names_its_scales_and_what_is_in_it() {
    for (name, words) in [
        (
            "lines",
            vec![
                "time, in s",
                "speed, in rpm",
                "readings",
                "lighter",
                "ends at 500 rpm",
            ],
        ),
        ("stack", vec!["torque, in µN·m", "bearing", "string"]),
        ("map", vec!["order", "level, in dB"]),
        (
            "small",
            vec!["times the design's", "sleep, in s", "rim radius"],
        ),
    ] {
        let svg = all()
            .into_iter()
            .find(|(n, _)| *n == name)
            .expect("it is drawn")
            .1;
        for word in words {
            assert!(
                svg.contains(&format!(">{}</text>", word.replace('\'', "&#39;")))
                    || svg.contains(&format!(">{word}</text>")),
                "{name}: {word}"
            );
        }
    }
}

#[test]
fn law_series_are_told_apart_without_colour() {
    let svg = lines().drawing().to_svg();
    let grey = |svg: &str| {
        let mut out = String::new();
        for (n, piece) in svg.split('#').enumerate() {
            out += if n == 0 {
                piece
            } else {
                piece.get(6..).unwrap_or_default()
            };
        }
        out
    };
    // The swatches of the legend, each a line or marks before its words: no two are drawn alike.
    let looks: Vec<String> = (0..6)
        .map(|n| {
            let mut drawing = Drawing::new(40.0, 20.0, "", "");
            drawing.line((0.0, 10.0), (40.0, 10.0), Look(n).stroke());
            Look(n).mark(&mut drawing, (20.0, 10.0));
            grey(&drawing.to_svg())
        })
        .collect();
    for (n, look) in looks.iter().enumerate() {
        assert!(
            looks.iter().skip(n + 1).all(|other| other != look),
            "look {n}"
        );
    }
    assert!(svg.contains("stroke-dasharray"));
}

#[test]
fn law_strange_numbers_are_drawn_without_harm() {
    let mut plot = lines();
    plot.series[0].points[3].1 = f64::NAN;
    plot.series[1].points[4].1 = f64::INFINITY;
    plot.series[2].points.clear();
    plot.across = Scale::over("time, in s", [f64::NAN]);
    let mut losses = stack();
    losses.layers[1].sizes[2] = f64::NEG_INFINITY;
    losses.places.clear();
    let mut levels = map();
    levels.levels[7] = f64::NAN;
    levels.levels.truncate(1000);
    let mut empty = map();
    (empty.columns, empty.rows) = (0, 0);
    empty.levels.clear();
    for svg in [
        plot.drawing().to_svg(),
        losses.drawing().to_svg(),
        levels.drawing("", "", 300.0).to_svg(),
        empty.drawing("", "", 300.0).to_svg(),
        multiples("", "", &[]).to_svg(),
    ] {
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    }
}

#[test]
fn law_a_long_series_stays_a_small_picture() {
    let mut plot = lines();
    let points: Vec<(f64, f64)> = (0..1_000_000)
        .map(|n| f64::from(n) / 5000.0)
        .map(|t| (t, 2000.0 + 1000.0 * t.sin()))
        .collect();
    plot.series
        .push(Series::dots("many readings", 1, points.clone()));
    plot.series.push(Series::line("a long line", 2, points));
    // A picture that a page loads at once.
    assert!(plot.drawing().to_svg().len() < 400_000);
}
