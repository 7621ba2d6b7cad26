//! The press of the sections as they are drawn, in labels, values and cells; terminal and sheet show the same.

use whirlwright_workshop::fitting::{SectionBound, SectionFitBody, SectionPeak};

use super::fit::range;
use crate::rounding;

/// Headings of the table of the two bounds of friction.
pub(crate) const BOUNDS: [&str; 3] = ["the usual pair", "sliding freely", "held fast"];

/// The heading.
pub(crate) fn heading(section: &SectionFitBody) -> String {
    format!(
        "As drawn, by finite elements of {}",
        rounding::places(section.size_mm, 1, "mm")
    )
}

/// What the whole section gives.
pub(crate) fn whole(section: &SectionFitBody) -> Vec<(String, String)> {
    let row = |label: &str, value: String| (label.to_owned(), value);
    vec![
        row(
            "mean pressure",
            format!(
                "{} MPa over limits, grades and friction; two plain rings {} MPa",
                range(section.mean_pressure_mpa, 2),
                rounding::number(section.plain_rings_mpa, 2)
            ),
        ),
        row(
            "push-on force",
            format!(
                "{} N: set the press by this one",
                range(section.push_on_n, 0)
            ),
        ),
        row(
            "torque when new",
            format!("{} N·mm", range(section.torque_n_mm, 0)),
        ),
        row(
            "at its worst",
            format!(
                "{} {}",
                if section.worst.kept { '✓' } else { '■' },
                section.worst.words
            ),
        ),
        row(
            "settled",
            format!(
                "the mean pressure changed by {} % from elements twice as large ({} nodes)",
                rounding::signed(section.pressure_change_percent, 1),
                section.nodes_count
            ),
        ),
    ]
}

/// The two bounds of friction side by side.
pub(crate) fn bounds(section: &SectionFitBody) -> Vec<Vec<String>> {
    let (slip, stick) = (&section.slip, &section.stick);
    let row = |label: &str, of: &dyn Fn(&SectionBound) -> String| {
        vec![label.to_owned(), of(slip), of(stick)]
    };
    let um = |of: fn(&SectionBound) -> f64| move |b: &SectionBound| rounding::signed(of(b), 1);
    let ring = format!("peak in {}, MPa", section.ring);
    let body = format!("peak in {}, MPa", section.body);
    vec![
        row("mean pressure, MPa", &|b| {
            rounding::number(b.mean_pressure_mpa, 3)
        }),
        row("most pressure, MPa", &|b| {
            format!(
                "{} at x {}",
                rounding::number(b.most_pressure_mpa, 1),
                rounding::number(b.most_pressure_at_mm, 2)
            )
        }),
        row("of the seat presses, %", &|b| {
            rounding::number(100.0 * b.pressing_share, 0)
        }),
        row("widest gap, µm", &|b| rounding::number(b.widest_gap_um, 1)),
        row(&ring, &|b| peak(b.ring_peak)),
        row("  changed by, %", &|b| {
            rounding::signed(b.ring_peak.change_percent, 0)
        }),
        row("  strain there, %", &|b| {
            rounding::number(b.ring_peak.strain_percent, 2)
        }),
        row(&body, &|b| peak(b.body_peak)),
        row("  changed by, %", &|b| {
            rounding::signed(b.body_peak.change_percent, 0)
        }),
        row("  strain there, %", &|b| {
            rounding::number(b.body_peak.strain_percent, 2)
        }),
        row("outside grows, µm", &um(|b| b.ring_outside_growth_um)),
        row("bore grows, µm", &um(|b| b.ring_bore_growth_um)),
        row("spigot grows, µm", &um(|b| b.spigot_growth_um)),
        row("body's bore grows, µm", &um(|b| b.body_bore_growth_um)),
    ]
}

fn peak(peak: SectionPeak) -> String {
    format!(
        "{} at x {}, r {}",
        rounding::number(peak.equivalent_mpa, 1),
        rounding::number(peak.x_mm, 2),
        rounding::number(peak.radius_mm, 2)
    )
}
