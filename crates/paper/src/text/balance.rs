//! Balance in the terminal: how far out a piece may be, and what corrects it.

use whirlwright_workshop::balance::{AcceptLine, CorrectBody, FreeRotor, LimitBody};
use whirlwright_workshop::part::{Answer, Unbalance};

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// The permissible residual unbalance, its shares, and the errors of the drawing.
#[must_use]
pub fn balance_limit(answer: &Answer<LimitBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("The limit");
    page.row("allowed", &rounding::figures(body.limit_g_mm, 4, "g·mm"));
    page.row(
        "may be read",
        &rounding::figures(body.accepted_up_to_g_mm, 4, "g·mm"),
    );
    for plane in &body.planes {
        let at = rounding::places(plane.x_mm, 2, "mm");
        let share = rounding::figures(plane.limit_g_mm, 4, "g·mm");
        page.row(
            &format!("plane {}", plane.name),
            &format!("{share} at x = {at}"),
        );
    }
    page.row(
        "couple",
        &rounding::figures(body.couple_limit_g_mm2, 3, "g·mm²"),
    );
    page.heading("The same in sizes of the bench");
    sizes(&mut page, body);
    page.heading("A piece at the limit, all static");
    feels(&mut page, &body.at_limit);
    page.heading("The design");
    page.point(&body.design.words);
    budget(&mut page, body);
    grades(&mut page, body);
    page.end(answer)
}

fn sizes(page: &mut Page, body: &LimitBody) {
    let sizes = &body.sizes;
    let radius = rounding::places(sizes.rim_radius_mm, 2, "mm");
    let mass = rounding::figures(sizes.rim_mass_g, 3, "g");
    page.row(
        "at the rim",
        &format!("{mass} at one place, radius {radius}"),
    );
    page.row(
        "at the seat",
        &rounding::places(sizes.seat_um, 1, "µm off the axis"),
    );
    if let Some(wobble) = sizes.wobble_um {
        let wobble = rounding::places(wobble, 1, "µm");
        page.row(
            "rim wobble",
            &format!("{wobble} either way, if it is all couple"),
        );
    }
    if let (Some(face), Some(outside)) = (sizes.face_um, sizes.outside_um) {
        let (face, outside) = (
            rounding::places(face, 1, "µm"),
            rounding::places(outside, 1, "µm"),
        );
        page.row(
            "as much metal as",
            &format!("{face} off the whole face, or {outside} off the outside radius"),
        );
    }
}

/// What an unbalance does to the piece.
fn feels(page: &mut Page, feels: &FreeRotor) {
    page.row(
        "bearing seat",
        &format!(
            "orbit {} from its middle, {} at {}",
            rounding::figures(feels.seat_um, 3, "µm"),
            rounding::figures(feels.seat_mm_per_s, 3, "mm/s"),
            rounding::places(feels.speed_rpm, 0, "rpm")
        ),
    );
    if let (Some(tilt), Some(wobble)) = (feels.tilt_mrad, feels.wobble_um) {
        page.row(
            "rim",
            &format!(
                "wobbles {} either way (lean {})",
                rounding::figures(wobble, 3, "µm"),
                rounding::figures(tilt, 3, "mrad")
            ),
        );
    }
    if let Some(pull) = feels.string_mn {
        page.row(
            "string",
            &format!(
                "{} to {} once a turn, likely {}; a rigid bearing would bear {}",
                rounding::figures(pull.low, 2, "mN"),
                rounding::figures(pull.high, 2, "mN"),
                rounding::figures(pull.likely, 2, "mN"),
                rounding::figures(feels.rigid_force_mn, 3, "mN")
            ),
        );
    }
}

fn budget(page: &mut Page, body: &LimitBody) {
    if body.budget.is_empty() {
        return;
    }
    page.heading("What the drawing allows itself");
    let mut table = Table::new(&[
        "error",
        "befalls",
        "side",
        ">static in g·mm",
        ">of the limit in %",
        ">couple in g·mm²",
    ]);
    for line in &body.budget {
        table.row(vec![
            line.name.clone(),
            line.piece.clone(),
            line.side.word().to_owned(),
            rounding::number(line.static_g_mm, 3),
            rounding::number(100.0 * line.limit_share, 0),
            rounding::number(line.couple_g_mm2, 2),
        ]);
    }
    table.write(page);
    page.row(
        "all at worst",
        &format!(
            "{}, {}",
            rounding::figures(body.worst_g_mm, 3, "g·mm"),
            rounding::figures(body.worst_g_mm2, 3, "g·mm²")
        ),
    );
    page.row(
        "as independent",
        &format!(
            "{}, {} (root of the squares)",
            rounding::figures(body.statistical_g_mm, 3, "g·mm"),
            rounding::figures(body.statistical_g_mm2, 3, "g·mm²")
        ),
    );
    if let Some(lot) = &body.lot {
        page.row(
            "drawn",
            &format!(
                "{} pieces, seed {}: {} inside (95 % interval {} to {}); mean {}, 95 of 100 below {}",
                lot.drawn_pieces,
                lot.seed,
                percent(lot.inside_share),
                percent(lot.inside_low_share),
                percent(lot.inside_high_share),
                rounding::figures(lot.mean_g_mm, 3, "g·mm"),
                rounding::figures(lot.most_of_95_in_100_g_mm, 3, "g·mm")
            ),
        );
    }
}

fn percent(share: f64) -> String {
    rounding::places(100.0 * share, 1, "%")
}

fn grades(page: &mut Page, body: &LimitBody) {
    page.heading("Grades at this speed");
    let mut table = Table::new(&[
        "grade",
        ">allows in g·mm",
        ">eccentric in µm",
        ">drawn pieces inside in %",
    ]);
    for grade in &body.grades {
        table.row(vec![
            grade.name.clone(),
            rounding::number(grade.limit_g_mm, 3),
            rounding::number(grade.permissible_um, 2),
            grade.inside_share.map_or_else(
                || "not drawn".to_owned(),
                |s| rounding::number(100.0 * s, 1),
            ),
        ]);
    }
    table.write(page);
}

/// Unbalance by plane, what corrects it, and what that leaves.
#[must_use]
pub fn balance_correct(answer: &Answer<CorrectBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&format!(
        "{}, angles {} from its mark",
        body.name,
        body.sense.word()
    ));
    planes(&mut page, body);
    page.row("static", &vector(body.resultant));
    if let Some(couple) = body.couple {
        page.row(
            "couple",
            &format!(
                "{} at {}",
                rounding::figures(couple.moment_g_mm2, 3, "g·mm²"),
                rounding::places(couple.angle_deg, 1, "°")
            ),
        );
    }
    if let Some(other) = body.other {
        page.row(
            "or else",
            &format!("{}, which fits the readings alike", vector(other)),
        );
    }
    for (n, fixture) in body.fixture.iter().enumerate() {
        page.row(&format!("fixture {}", n + 1), &vector(*fixture));
    }
    if !body.acceptance.is_empty() {
        page.heading("Against the limit");
        for line in &body.acceptance {
            page.hanging("  ", &format!("{} {}", mark(line), line.words));
        }
    }
    if let Some(now) = &body.as_it_came {
        page.heading("What it does as it came");
        feels(&mut page, now);
    }
    clocking(&mut page, body);
    work(&mut page, body);
    if !body.trials.is_empty() {
        page.heading("What the trials were worth");
        for trial in &body.trials {
            page.point(&trial.words);
        }
    }
    page.end(answer)
}

fn mark(line: &AcceptLine) -> &'static str {
    match (line.measured_inside, line.guaranteed_inside) {
        (_, Some(true)) => "✓",
        (true, _) => "▲",
        (false, _) => "■",
    }
}

fn vector(u: Unbalance) -> String {
    format!(
        "{} at {}",
        rounding::figures(u.mass_distance_g_mm, 4, "g·mm"),
        rounding::places(u.angle_deg, 1, "°")
    )
}

fn planes(page: &mut Page, body: &CorrectBody) {
    for plane in &body.planes {
        let size = match plane.uncertainty_g_mm {
            Some(u) => rounding::with_uncertainty(plane.unbalance.mass_distance_g_mm, u, "g·mm"),
            None => rounding::figures(plane.unbalance.mass_distance_g_mm, 4, "g·mm"),
        };
        let angle = match plane.angle_uncertainty_deg {
            Some(u) if u < 180.0 => rounding::with_uncertainty(plane.unbalance.angle_deg, u, "°"),
            Some(_) => "an angle that is not known".to_owned(),
            None => rounding::places(plane.unbalance.angle_deg, 1, "°"),
        };
        page.row(
            &format!("plane {}", plane.name),
            &format!("{size} at {angle}"),
        );
        page.row(
            "  corrected by",
            &format!(
                "{} on at {}, or off at {}, radius {}",
                rounding::figures(plane.correction_mass_g, 4, "g"),
                rounding::places(plane.add_at_deg, 1, "°"),
                rounding::places(plane.take_off_at_deg, 1, "°"),
                rounding::places(plane.radius_mm, 2, "mm")
            ),
        );
    }
}

fn clocking(page: &mut Page, body: &CorrectBody) {
    let Some(clocking) = &body.clocking else {
        return;
    };
    page.heading("Turn parts against each other first");
    for turn in &clocking.turns {
        let number = turn
            .mark_number
            .map(|n| format!(", mark {n}"))
            .unwrap_or_default();
        let angle = rounding::places(turn.turn_deg, 1, "°");
        page.point(&format!("{} on {}: {angle}{number}", turn.part, turn.on));
    }
    for (name, state) in [
        ("as marked", &clocking.before),
        ("as advised", &clocking.after),
        ("least static", &clocking.least_static),
        ("least couple", &clocking.least_couple),
    ] {
        let wobble = state
            .wobble_um
            .map(|w| format!(", rim wobble {}", rounding::figures(w, 3, "µm")))
            .unwrap_or_default();
        page.row(
            name,
            &format!(
                "static {}, couple {}: seat {}{wobble}",
                rounding::figures(state.static_unbalance.mass_distance_g_mm, 3, "g·mm"),
                rounding::figures(state.couple.moment_g_mm2, 3, "g·mm²"),
                rounding::figures(state.seat_um, 3, "µm")
            ),
        );
    }
    page.point(&clocking.words);
}

fn work(page: &mut Page, body: &CorrectBody) {
    let Some(work) = &body.work else {
        return;
    };
    page.heading("The work");
    for hole in &work.holes {
        let wall = hole
            .wall_left_mm
            .filter(|w| w.is_finite())
            .map(|w| format!("; wall left {}", rounding::places(w, 2, "mm")))
            .unwrap_or_default();
        page.point(&format!("{}{wall}", hole.words));
    }
    page.row(
        "leaves",
        &format!("static {}", vector(work.residual_static)),
    );
    if let Some(couple) = work.residual_couple {
        page.row(
            "",
            &format!(
                "couple {}",
                rounding::figures(couple.moment_g_mm2, 3, "g·mm²")
            ),
        );
    }
    if let Some(after) = &body.corrected {
        page.row("then the seat", &rounding::figures(after.seat_um, 3, "µm"));
    }
    page.point(&work.words);
}
