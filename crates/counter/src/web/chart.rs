//! Interactive plots: only the numbers are sent, the script draws them in the page's own colours.

use maud::{Markup, html};
use plotly::color::Rgba;
use plotly::common::{Marker, MarkerSymbol, Mode, Title};
use plotly::layout::{Axis, BarMode, Legend, Margin};
use plotly::{Bar, Layout, Plot, Scatter, Trace};
use whirlwright_paper::{palette, picture, rounding, words};
use whirlwright_workshop::measuring::Histogram;
use whirlwright_workshop::pairing::{PairBody, PairSet};

use super::layout;

/// Mass by origin, all origins on the same bins.
pub fn distribution(n: usize, histogram: &Histogram) -> Markup {
    let kind = words::kinds(histogram.kind);
    let bins = histogram.counts.len();
    let middle = |bin: usize| histogram.start_mass_g + (bin as f64 + 0.5) * histogram.bin_mass_g;
    let at: Vec<f64> = (0..bins).map(|bin| rounded(middle(bin))).collect();
    let mut plot = Plot::new();
    for (shade, origin) in histogram.by_origin.iter().enumerate() {
        let name = match &origin.origin {
            Some(origin) => format!("{} {origin}", words::origin(histogram.kind)),
            None => kind.to_owned(),
        };
        let bar = Bar::new(at.clone(), origin.counts.clone())
            .name(&name)
            .marker(Marker::new().color(palette::category(shade).hex()))
            .hover_template(format!("{name}<br>%{{x:.3f}} g: %{{y}}<extra></extra>"));
        plot.add_trace(bar);
    }
    plot.set_layout(
        axes(&format!("mass of {kind} in g"), "parts")
            .bar_mode(BarMode::Stack)
            .bar_gap(0.08),
    );
    let says = format!(
        "Masses of {} {kind} by {}",
        histogram.counts.iter().sum::<usize>(),
        words::origin(histogram.kind)
    );
    layout::plot(
        &format!("masses-{n}"),
        &says,
        &plot.to_json(),
        &bins_table(histogram, &at),
    )
}

fn bins_table(histogram: &Histogram, at: &[f64]) -> Markup {
    let filled = at
        .iter()
        .enumerate()
        .filter(|(bin, _)| histogram.counts[*bin] > 0);
    html! {
        div.wide { table {
            thead { tr { th.n { "middle, g" } @for o in &histogram.by_origin { th.n { (o.origin.as_deref().unwrap_or("all")) } } th.n { "together" } } }
            tbody { @for (bin, middle) in filled { tr {
                td.n { (rounding::number(*middle, 3)) }
                @for o in &histogram.by_origin { td.n { (o.counts[bin]) } }
                td.n { (histogram.counts[bin]) }
            } } }
        } }
    }
}

/// Every set as a point: difference of the sides against the mass of the piece (or, where the piece
/// was not reckoned, one side against the other).
pub fn sets(body: &PairBody, table: &Markup) -> Markup {
    let mut plot = Plot::new();
    let groups = [
        (true, "within every limit", MarkerSymbol::Circle, 4),
        (false, "outside a limit", MarkerSymbol::X, 5),
    ];
    let whole = body.sets.iter().any(|s| s.piece_mass_g.is_some());
    for (within, name, symbol, shade) in groups {
        let of = body.sets.iter().filter(|s| s.within_limits == within);
        let known = places(of.filter_map(|set| Some((point(set, whole)?, set))));
        if known.is_empty() {
            continue;
        }
        let sizes = known.iter().map(|p| p.size()).collect();
        let trace: Box<dyn Trace> = Scatter::new(
            known.iter().map(|p| p.across).collect::<Vec<_>>(),
            known.iter().map(|p| p.up).collect::<Vec<_>>(),
        )
        .mode(Mode::Markers)
        .name(name)
        .text_array(known.iter().map(Place::text).collect())
        .hover_template("%{text}<extra></extra>")
        .marker(
            Marker::new()
                .symbol(symbol)
                .size_array(sizes)
                .opacity(0.75)
                .color(palette::category(shade).hex()),
        );
        plot.add_trace(trace);
    }
    let (across, up) = match whole {
        true => (
            "mass of the two dressed halves in g",
            "difference of the sides in g",
        ),
        false => ("mass of the left side in g", "mass of the right side in g"),
    };
    plot.set_layout(axes(across, up));
    let says = format!(
        "The {} sets: {up} against {across}; a larger mark stands for more sets",
        body.set_count
    );
    layout::plot("sets", &says, &plot.to_json(), table)
}

/// Sets that share one place of the plot: readings are whole last digits, so many do.
struct Place<'a> {
    across: f64,
    up: f64,
    sets: Vec<&'a PairSet>,
}

/// Sets named one by one where a place is pointed at.
const NAMED: usize = 4;

impl Place<'_> {
    /// Diameter in px, so that the area tells how many sets there are.
    fn size(&self) -> usize {
        const ONE: f64 = 9.0;
        const MOST: f64 = 44.0;
        picture::dot(self.sets.len(), ONE, MOST) as usize
    }

    fn text(&self) -> String {
        let mut text = rounding::count(self.sets.len(), "set", "sets");
        for set in self.sets.iter().take(NAMED) {
            text += &format!(
                "<br>{}: {} | {}",
                set.number,
                plain(&set.left),
                plain(&set.right)
            );
        }
        if self.sets.len() > NAMED {
            text += "<br>…";
        }
        text
    }
}

/// Gathers the sets by place, in the order of the places.
fn places<'a>(known: impl Iterator<Item = ((f64, f64), &'a PairSet)>) -> Vec<Place<'a>> {
    let mut places: Vec<Place<'a>> = Vec::new();
    let mut known: Vec<_> = known.collect();
    known.sort_by(|((ax, ay), _), ((bx, by), _)| ax.total_cmp(bx).then(ay.total_cmp(by)));
    for ((across, up), set) in known {
        match places.last_mut() {
            Some(last) if last.across == across && last.up == up => last.sets.push(set),
            _ => places.push(Place {
                across,
                up,
                sets: vec![set],
            }),
        }
    }
    places
}

fn point(set: &PairSet, whole: bool) -> Option<(f64, f64)> {
    match whole {
        true => Some((rounded(set.piece_mass_g?), rounded(set.mass_difference_g?))),
        false => Some((rounded(set.left_mass_g?), rounded(set.right_mass_g?))),
    }
}

/// Serials are shown as text: the script reads a little mark-up in labels.
fn plain(serial: &str) -> String {
    serial
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('+', " + ")
}

/// To a millionth: sums of decimals carry a tail of binary digits nobody wants to read.
fn rounded(value: f64) -> f64 {
    const MILLION: f64 = 1e6;
    (value * MILLION).round() / MILLION
}

pub fn axes(across: &str, up: &str) -> Layout {
    Layout::new()
        .x_axis(Axis::new().title(Title::with_text(across)))
        .y_axis(Axis::new().title(Title::with_text(up)))
        .margin(Margin::new().left(70).right(16).top(16).bottom(60))
        .legend(
            Legend::new()
                .trace_order(plotly::layout::TraceOrder::Normal)
                .orientation(plotly::common::Orientation::Horizontal)
                .y(1.02)
                .y_anchor(plotly::common::Anchor::Bottom)
                .x(0.0)
                .background_color(Rgba::new(0, 0, 0, 0.0)),
        )
}
