//! The section of a design, in the terminal.

use whirlwright_workshop::design::SectionBody;
use whirlwright_workshop::part::Answer;

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// Mass, centre and inertia of the whole and of every piece, and the limits.
#[must_use]
pub fn section(answer: &Answer<SectionBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&name(body));
    for (label, value) in whole(body) {
        page.row(&label, &value);
    }
    pieces(&mut page, body);
    limits(&mut page, body);
    page.end(answer)
}

/// The design's name with its revision.
pub(crate) fn name(body: &SectionBody) -> String {
    match &body.revision {
        Some(revision) => format!("{}, revision {revision}", body.name),
        None => body.name.clone(),
    }
}

/// The numbers of the whole, as labels and values; the sheet shows the same.
pub(crate) fn whole(body: &SectionBody) -> Vec<(String, String)> {
    let mut rows = vec![
        ("mass", rounding::places(body.mass_g, 3, "g")),
        (
            "polar inertia",
            rounding::figures(body.polar_inertia_g_mm2, 4, "g·mm²"),
        ),
        (
            "transverse inertia",
            rounding::figures(body.transverse_inertia_g_mm2, 4, "g·mm²"),
        ),
        (
            "centre of mass",
            format!(
                "{} from the middle, along the axle",
                rounding::places(body.centre_of_mass_mm, 3, "mm")
            ),
        ),
        ("inertia ratio", ratio(body)),
        (
            "over all",
            format!(
                "{} across, {} wide",
                rounding::places(body.diameter_mm, 2, "mm"),
                rounding::places(body.width_mm, 2, "mm")
            ),
        ),
    ];
    if let Some(gap) = body.gap_mm {
        rows.push(("gap", rounding::places(gap, 2, "mm")));
    }
    if body.static_unbalance_g_mm.abs() > 0.0 {
        rows.push((
            "static unbalance",
            rounding::figures(body.static_unbalance_g_mm, 3, "g·mm"),
        ));
    }
    if body.couple_unbalance_g_mm2.abs() > 0.0 {
        rows.push((
            "couple unbalance",
            rounding::figures(body.couple_unbalance_g_mm2, 3, "g·mm²"),
        ));
    }
    if let Some(gram_per_mm) = body.recut_gram_per_mm {
        let step = rounding::figures(gram_per_mm / 100.0, 2, "g");
        rows.push(("recut", format!("0.01 mm of face weighs {step}")));
    }
    rows.into_iter()
        .map(|(label, value)| (label.to_owned(), value))
        .collect()
}

fn ratio(body: &SectionBody) -> String {
    let ratio = rounding::figures(body.inertia_ratio, 4, "");
    let order = rounding::figures(body.nutation_order, 3, "");
    let mut said = format!(
        "transverse to polar {ratio} (no unit): a free wobble runs {order} times as fast as the spin"
    );
    match body.couple_amplification {
        Some(times) => {
            let times = rounding::figures(times, 3, "");
            said.push_str(&format!(
                ", a couple tilts it {times} times as far as a flat disc"
            ));
        }
        None => said.push_str(", and the piece keeps no axis of its own"),
    }
    said
}

fn pieces(page: &mut Page, body: &SectionBody) {
    page.heading("Pieces");
    let mut table = Table::new(&[
        "piece",
        "side",
        ">mass in g",
        ">volume in mm³",
        ">centre in mm",
        ">mass in %",
        ">inertia in %",
        ">thinnest in mm",
    ]);
    for piece in &body.pieces {
        table.row(vec![
            if piece.count > 1 {
                format!("{} ({} of it)", piece.name, piece.count)
            } else {
                piece.name.clone()
            },
            piece.side.word().to_owned(),
            rounding::number(piece.mass_g, 3),
            rounding::number(piece.volume_mm3, 1),
            rounding::number(piece.centre_of_mass_mm, 3),
            rounding::number(piece.mass_share * 100.0, 1),
            rounding::number(piece.inertia_share * 100.0, 1),
            piece
                .least_wall_mm
                .map(|wall| rounding::number(wall, 2))
                .unwrap_or_default(),
        ]);
    }
    table.write(page);
}

/// The limits in words, each with the shape of its verdict.
pub(crate) fn limit_lines(body: &SectionBody) -> Vec<String> {
    let shape = |inside: bool| if inside { '✓' } else { '■' };
    let limits = body
        .limits
        .iter()
        .map(|limit| format!("{} {}", shape(limit.inside), limit.words));
    let overlaps = body.overlaps.iter().map(|overlap| {
        format!(
            "{} {} and {} overlap by {}; the job allows {}",
            shape(overlap.depth_mm <= overlap.allowed_mm),
            overlap.first,
            overlap.second,
            rounding::places(overlap.depth_mm, 3, "mm"),
            rounding::places(overlap.allowed_mm, 3, "mm")
        )
    });
    limits.chain(overlaps).collect()
}

fn limits(page: &mut Page, body: &SectionBody) {
    let lines = limit_lines(body);
    if lines.is_empty() {
        return;
    }
    page.heading("Limits");
    for line in lines {
        page.hanging("  ", &line);
    }
}
