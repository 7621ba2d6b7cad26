//! What the numbers of a forecast mean, in a maker's words.

use super::body::{LossLine, SpinBody};
use super::given::Given;
use super::losses::LossName;
use crate::part::spin_factor::Factor;
use crate::part::{Basis, Range, Trust, Verdict};
use crate::shelf::known;

/// The law a loss follows and whence it is.
pub(super) fn law(name: LossName) -> &'static str {
    match name {
        LossName::BearingDry => "the same at every speed; estimated, not measured",
        LossName::BearingOil => {
            "Palmgren's viscous torque, power 2/3 of speed and viscosity, times f0 (from memory)"
        }
        LossName::Faces => {
            "von Kármán and Cochran's laminar disc, power 1.5 of the speed, by strips of the outline \
             with the cone rule; turbulent by the 1/7-power profile beyond the local Reynolds number \
             of transition"
        }
        LossName::Rim => {
            "logarithmic law of a long turning cylinder (Theodorsen and Regier, from memory) times a \
             factor"
        }
        LossName::Gap => "the law of the faces, on the flare of the gap, times a factor",
        LossName::String => "friction on a wall at the bearing's radius",
        LossName::Fitted => "fitted to a log",
    }
}

/// Minutes and seconds as a maker says them, the last place rounded by what is known.
fn time(s: f64) -> String {
    if s < 100.0 {
        format!("{s:.0} s")
    } else {
        let whole = (s / 10.0).round() as i64 * 10;
        format!("{} min {:02} s", whole / 60, whole % 60)
    }
}

fn span(range: Range) -> String {
    format!("{} to {}", time(range.low), time(range.high))
}

fn tens(rpm: f64) -> String {
    format!("{:.0} rpm", (rpm / 10.0).round() * 10.0)
}

/// The static safety below which a catch is to be looked at: twice the rating is asked for quiet running.
fn quiet_safety() -> f64 {
    crate::shelf::bearing_laws().quiet_safety_ratio.number
}

fn least_safety() -> f64 {
    crate::shelf::bearing_laws().least_safety_ratio.number
}

pub(super) fn verdict(body: &SpinBody) -> (Verdict, String) {
    let sleep = body.sleep_s;
    if sleep.likely <= 0.0 {
        let says = format!(
            "{} after the throw is not above the {} at which it no longer returns",
            tens(body.speed_rpm.likely),
            tens(body.ends_at_rpm.likely)
        );
        return (Verdict::Stop, says);
    }
    let safety = body.bearing.catch_safety_ratio;
    if safety.likely < least_safety() {
        let says = format!(
            "a hard catch loads the bearing with {:.0} N, more than its static rating of {:.0} N",
            body.bearing.catch_load_n.likely, body.bearing.static_rating_n
        );
        return (Verdict::Stop, says);
    }
    if let Some(asked) = body.sleep_at_least_s {
        let says = format!(
            "sleep {} (likely {}), at least {} wanted",
            span(sleep),
            time(sleep.likely),
            time(asked)
        );
        let verdict = if sleep.low >= asked {
            Verdict::Good
        } else if sleep.high >= asked {
            Verdict::Look
        } else {
            Verdict::Stop
        };
        return (verdict, says);
    }
    if safety.low < quiet_safety() {
        let says = format!(
            "static safety of the bearing in a hard catch {:.1}, at least {:.0} wanted for quiet running",
            safety.low,
            quiet_safety()
        );
        return (Verdict::Look, says);
    }
    let strong = known("throw.speed.strong").value;
    if body.speed_rpm.likely > strong {
        let says = format!(
            "{} after the throw; strong throws reach {}: measure it",
            tens(body.speed_rpm.likely),
            tens(strong)
        );
        return (Verdict::Look, says);
    }
    let says = format!(
        "sleep {} with every factor drawn from its range; no least sleep is asked for ([spin] in the job)",
        span(sleep)
    );
    (Verdict::Good, says)
}

pub(super) fn headline(body: &SpinBody) -> String {
    let sleep = body.sleep_s;
    let mut said = format!(
        "{}: thrown to {}, it sleeps {} (from {}) down to {}",
        body.name,
        tens(body.speed_rpm.likely),
        time(sleep.likely),
        span(sleep),
        tens(body.ends_at_rpm.likely)
    );
    if let Some(first) = body.losses.first() {
        said.push_str(&format!(
            "; {} takes most, {:.0} %",
            first.name,
            100.0 * first.share
        ));
    }
    said
}

/// How to attack a loss.
fn remedy(loss: &LossLine) -> &'static str {
    match loss.loss {
        LossName::BearingDry => "clean the bearing and compare bearings by a spin-down of each",
        LossName::BearingOil => "wash the bearing out and put in less oil, or thinner",
        LossName::Faces => {
            "fill hollows and steps of the faces only if it costs no inertia; a smaller diameter at \
             the same inertia pays more"
        }
        LossName::Rim => "shorten the rim's band, round its edges, and keep it smooth",
        LossName::Gap => "let the walls of the gap stay parallel further out",
        LossName::String => "centre the string: a grooved bearing, a thinner string",
        LossName::Fitted => "find out what the term stands for",
    }
}

pub(super) fn next(body: &SpinBody) -> Vec<String> {
    let mut next = Vec::new();
    let best = body
        .losses
        .iter()
        .max_by(|a, b| a.half_gone_adds_s.total_cmp(&b.half_gone_adds_s));
    if let Some(loss) = best {
        next.push(format!(
            "Attack {} first: half of it gone is worth {} of sleep; {}",
            loss.name,
            time(loss.half_gone_adds_s),
            remedy(loss)
        ));
    }
    if let Some(lever) = body.levers.iter().find(|lever| lever.name == "inertia") {
        let at = |by: f64| {
            let place = lever.likely_at * by;
            let found = lever
                .points
                .iter()
                .find(|p| (p.at - place).abs() < 1e-6 * place);
            found.map(|p| p.sleep_s)
        };
        if let (Some(now), Some(more)) = (at(1.0), at(1.1)) {
            next.push(format!(
                "a tenth more inertia at the same mass is worth {}",
                time(more - now)
            ));
        }
    }
    if let Some(worst) = body.range_from.first() {
        next.push(format!(
            "the range of the sleep comes first from the {}: {} to {} over its range ({:.0} % of it); {}",
            worst.words,
            time(worst.sleep_at_low_s.min(worst.sleep_at_high_s)),
            time(worst.sleep_at_low_s.max(worst.sleep_at_high_s)),
            100.0 * worst.share,
            narrows(&worst.factor)
        ));
    }
    let string = body.turn.by_string_deg;
    if string.high > body.turn.by_mass_deg.high {
        next.push(format!(
            "for a piece that keeps its heading, centre the string before matching masses: its place in \
             the gap does as much as {:.1} g between the sides",
            body.turn.string_as_mass_g.high
        ));
    }
    next
}

/// What narrows the range of a factor.
fn narrows(key: &str) -> &'static str {
    let is = |factor: Factor| factor.key() == key;
    if is(Factor::EndSpeed) {
        "say in [spin] at what speed it must still return"
    } else if is(Factor::HandSpeed) || is(Factor::StopTime) || is(Factor::ThrowSpeed) {
        "measure the speed after a throw and write it in [throw]"
    } else if is(Factor::Temperature) || is(Factor::Pressure) || is(Factor::Humidity) {
        "read the air and write it in [air]"
    } else {
        "a spin-down log of a real piece narrows it"
    }
}

pub(super) fn cautions(body: &SpinBody) -> Vec<String> {
    vec![
        format!(
            "At {} the piece holds {:.1} J and its rim runs at speed: test it only behind a closed guard \
             that takes all of that energy, with eye protection, nobody in the plane of the rim, and no \
             finger in the string's loop at machine speeds",
            tens(body.speed_rpm.likely),
            body.throw.turning_j
        ),
        "Follow your machine maker's instructions, local law and the advice of licensed people; where \
         they differ from this page, they win"
            .to_owned(),
    ]
}

pub(super) fn trust(given: &Given, body: &SpinBody) -> Vec<Trust> {
    let computed = |number: &str, why: String| Trust {
        number: number.to_owned(),
        basis: Basis::Computed,
        why,
    };
    let mut trust = vec![computed(
        "sleep_s",
        format!(
            "{} draws of all factors from their ranges: 5 % lie below, 5 % above; the sum itself is met to \
             1e-9; the laws of rim and gap are the weakest",
            super::scatter::DRAWS
        ),
    )];
    trust.push(computed(
        "air",
        "density by CIPM-2007 (Picard and others 2008, coefficients from memory), viscosity by \
         Sutherland's law (from memory)"
            .to_owned(),
    ));
    trust.push(computed(
        "losses",
        "laminar faces to 9 digits by the equations; rim law and Palmgren's law from memory; shares move \
         with the factors"
            .to_owned(),
    ));
    if given.speed_is_said {
        let range = given.range(Factor::ThrowSpeed);
        trust.push(Trust {
            number: "speed_rpm".to_owned(),
            basis: Basis::Assumed,
            why: format!("{} to {} rpm, as the job file says", range.low, range.high),
        });
    } else {
        trust.push(computed(
            "speed_rpm",
            "from the hand's speed by the equation of the unwinding string".to_owned(),
        ));
    }
    if body.air.reynolds_number > body.air.transition_number {
        trust.push(computed(
            "faces",
            "the flow over the faces is partly turbulent: the place of transition is known to some 20 %"
                .to_owned(),
        ));
    }
    trust.extend(given.trust.iter().cloned());
    trust
}
