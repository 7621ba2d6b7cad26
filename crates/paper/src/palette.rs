//! The few colours there are, and what they may be used for.
//!
//! Categories: the set of eight by Okabe and Ito (2008), made to be told apart by colour-blind
//! readers. Colour never carries a meaning alone: a word or a shape stands beside it.

use whirlwright_workshop::part::Verdict;

/// A colour as red, green and blue, 0 to 255 each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// The colour as SVG and HTML write it, such as `#0072b2`.
    #[must_use]
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}

/// Text and outlines: nearly black, 15 : 1 on [`PAPER`].
pub const INK: Colour = Colour(0x1f, 0x1d, 0x1a);
/// Second-rank text: 6 : 1 on [`PAPER`], above the 4.5 : 1 asked for text.
pub const PENCIL: Colour = Colour(0x5a, 0x56, 0x50);
/// Rules and axes: 3.3 : 1 on [`PAPER`], above the 3 : 1 asked for graphics.
pub const RULE: Colour = Colour(0x8a, 0x85, 0x7d);
/// Faint fills and rulings that carry nothing by themselves.
pub const WASH: Colour = Colour(0xec, 0xe7, 0xdd);
/// The ground of pictures on a screen.
pub const PAPER: Colour = Colour(0xff, 0xfd, 0xf8);

/// The categories of Okabe and Ito without black and yellow (yellow is too faint on paper).
pub const CATEGORIES: [Colour; 6] = [
    Colour(0x00, 0x72, 0xb2),
    Colour(0xe6, 0x9f, 0x00),
    Colour(0x00, 0x9e, 0x73),
    Colour(0xcc, 0x79, 0xa7),
    Colour(0x56, 0xb4, 0xe9),
    Colour(0xd5, 0x5e, 0x00),
];

/// The colour of the n-th category; they repeat after the sixth, where labels must tell.
#[must_use]
pub fn category(n: usize) -> Colour {
    CATEGORIES[n % CATEGORIES.len()]
}

/// Ten stops of cividis (Nuñez, Anderton and Renslow 2018): a ramp from dark blue to yellow whose
/// lightness rises evenly, for colour-blind readers and for grey print alike.
const CIVIDIS: [Colour; 10] = [
    Colour(0x00, 0x22, 0x4e),
    Colour(0x12, 0x35, 0x70),
    Colour(0x3b, 0x49, 0x6c),
    Colour(0x57, 0x5d, 0x6d),
    Colour(0x70, 0x71, 0x73),
    Colour(0x8a, 0x86, 0x78),
    Colour(0xa5, 0x9c, 0x74),
    Colour(0xc3, 0xb3, 0x69),
    Colour(0xe1, 0xcc, 0x55),
    Colour(0xfe, 0xe8, 0x38),
];

/// The colour of a level between 0 (lowest, dark) and 1 (highest, light); for fields only.
#[must_use]
pub fn ramp(share: f64) -> Colour {
    let share = if share.is_finite() { share } else { 0.0 };
    let place = share.clamp(0.0, 1.0) * (CIVIDIS.len() - 1) as f64;
    let below = (place as usize).min(CIVIDIS.len() - 2);
    let (from, to, part) = (CIVIDIS[below], CIVIDIS[below + 1], place - below as f64);
    mixed(from, to, part)
}

/// The colour of a level between 0 (light) and 1 (dark) in one hue, the blue of the first category; its lightness falls evenly.
#[must_use]
pub fn one_hue(share: f64) -> Colour {
    const LIGHT: Colour = Colour(0xf2, 0xf6, 0xfa);
    const MIDDLE: Colour = Colour(0x7f, 0xb2, 0xd6);
    const DARK: Colour = Colour(0x0b, 0x4f, 0x86);
    let share = if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.0
    };
    let (from, to, part) = if share < 0.5 {
        (LIGHT, MIDDLE, share * 2.0)
    } else {
        (MIDDLE, DARK, share * 2.0 - 1.0)
    };
    mixed(from, to, part)
}

fn mixed(from: Colour, to: Colour, part: f64) -> Colour {
    let mix = |a: u8, b: u8| (f64::from(a) + part * (f64::from(b) - f64::from(a))).round() as u8;
    Colour(mix(from.0, to.0), mix(from.1, to.1), mix(from.2, to.2))
}

/// The colour that repeats what the verdict's word and shape already say.
#[must_use]
pub fn of_verdict(verdict: Verdict) -> Colour {
    match verdict {
        Verdict::Good => Colour(0x00, 0x6b, 0x4e),
        Verdict::Look => Colour(0x8a, 0x5a, 0x00),
        Verdict::Stop => Colour(0xa3, 0x36, 0x00),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as the web content guidelines 2.2 define it.
    fn luminance(colour: Colour) -> f64 {
        let channel = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                ((c + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(colour.0) + 0.7152 * channel(colour.1) + 0.0722 * channel(colour.2)
    }

    fn contrast(a: Colour, b: Colour) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn law_text_stands_out_from_the_paper() {
        let verdicts = [Verdict::Good, Verdict::Look, Verdict::Stop].map(of_verdict);
        for colour in [INK, PENCIL].into_iter().chain(verdicts) {
            assert!(
                contrast(colour, PAPER) >= 4.5,
                "{}: {}",
                colour.hex(),
                contrast(colour, PAPER)
            );
        }
    }

    #[test]
    fn law_the_ramp_grows_lighter_all_the_way() {
        let shades: Vec<f64> = (0..=100)
            .map(|n| luminance(ramp(f64::from(n) / 100.0)))
            .collect();
        assert!(
            shades.windows(2).all(|pair| pair[1] >= pair[0]),
            "{shades:?}"
        );
        assert!(ramp(0.0) == CIVIDIS[0] && ramp(1.0) == CIVIDIS[9] && ramp(f64::NAN) == CIVIDIS[0]);
    }

    #[test]
    fn law_one_hue_grows_darker_all_the_way() {
        let shades: Vec<f64> = (0..=50)
            .map(|n| luminance(one_hue(f64::from(n) / 50.0)))
            .collect();
        assert!(
            shades.windows(2).all(|pair| pair[1] < pair[0]),
            "{shades:?}"
        );
    }

    #[test]
    fn law_rules_stand_out_from_the_paper() {
        assert!(contrast(RULE, PAPER) >= 3.0, "{}", contrast(RULE, PAPER));
    }
}
