//! A set-up of mould and press, in the terminal.

use whirlwright_workshop::moulding::{MouldBody, RingGateLine, Stands};
use whirlwright_workshop::part::{Answer, Range};

use super::page::Page;
use super::table::Table;
use crate::rounding::{figures, number, places, signed};

/// The set-up: filling, hold, clamp, shot, cooling, cavities, conditions.
#[must_use]
pub fn mould(answer: &Answer<MouldBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&format!(
        "{} of {}, {} cavities",
        body.piece, body.resin, body.cavities_count
    ));
    for (label, value) in whole(body) {
        page.row(label, &value);
    }
    page.heading("Pressure at the switch-over, piece by piece");
    let mut table = Table::new(&["on the way", ">takes, MPa", ">shear at the wall, 1/s"]);
    for drop in drops(body) {
        table.row(drop);
    }
    table.write(&mut page);
    page.heading("Cavities");
    let mut table = Table::new(&CAVITY_HEADS);
    for row in cavities(body) {
        table.row(row);
    }
    table.write(&mut page);
    page.heading("Conditions, the one that decides first");
    for line in conditions(body) {
        page.hanging("  ", &line);
    }
    page.end(answer)
}

/// The heads of the table of cavities; `>` marks numbers.
pub const CAVITY_HEADS: [&str; 8] = [
    "cavity",
    ">mass, g",
    ">from mean, %",
    ">full, s",
    ">gate frozen, s",
    ">pull, g·mm",
    ">from gate",
    ">shrinks, %",
];

/// The cells of the cavities.
pub fn cavities(body: &MouldBody) -> Vec<Vec<String>> {
    let time = |s: Option<f64>, never: &str| s.map_or_else(|| never.to_owned(), |s| number(s, 2));
    body.cavities
        .iter()
        .map(|c| {
            vec![
                c.name.clone(),
                number(c.mass_g, 3),
                signed(c.from_mean_percent, 2),
                time(c.full_s, "short"),
                time(c.gate_freeze_s, "open"),
                number(c.unbalance.mass_distance_g_mm, 3),
                c.from_gate_deg.map_or_else(String::new, angle),
                number(c.volume_shrinkage_percent, 2),
            ]
        })
        .collect()
}

/// The cells of the way.
pub fn drops(body: &MouldBody) -> Vec<Vec<String>> {
    body.fill
        .drops
        .iter()
        .map(|d| {
            vec![
                d.name.clone(),
                number(d.pressure_mpa, 1),
                d.shear_per_s
                    .map_or_else(String::new, |rate| number((rate / 10.0).round() * 10.0, 0)),
            ]
        })
        .collect()
}

/// The conditions in words, each with the shape of how it stands, and what to change.
pub fn conditions(body: &MouldBody) -> Vec<String> {
    body.conditions
        .iter()
        .map(|c| {
            let shape = match c.stands {
                Stands::Kept => '✓',
                Stands::Edge => '▲',
                Stands::Broken => '■',
            };
            let change = if c.change.is_empty() {
                String::new()
            } else {
                format!(" To change: {}.", c.change)
            };
            format!("{shape} {}.{change}", c.words.trim_end_matches('.'))
        })
        .collect()
}

/// The set-up's numbers, as labels and values; the sheet shows the same.
pub fn whole(body: &MouldBody) -> Vec<(&'static str, String)> {
    let mut rows = vec![("set", set(body)), ("half", half(body))];
    rows.extend(pull(body));
    rows.extend([
        ("filling", filling(body)),
        ("hold", hold(body)),
        (
            "clamp",
            format!(
                "{} of {}: {}",
                places(body.clamp.opening_kn, 0, "kN"),
                places(body.clamp.press_kn, 0, "kN"),
                body.clamp.sum
            ),
        ),
        (
            "shot",
            format!("{}; {}", places(body.shot.mass_g, 1, "g"), body.shot.sum),
        ),
        (
            "barrel",
            format!(
                "{} of the stroke with the cushion; {} in the barrel",
                percent(body.shot.stroke_share),
                places(body.shot.residence_min, 1, "min")
            ),
        ),
        ("cooling", cooling(body)),
        ("shrinkage", shrinkage(body)),
    ]);
    rows.extend(body.shrinkage.sizes.iter().map(|s| {
        let said = format!(
            "{}: cut {} for {} (± {} by the range of the shrinkage)",
            s.name,
            places(s.cavity_mm, 3, "mm"),
            places(s.half_mm, 3, "mm"),
            number(s.doubt_mm, 3)
        );
        ("cut the cavity to", said)
    }));
    rows.extend([
        ("cycle", cycle(body)),
        (
            "a thousand halves",
            format!(
                "{} of resin ({} of it sprue and runners), {}",
                places(body.cycle.thousand_kg, 1, "kg"),
                percent(body.cycle.feed_share),
                places(body.cycle.thousand_h, 1, "h")
            ),
        ),
        ("drying", body.handling.drying.clone()),
        ("temperatures", body.handling.temperatures.clone()),
        ("regrind", body.handling.regrind.clone()),
        ("barrel before", body.handling.purge.clone()),
        ("handed on", handed_on(body)),
    ]);
    rows.extend(
        body.ring_gate
            .as_ref()
            .map(|r| ("with a ring gate", ring_gate(r))),
    );
    rows
}

fn set(body: &MouldBody) -> String {
    let s = &body.setting;
    let steps: Vec<String> = s
        .hold
        .iter()
        .map(|h| {
            format!(
                "{} for {}",
                places(h.pressure_mpa, 0, "MPa"),
                places(h.time_s, 1, "s")
            )
        })
        .collect();
    format!(
        "melt {}, wall {}, fill in {}, over at {}, hold {}, then {} of cooling",
        places(s.melt_degc, 0, "°C"),
        places(s.wall_degc, 0, "°C"),
        places(s.fill_s, 2, "s"),
        percent(s.switch_share),
        steps.join(" and "),
        places(s.cooling_s, 1, "s")
    )
}

fn half(body: &MouldBody) -> String {
    let h = &body.half;
    format!(
        "{} (the card's own doubt ± {}; drawn {}), cavities {} apart",
        places(h.mass_g, 3, "g"),
        places(h.mass_doubt_g, 2, "g"),
        places(h.drawn_mass_g, 3, "g"),
        places(h.between_cavities_g, 3, "g")
    )
}

/// The pull of the cavity that pulls most.
fn pull(body: &MouldBody) -> Option<(&'static str, String)> {
    let by = |a: &&_, b: &&_| pull_of(a).total_cmp(&pull_of(b));
    let c = body.cavities.iter().max_by(by)?;
    let to = match c.from_gate_deg {
        None => String::new(),
        Some(deg) if !(90.0..270.0).contains(&deg) => ", on the gate's side".to_owned(),
        Some(_) => ", on the side away from the gate".to_owned(),
    };
    let said = format!(
        "{} at {}{to} (cavity {}): the mass sits {} off the axle; couple {}",
        figures(c.unbalance.mass_distance_g_mm, 2, "g·mm"),
        angle(c.unbalance.angle_deg),
        c.name,
        figures(c.eccentricity_um, 2, "µm"),
        figures(c.couple.moment_g_mm2, 2, "g·mm²")
    );
    Some(("pull to one side", said))
}

fn pull_of(c: &whirlwright_workshop::moulding::CavityLine) -> f64 {
    c.unbalance.mass_distance_g_mm
}

fn filling(body: &MouldBody) -> String {
    let f = &body.fill;
    let ruled = if f.limited {
        "; the press's pressure, not its speed, ruled"
    } else {
        ""
    };
    format!(
        "over at {} with {} at the nozzle, of {} there are; {}{ruled}",
        places(f.switch_s, 2, "s"),
        places(f.switch_mpa, 0, "MPa"),
        places(f.press_mpa, 0, "MPa"),
        places(f.flow_cm3_per_s, 1, "cm³/s")
    )
}

fn hold(body: &MouldBody) -> String {
    let h = &body.hold;
    let freeze = match (h.gate_freeze_s, h.needed_s) {
        (Some(at), Some(needed)) => format!(
            "the gate freezes {} after the start, so the hold must last {}",
            places(at, 1, "s"),
            places(needed, 1, "s")
        ),
        _ => "the gate is still open when the reckoning ends".to_owned(),
    };
    let back = if h.ran_back {
        "; melt runs back out when it ends"
    } else {
        ""
    };
    format!(
        "{} set; {freeze}{back}; {} in the cavity at most",
        places(h.time_s, 1, "s"),
        places(h.most_cavity_mpa, 0, "MPa")
    )
}

fn cooling(body: &MouldBody) -> String {
    let c = &body.cooling;
    format!(
        "{} from the end of filling until everywhere below {} ({} set); last at {} (x {}, radius {}, wall {}); a plate of that wall {}; the last refinement changed {}",
        places(c.needed_s, 1, "s"),
        places(c.eject_degc, 0, "°C"),
        places(c.set_s, 1, "s"),
        c.hot_place,
        number(c.hot_axial_mm, 1),
        places(c.hot_radius_mm, 1, "mm"),
        places(c.hot_wall_mm, 2, "mm"),
        places(c.plate_s, 1, "s"),
        figures(c.change_percent, 1, "%")
    )
}

fn shrinkage(body: &MouldBody) -> String {
    format!(
        "{} % along the part (tables: {} %)",
        range(body.shrinkage.along_percent, 2),
        range(body.shrinkage.usual_percent, 2)
    )
}

fn cycle(body: &MouldBody) -> String {
    let steps: Vec<String> = body
        .cycle
        .steps
        .iter()
        .map(|s| format!("{} {}", s.name, number(s.time_s, 1)))
        .collect();
    format!(
        "{} ({}, in s)",
        places(body.cycle.cycle_s, 1, "s"),
        steps.join(" + ")
    )
}

fn ring_gate(ring: &RingGateLine) -> String {
    if !ring.fills {
        return format!("all round at the {}: it does not fill", ring.place);
    }
    format!(
        "all round at the {}, as deep: pull {} instead of {}, half {}, {} at the switch-over",
        ring.place,
        number(ring.unbalance_g_mm, 3),
        places(ring.edge_unbalance_g_mm, 3, "g·mm"),
        places(ring.mass_g, 3, "g"),
        places(ring.switch_mpa, 0, "MPa")
    )
}

fn handed_on(body: &MouldBody) -> String {
    let h = &body.handed_on;
    format!(
        "{} with {} from shot to shot and {} between cavities (sd); pull toward the gate {} ± {}",
        places(h.mass_g, 3, "g"),
        places(h.shot_sd_g, 4, "g"),
        places(h.cavity_sd_g, 4, "g"),
        number(h.toward_gate_g_mm, 3),
        places(h.toward_gate_sd_g_mm, 3, "g·mm")
    )
}

/// An angle in whole degrees, a full turn told as 0.
fn angle(deg: f64) -> String {
    places(deg.round().rem_euclid(360.0), 0, "°")
}

fn percent(share: f64) -> String {
    places(100.0 * share, 0, "%")
}

fn range(range: Range, behind: usize) -> String {
    if range.is_one() {
        return number(range.likely, behind);
    }
    format!(
        "{} to {}",
        number(range.low, behind),
        number(range.high, behind)
    )
}
