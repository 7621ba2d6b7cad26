//! What a set-up must keep, how near the edge it stands, and the one setting to change.

use super::body::{MouldBody, MouldCondition, Stands};
use super::given::Given;
use super::study_plan::hold_s;
use crate::shelf::known;

/// Every condition, the one that decides first.
pub(super) fn conditions(body: &MouldBody, given: &Given) -> Vec<MouldCondition> {
    let mut all = vec![
        filled(body),
        pressure(body),
        clamp(body),
        hold_time(body, given),
        cooling(body),
    ];
    all.extend([
        stroke(body),
        residence(body),
        melt(body, given),
        wall(body, given),
    ]);
    all.extend(cavities(body));
    all.sort_by(|a, b| rank(b).total_cmp(&rank(a)));
    all
}

/// Broken before at the edge before kept; within each, the nearer to the limit first.
fn rank(c: &MouldCondition) -> f64 {
    let class = match c.stands {
        Stands::Broken => 2.0,
        Stands::Edge => 1.0,
        Stands::Kept => 0.0,
    };
    // Shares grow without bound; within a class they are squeezed below 1.
    class + c.share.max(0.0) / (1.0 + c.share.max(0.0))
}

fn percent(name: &str) -> f64 {
    0.01 * known(name).value
}

/// A condition whose share of its limit is known: above 1 broken, above `edge` at the edge.
fn by_share(name: &str, share: f64, edge: f64, words: String, change: String) -> MouldCondition {
    let stands = if share > 1.0 {
        Stands::Broken
    } else if share > edge {
        Stands::Edge
    } else {
        Stands::Kept
    };
    let change = if stands == Stands::Kept {
        String::new()
    } else {
        change
    };
    MouldCondition {
        name: name.to_owned(),
        stands,
        words,
        share,
        change,
    }
}

fn filled(body: &MouldBody) -> MouldCondition {
    let least = body
        .cavities
        .iter()
        .map(|c| c.filled_share)
        .fold(1.0, f64::min);
    match &body.fill.short_because {
        Some(why) => MouldCondition {
            name: "filled".to_owned(),
            stands: Stands::Broken,
            words: format!(
                "the cavity stays short at {:.1} % of its volume: {why}",
                100.0 * least
            ),
            share: 1.0 / least.max(0.01),
            change: "hotter melt, faster filling or a deeper gate, one at a time".to_owned(),
        },
        None => by_share(
            "filled",
            0.0,
            1.0,
            "every cavity fills".to_owned(),
            String::new(),
        ),
    }
}

fn pressure(body: &MouldBody) -> MouldCondition {
    let share = body.fill.switch_mpa / body.fill.press_mpa;
    let words = format!(
        "the switch-over takes {:.0} MPa of the {:.0} MPa the press has",
        body.fill.switch_mpa, body.fill.press_mpa
    );
    // A press at its limit fills slower than it is told: that is broken even where it fills in the end.
    let share = if body.fill.limited {
        share.max(1.01)
    } else {
        share
    };
    let change =
        "fill slower or hotter; the largest drop above says which channel to widen".to_owned();
    by_share(
        "pressure",
        share,
        percent("mould.rule.pressure_usable"),
        words,
        change,
    )
}

fn clamp(body: &MouldBody) -> MouldCondition {
    let c = &body.clamp;
    let words = format!(
        "the mould is pushed open with {:.0} kN, the press holds {:.0} kN",
        c.opening_kn, c.press_kn
    );
    let margin = percent("mould.rule.clamp_usable") / known("mould.rule.clamp_margin").value;
    let first = body.setting.hold.first().map_or(0.0, |h| h.pressure_mpa);
    let change = format!(
        "lower the hold to {:.0} MPa, or take a larger press",
        first * margin / c.share
    );
    by_share("clamp", c.share, margin, words, change)
}

fn hold_time(body: &MouldBody, given: &Given) -> MouldCondition {
    let h = &body.hold;
    let longer = known("mould_study.hold_longer").value;
    let Some(needed) = h.needed_s else {
        return MouldCondition {
            name: "hold time".to_owned(),
            stands: Stands::Edge,
            words: format!(
                "the gate is still open {:.0} s after the start",
                end_s(given)
            ),
            share: 1.0,
            change: "a smaller gate, or a longer hold".to_owned(),
        };
    };
    let words = if h.ran_back {
        format!(
            "the hold ends after {:.1} s, the gate freezes after {needed:.1} s: melt runs back out of the gate and takes weight from the gate's side",
            h.time_s
        )
    } else {
        format!(
            "the hold of {:.1} s outlasts the gate, which needs {needed:.1} s",
            h.time_s
        )
    };
    let change = format!("hold for {:.1} s", needed + longer);
    by_share(
        "hold time",
        needed / h.time_s.max(f64::MIN_POSITIVE),
        1.0 - 0.5 * longer / (needed + longer),
        words,
        change,
    )
}

fn end_s(given: &Given) -> f64 {
    let p = &given.process;
    p.fill_s + hold_s(p) + p.cooling_s
}

fn cooling(body: &MouldBody) -> MouldCondition {
    let c = &body.cooling;
    let words = format!(
        "{} needs {:.1} s to fall below {:.0} °C, hold and cooling give {:.1} s",
        c.hot_place, c.needed_s, c.eject_degc, c.set_s
    );
    let more = (c.needed_s - c.set_s).max(0.0);
    let change = format!("cool {more:.1} s longer, or make {} thinner", c.hot_place);
    by_share(
        "cooling",
        c.needed_s / c.set_s.max(f64::MIN_POSITIVE),
        0.97,
        words,
        change,
    )
}

fn stroke(body: &MouldBody) -> MouldCondition {
    let share = body.shot.stroke_share;
    let usual = known("mould.rule.stroke").range.map(|p| 0.01 * p);
    let (least, most) = (usual.low, usual.high);
    let words = format!(
        "shot and cushion take {:.0} % of the stroke; {:.0} to {:.0} % is good",
        100.0 * share,
        100.0 * least,
        100.0 * most
    );
    let inside = (least..=most).contains(&share);
    let of_limit = if share > 1.0 {
        share
    } else if inside {
        0.0
    } else {
        0.99
    };
    by_share(
        "stroke",
        of_limit,
        0.9,
        words,
        "another screw, or another press".to_owned(),
    )
}

fn residence(body: &MouldBody) -> MouldCondition {
    let most = known("mould.rule.residence").range.high;
    let words = format!(
        "the resin stays {:.1} min in the barrel; up to {most:.0} min is usual",
        body.shot.residence_min
    );
    let share = body.shot.residence_min / most;
    // Long in the barrel is watched, not forbidden: what breaks down is the melt's temperature times its time.
    by_share(
        "barrel time",
        share.min(0.99),
        0.95,
        words,
        "a shorter cycle, a smaller screw, or a cooler melt".to_owned(),
    )
}

fn melt(body: &MouldBody, given: &Given) -> MouldCondition {
    let h = &given.resin.handling;
    within(
        "melt",
        body.setting.melt_degc,
        (h.melt_degc.low, h.melt_degc.high),
    )
}

fn wall(body: &MouldBody, given: &Given) -> MouldCondition {
    let h = &given.resin.handling;
    within(
        "mould wall",
        body.setting.wall_degc,
        (h.wall_degc.low, h.wall_degc.high),
    )
}

fn within(name: &str, at: f64, (low, high): (f64, f64)) -> MouldCondition {
    let words = format!("{name} {at:.0} °C; {low:.0} to {high:.0} °C is usual");
    let outside = !(low..=high).contains(&at);
    by_share(
        name,
        if outside { 0.99 } else { 0.0 },
        0.9,
        words,
        format!("go back inside {low:.0} to {high:.0} °C, or say why not"),
    )
}

fn cavities(body: &MouldBody) -> Option<MouldCondition> {
    (body.cavities.len() > 1).then(|| {
        let off = body.cavities.iter().map(|c| c.from_mean_percent.abs()).fold(0.0, f64::max);
        let most = known("mould_study.cavities").value;
        let words = format!(
            "the cavities weigh within {off:.2} % of their mean ({:.3} g from first to last)",
            body.half.between_cavities_g
        );
        let change = "make runners and gates alike before anything else; pairing can only sort what the mould spreads".to_owned();
        by_share("cavities", (off / most).min(0.99), 0.5, words, change)
    })
}
