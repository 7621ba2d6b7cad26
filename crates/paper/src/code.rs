//! The short code on a sheet, to be typed where no scanner is, and the same sheet's QR square.
//!
//! Eight signs out of 31 that cannot be taken for one another (no 0, O, 1, I, L); the last one
//! checks the others. Thirty-one is prime, so one wrong sign and two exchanged neighbours are
//! always found.

use kurbo::{BezPath, Rect, Shape};
use qrcode::{Color, EcLevel, QrCode};

/// The signs of a code, in the order of their values.
pub const SIGNS: &[u8; 31] = b"23456789ABCDEFGHJKMNPQRSTUVWXYZ";

/// Signs in a code, the check sign included.
pub const LENGTH: usize = 8;

/// The code of what a text names (such as `D26 traveller`); the same text gives the same code.
///
/// It is a digest, not a secret: whoever holds the record finds the text by trying its names.
#[must_use]
pub fn of(text: &str) -> String {
    // FNV-1a, 64 bits: small, published, the same on every machine.
    let mut digest = 0xcbf2_9ce4_8422_2325u64;
    for byte in text.bytes() {
        digest = (digest ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    }
    let mut values = [0u64; LENGTH];
    for value in values.iter_mut().take(LENGTH - 1) {
        *value = digest % 31;
        digest /= 31;
    }
    values[LENGTH - 1] = (31 - weighed_sum(&values) % 31) % 31;
    values
        .iter()
        .map(|value| char::from(SIGNS[*value as usize]))
        .collect()
}

/// Whether a typed code can be right; small letters, spaces and dashes are forgiven.
#[must_use]
pub fn is_whole(typed: &str) -> bool {
    let mut values = [0u64; LENGTH];
    let mut count = 0;
    for letter in typed.chars().filter(|c| !c.is_whitespace() && *c != '-') {
        let sign = letter.to_ascii_uppercase();
        let Some(value) = SIGNS.iter().position(|s| char::from(*s) == sign) else {
            return false;
        };
        if count == LENGTH {
            return false;
        }
        values[count] = value as u64;
        count += 1;
    }
    count == LENGTH && weighed_sum(&values).is_multiple_of(31)
}

/// The weights differ and none is a multiple of 31; the check sign weighs 1.
fn weighed_sum(values: &[u64; LENGTH]) -> u64 {
    values
        .iter()
        .zip((1..=LENGTH as u64).rev())
        .map(|(value, weight)| value * weight)
        .sum()
}

/// The code in two groups of four, as it is printed.
#[must_use]
pub fn grouped(code: &str) -> String {
    let letters: Vec<char> = code.chars().collect();
    letters
        .chunks(4)
        .map(|four| four.iter().collect::<String>())
        .collect::<Vec<_>>()
        .join(" ")
}

/// The QR square of a text as one path in a square of this side; none if the text is too long.
///
/// The quiet margin of four modules must be left free by the layout.
#[must_use]
pub fn qr(text: &str, x: f64, y: f64, side: f64) -> Option<BezPath> {
    // A quarter of the words may be lost: these sheets see oily fingers.
    let code = QrCode::with_error_correction_level(text, EcLevel::Q).ok()?;
    let modules = code.width();
    let module = side / modules as f64;
    let dark = code.to_colors();
    let mut path = BezPath::new();
    for row in 0..modules {
        let mut column = 0;
        while column < modules {
            let run = (column..modules)
                .take_while(|c| dark[row * modules + c] == Color::Dark)
                .count();
            if run > 0 {
                let left = x + column as f64 * module;
                let top = y + row as f64 * module;
                let bar = Rect::new(left, top, left + run as f64 * module, top + module);
                path.extend(bar.path_elements(0.1));
            }
            column += run.max(1);
        }
    }
    Some(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_code_is_whole_and_one_wrong_sign_breaks_it() {
        for text in ["D26", "D27", "", "D26 traveller", "ÄÖÜ"] {
            let code = of(text);
            assert_eq!(code.len(), LENGTH);
            assert!(
                is_whole(&code) && is_whole(&grouped(&code).to_lowercase()),
                "{code}"
            );
            for place in 0..LENGTH {
                for sign in SIGNS {
                    let mut wrong = code.clone().into_bytes();
                    wrong[place] = *sign;
                    let wrong = String::from_utf8(wrong).unwrap();
                    assert_eq!(is_whole(&wrong), wrong == code, "{code} {wrong}");
                }
            }
        }
    }

    #[test]
    fn law_two_exchanged_neighbours_are_found() {
        let code = of("D26 pick list").into_bytes();
        for place in 1..LENGTH {
            let mut wrong = code.clone();
            wrong.swap(place - 1, place);
            assert_eq!(
                is_whole(std::str::from_utf8(&wrong).unwrap()),
                wrong == code
            );
        }
    }

    #[test]
    fn law_signs_that_look_alike_are_left_out_and_refused() {
        assert!(b"0O1IL".iter().all(|sign| !SIGNS.contains(sign)));
        for typed in [
            "",
            "2345678",
            "234567890",
            "0OOO1111",
            "ABCDEFGHJ",
            "日本語日本語日本",
        ] {
            assert!(!is_whole(typed), "{typed} was taken");
        }
    }

    #[test]
    fn law_a_square_is_drawn_inside_its_side_and_a_novel_is_not() {
        let path = qr("whirlwright D26", 10.0, 20.0, 60.0).unwrap();
        let around = path.bounding_box();
        assert!(around.x0 >= 10.0 - 1e-9 && around.x1 <= 70.0 + 1e-9);
        assert!(around.y0 >= 20.0 - 1e-9 && around.y1 <= 80.0 + 1e-9);
        assert!(qr(&"x".repeat(5000), 0.0, 0.0, 60.0).is_none());
    }
}
