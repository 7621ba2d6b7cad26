//! Words that every front uses alike.

use whirlwright_workshop::part::job::MaterialKind;
use whirlwright_workshop::part::{Basis, Kind, Verdict};
use whirlwright_workshop::turning::Surface;

/// The verdict's word.
#[must_use]
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Good => "good",
        Verdict::Look => "look",
        Verdict::Stop => "stop",
    }
}

/// The verdict's shape, as a sign of the font.
#[must_use]
pub fn shape(verdict: Verdict) -> char {
    match verdict {
        Verdict::Good => '✓',
        Verdict::Look => '▲',
        Verdict::Stop => '■',
    }
}

/// Limits as they are written, with a true minus sign.
#[must_use]
pub fn limits(text: &str) -> String {
    text.replace('-', "−")
}

/// What a size of a turned surface is told on, where that must be said.
#[must_use]
pub fn on_the_diameter(surface: Surface) -> &'static str {
    match surface {
        Surface::Outside | Surface::Bore => "on the diameter",
        Surface::Face | Surface::Taper => "",
    }
}

/// One part of this kind.
#[must_use]
pub fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Half => "half",
        Kind::Rim => "rim",
        Kind::Dressed => "dressed half",
        Kind::Other => "part",
    }
}

/// Several parts of this kind.
#[must_use]
pub fn kinds(kind: Kind) -> &'static str {
    match kind {
        Kind::Half => "halves",
        Kind::Rim => "rims",
        Kind::Dressed => "dressed halves",
        Kind::Other => "parts",
    }
}

/// What the origin of a part of this kind is called.
#[must_use]
pub fn origin(kind: Kind) -> &'static str {
    match kind {
        Kind::Half | Kind::Dressed => "cavity",
        Kind::Rim => "insert",
        Kind::Other => "pack",
    }
}

/// Where a number comes from.
#[must_use]
pub fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured => "measured",
        Basis::Computed => "computed",
        Basis::Assumed => "assumed",
    }
}

/// What a piece is made of, as the legend says it.
#[must_use]
pub fn material(kind: MaterialKind) -> &'static str {
    match kind {
        MaterialKind::Polymer => "resin",
        MaterialKind::Metal => "metal",
        MaterialKind::Elastomer => "rubber",
        MaterialKind::Bought => "bought part",
        MaterialKind::Unknown => "material not stated",
    }
}

/// Keys in words, without their units: `mass_difference_g` is `mass difference`, and
/// `mass_g of rims` is `mass of rims`.
#[must_use]
pub fn of_key(keys: &str) -> String {
    let mut words = String::with_capacity(keys.len());
    for (n, word) in keys.split(' ').enumerate() {
        if n > 0 {
            words.push(' ');
        }
        let key = word.trim_end_matches([',', ';', ':']);
        words.push_str(&bare_key(key).replace('_', " "));
        words.push_str(&word[key.len()..]);
    }
    words
}

fn bare_key(key: &str) -> &str {
    // The longest first: `_mm_per_s` also ends in `_s`.
    const UNITS: &[&str] = &[
        "_un_m_per_rad",
        "_deg_per_s",
        "_rad_per_s",
        "_m_per_s2",
        "_mm_per_s",
        "_m_per_s",
        "_percent",
        "_g_cm3",
        "_g_mm2",
        "_kg_m3",
        "_rad_s",
        "_degc",
        "_g_mm",
        "_mrad",
        "_pa_s",
        "_un_m",
        "_cst",
        "_deg",
        "_kpa",
        "_mm2",
        "_mm3",
        "_mpa",
        "_rpm",
        "_db",
        "_hz",
        "_mg",
        "_mm",
        "_mn",
        "_um",
        "_g",
        "_j",
        "_n",
        "_s",
    ];
    UNITS
        .iter()
        .find_map(|unit| key.strip_suffix(unit))
        .unwrap_or(key)
}

/// A sentence that stands beside a label, without the label it may begin with.
#[must_use]
pub fn beside(label: &str, text: &str) -> String {
    let rest = text
        .get(..label.len())
        .filter(|start| start.eq_ignore_ascii_case(label));
    let rest = rest.and_then(|_| text[label.len()..].strip_prefix(':'));
    sentence(rest.map_or(text, str::trim_start))
}

/// A text that begins like a sentence.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The same text with spaces that no line may break at: between a number and its unit, and about
/// `±`.
#[must_use]
pub fn glued(text: &str) -> String {
    const UNITS: &[&str] = &[
        "g",
        "mg",
        "kg",
        "mm",
        "mm²",
        "mm³",
        "µm",
        "g·mm",
        "g·mm²",
        "g/mm",
        "g/cm³",
        "%",
        "°C",
        "N",
        "MPa",
        "rpm",
        "s",
        "min",
        "h",
        "deg",
        "degrees",
        "bar",
        "mN",
        "J",
        "m/s",
        "mm/s",
        "rad/s",
        "µN·m",
        "µN·m/rad",
        "cSt",
        "kPa",
        "hPa",
        "Hz",
        "kHz",
        "dB",
        "ms",
        "m/s²",
    ];
    let words: Vec<&str> = text.split(SPACES).filter(|word| !word.is_empty()).collect();
    let mut out = String::with_capacity(text.len());
    for (n, word) in words.iter().enumerate() {
        if n > 0 {
            let before = words[n - 1];
            let bare = word.trim_end_matches([',', '.', ';', ':', ')']);
            let number = before.ends_with(|c: char| c.is_ascii_digit());
            let joined = (number && UNITS.contains(&bare)) || bare == "±" || before == "±";
            out.push(if joined { GLUE } else { ' ' });
        }
        out.push_str(word);
    }
    out
}

/// A space at which no line is broken.
pub const GLUE: char = '\u{a0}';
/// Where lines may be broken.
pub const SPACES: [char; 4] = [' ', '\n', '\t', '\r'];

/// The line that stands on every sheet by which somebody sets up or works.
pub const STANDING_LINE: &str = "Follow your machine maker's instructions, local law and the advice \
    of licensed people; where they differ from this page, they win. Values here are guidance, not \
    permission.";

/// What is said of a lot whose note calls it invented.
pub const INVENTED: &str = "Invented demo data: no such workshop, lot or part exists.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_label_is_not_said_twice() {
        assert_eq!(
            beside("same mass", "Same mass: the two sides agree."),
            "The two sides agree."
        );
        assert_eq!(beside("same mass", "All agree."), "All agree.");
        assert_eq!(beside("same mass", "ä: é"), "Ä: é");
    }

    #[test]
    fn law_a_number_is_never_torn_from_its_unit() {
        let glued = glued("weigh 57.60 g ± 0.10 g, then 3 more g or so");
        assert_eq!(
            glued,
            "weigh 57.60\u{a0}g\u{a0}±\u{a0}0.10\u{a0}g, then 3 more g or so"
        );
    }

    #[test]
    fn law_a_key_loses_its_unit_and_nothing_else() {
        for (key, words) in [
            ("mass_difference_g", "mass difference"),
            ("polar_inertia_g_mm2", "polar inertia"),
            ("unbalance_difference_g_mm", "unbalance difference"),
            ("sets", "sets"),
            ("mass_g of rims", "mass of rims"),
            ("mean_mass_g, sd_mass_g", "mean mass, sd mass"),
            ("g", "g"),
            ("sleep_s", "sleep"),
            ("dry_torque_un_m", "dry torque"),
            ("rim_factor", "rim factor"),
        ] {
            assert_eq!(of_key(key), words);
        }
    }
}
