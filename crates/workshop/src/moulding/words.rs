//! What the numbers of a set-up mean, in a moulder's words.

use super::body::{MouldBody, Stands};
use super::given::Given;
use crate::part::figures::fixed;
use crate::part::{Basis, Trust, Verdict};

/// The caution that stands wherever hot melt is spoken of.
pub(super) const HOT: &str = "Melt burns to the bone: gloves, face shield, never look into the nozzle, purge behind the shield. The press maker's instructions, local law and licensed people go before this sheet.";

pub(super) fn verdict(body: &MouldBody) -> Verdict {
    let stands = |s: Stands| body.conditions.iter().any(|c| c.stands == s);
    if stands(Stands::Broken) {
        Verdict::Stop
    } else if stands(Stands::Edge) {
        Verdict::Look
    } else {
        Verdict::Good
    }
}

pub(super) fn headline(body: &MouldBody) -> String {
    if let Some(why) = &body.fill.short_because {
        return format!("{} of {}: a short shot; {why}", body.piece, body.resin);
    }
    let half = format!(
        "{} of {}: {:.2} g a half, pulled {:.3} g·mm",
        body.piece, body.resin, body.half.mass_g, body.half.unbalance_g_mm
    );
    let side = match body.cavities.first().and_then(|c| c.from_gate_deg) {
        None => " to no side in particular".to_owned(),
        Some(deg) if !(90.0..270.0).contains(&deg) => " toward the gate".to_owned(),
        Some(_) => " away from the gate".to_owned(),
    };
    let freeze = body.hold.gate_freeze_s.map_or_else(
        || "the gate stays open".to_owned(),
        |s| format!("the gate freezes after {s:.1} s"),
    );
    format!(
        "{half}{side}; {freeze}, a shot every {:.0} s",
        body.cycle.cycle_s
    )
}

pub(super) fn decided_by(body: &MouldBody) -> String {
    body.conditions
        .first()
        .map_or_else(String::new, |c| c.words.clone())
}

pub(super) fn next(body: &MouldBody) -> Vec<String> {
    let mut next: Vec<String> = body
        .conditions
        .iter()
        .filter(|c| !c.change.is_empty())
        .take(3)
        .map(|c| format!("{}: {}", c.name, c.change))
        .collect();
    if next.is_empty() {
        next.push("set the press so, throw the first 15 to 30 shots away, then weigh three shots of every cavity".to_owned());
    }
    next.push("do the hold-time study at the press (whirlwright mould --study freeze prints its list) and bring the weights back with --weights".to_owned());
    next
}

pub(super) fn cautions(body: &MouldBody, given: &Given) -> Vec<String> {
    let mut cautions = vec![
        HOT.to_owned(),
        "Guards shut and tested this shift, nobody reaches past them; clamp locked out before anybody works in the mould.".to_owned(),
        "A mould is lifted with rated eyebolts and a crane over its centre of gravity, its halves strapped together, nobody under it.".to_owned(),
    ];
    if given.resin.handling.family == "acetal" {
        cautions.push("Acetal that is too hot, or meets PVC, gives off formaldehyde and pressure: purge with polyethylene, never leave it at heat, extraction on.".to_owned());
    } else {
        cautions.push(
            "Fumes: extraction on. Acetal and PVC never in the same barrel or hopper.".to_owned(),
        );
    }
    if body.clamp.share > 1.0 {
        cautions.push(
            "The clamp sum says the mould would open: flash can spray. Do not run it so."
                .to_owned(),
        );
    }
    cautions
}

pub(super) fn trust(body: &MouldBody, given: &Given) -> Vec<Trust> {
    let line = |number: &str, basis, why: String| Trust {
        number: number.to_owned(),
        basis,
        why,
    };
    let mut trust = vec![
        line(
            "mass_g",
            Basis::Computed,
            format!(
                "absolute to about ± {:.2} g (1 %): generic resin cards differ by that; differences between cavities and settings are known some ten times better",
                body.half.mass_doubt_g
            ),
        ),
        line(
            "unbalance",
            Basis::Computed,
            "sign and rule of the hold are sure; the size to about ± 10 % by the grid, and more by what the steel itself is off (20 µm of core shift pull as much)".to_owned(),
        ),
        line(
            "switch_mpa",
            Basis::Computed,
            "the viscosity card is ± 30 %; pressures follow it almost as much".to_owned(),
        ),
        line(
            "gate_freeze_s",
            Basis::Computed,
            "± 20 %: the heat that steel takes and the depth of the gate as cut decide; weigh a hold-time study".to_owned(),
        ),
        line(
            "books",
            Basis::Computed,
            format!(
                "volume let in against volume filled: off by {:.0e}, mass by {:.0e}, as shares, middle surface against the drawing {} % before it was shared out",
                body.books.volume_off_share.abs(),
                body.books.mass_off_share.abs(),
                fixed(100.0 * body.books.middle_off_share, 2)
            ),
        ),
    ];
    trust.extend(taken_for_granted(given));
    trust
}

/// The resin's card and what nobody said, each as a line of trust.
pub(super) fn taken_for_granted(given: &Given) -> impl Iterator<Item = Trust> + '_ {
    let line = |number: &str, why: &String| Trust {
        number: number.to_owned(),
        basis: Basis::Assumed,
        why: why.clone(),
    };
    let card = given.resin.why.iter().map(move |why| line("resin", why));
    card.chain(given.assumed.iter().map(move |why| line("setting", why)))
}
