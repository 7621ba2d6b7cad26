//! What the bearing station says.

use super::body::BearingBody;
use super::given::Given;
use crate::part::{Basis, Trust, Verdict};
use crate::shelf::bearing_laws;

/// The place of the catch in the list of loads.
const CATCH: usize = 1;

pub(super) fn headline(body: &BearingBody) -> String {
    let torque = body.torque_un_m;
    format!(
        "A bearing {} × {} × {} mm with {} balls of {} mm holds back with {:.0} µN·m at {:.0} rpm ({:.0} to {:.0}); a \
         static rating of {:.0} N is {:.0} times a hard catch.",
        body.bore_mm,
        body.outside_mm,
        body.width_mm,
        body.balls,
        body.ball_mm,
        torque.likely,
        body.speed_rpm,
        torque.low,
        torque.high,
        body.static_rating_n,
        body.loads[CATCH].static_safety_ratio,
    )
}

pub(super) fn verdict(body: &BearingBody) -> (Verdict, String) {
    let laws = bearing_laws();
    let safety = body.loads[CATCH].static_safety_ratio;
    let (quiet, least) = (
        laws.quiet_safety_ratio.number,
        laws.least_safety_ratio.number,
    );
    let verdict = if safety >= quiet {
        Verdict::Good
    } else if safety >= least {
        Verdict::Look
    } else {
        Verdict::Stop
    };
    let why = format!(
        "static safety {} is {safety:.1}; {quiet} is wanted to stay quiet, {least} to stay unmarked",
        body.loads[CATCH].name
    );
    (verdict, why)
}

pub(super) fn trust(given: &Given) -> Vec<Trust> {
    let laws = bearing_laws();
    let mut trust = given.whence.clone();
    let mut say = |number: &str, basis, why: String| {
        trust.push(Trust {
            number: number.to_owned(),
            basis,
            why,
        });
    };
    say(
        "orders, lines",
        Basis::Computed,
        "rolling without slip; a cage that slips lowers its own and the outer race's order by some per cent".to_owned(),
    );
    say(
        "static_rating_n, loads",
        Basis::Computed,
        format!(
            "contact by elliptic integrals with grooves of {} and {} of the ball and {} GPa, {}; \
             the pressure of {} MPa {}",
            laws.inner_groove_ratio.text,
            laws.outer_groove_ratio.text,
            laws.modulus_gpa.text,
            laws.modulus_gpa.whence(),
            laws.static_pressure_mpa.text,
            laws.static_pressure_mpa.whence(),
        ),
    );
    say(
        "torque_un_m",
        Basis::Assumed,
        format!(
            "Palmgren's law, {}, made for far larger bearings; its range takes all low and all high factors together; \
             a spin-down of the bearing in hand goes before it",
            laws.viscous_coefficient.whence()
        ),
    );
    say(
        "viscosity_cst",
        Basis::Computed,
        "straight line of ASTM D341 through the lubricant's listed viscosities".to_owned(),
    );
    say(
        "life",
        Basis::Assumed,
        "not claimed: dirt and dried oil end such a bearing, not fatigue".to_owned(),
    );
    trust
}

pub(super) fn cautions() -> Vec<String> {
    vec![
        "Solvents for washing bearings burn: ventilate, keep sparks away, wear gloves; blow dry without letting the \
         air spin the bearing, for it can burst its cage and throw balls."
            .to_owned(),
        "Follow your machine maker's instructions, local law and the advice of licensed people; where they differ \
         from this page, they win."
            .to_owned(),
    ]
}

pub(super) fn next(body: &BearingBody) -> Vec<String> {
    let mut next = Vec::new();
    let safety = body.loads[CATCH].static_safety_ratio;
    if safety < bearing_laws().quiet_safety_ratio.number {
        next.push(
            "choose a bearing with more or larger balls, or a lighter piece: a hard catch may mark the races".to_owned(),
        );
    }
    let least = body
        .lubricants
        .iter()
        .min_by(|a, b| a.torque_un_m.likely.total_cmp(&b.torque_un_m.likely));
    if let Some(least) = least.filter(|l| l.lubricant != body.lubricant) {
        next.push(format!(
            "try it {}: {:.0} µN·m instead of {:.0} at {:.0} rpm",
            least.words, least.torque_un_m.likely, body.torque_un_m.likely, body.speed_rpm
        ));
    }
    next.push(
        "log a spin-down with this bearing: its torque goes before every estimate here".to_owned(),
    );
    next
}
