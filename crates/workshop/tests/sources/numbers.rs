//! Numbers that look as if they came from a book, in code.

use super::tree::rust::{Keep, bare, tokens};
use super::tree::{Finding, apply, files, none};

/// Words of a name that say: this is a property of a material, of nature, or of a standard.
const PROPERTIES: [&str; 22] = [
    "density",
    "densities",
    "modulus",
    "poisson",
    "viscosity",
    "conductivity",
    "diffusivity",
    "expansion",
    "shrinkage",
    "friction",
    "gravity",
    "gas",
    "heat",
    "stress",
    "strength",
    "hardness",
    "temperature",
    "pressure",
    "pound",
    "ounce",
    "inch",
    "g0",
];

/// Numbers that anybody may write: they count, or they are exact by the meaning of the word.
fn is_plain(number: &str) -> bool {
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    digits.trim_matches('0').len() <= 1
}

/// A constant or a binding that is named after a property and given a number on the spot.
fn no_book_number(path: &str, text: &str) -> Vec<Finding> {
    let tokens = tokens(&bare(text, Keep::Code));
    let tests = tokens
        .windows(2)
        .position(|pair| pair[0].is("mod") && pair[1].is("tests"));
    let tokens = &tokens[..tests.unwrap_or(tokens.len())];
    let mut found = Vec::new();
    for (at, token) in tokens.iter().enumerate() {
        let names_one = token
            .text
            .to_lowercase()
            .split('_')
            .any(|word| PROPERTIES.contains(&word));
        if !token.is_name() || !names_one {
            continue;
        }
        // `NAME: f64 = 1.13`, `name = 1.13`, `name: 1.13`: the number follows within four signs.
        let after = tokens[at + 1..].iter().take(5);
        let mut after = after.take_while(|t| {
            [":", "=", "f64", "f32", "-"].contains(&t.text.as_str()) || digit(&t.text)
        });
        if let Some(number) = after
            .find(|t| digit(&t.text))
            .filter(|t| !is_plain(&whole(tokens, t.line)))
        {
            let says = format!(
                "`{}` is given a number from a book: it goes to shelf/*.toml",
                token.text
            );
            found.push(Finding::new(path, number.line, says));
        }
    }
    found
}

fn digit(text: &str) -> bool {
    text.starts_with(|letter: char| letter.is_ascii_digit())
}

/// All digits of the numbers on a line, for `1.13` is three tokens.
fn whole(tokens: &[super::tree::rust::Token], line: usize) -> String {
    tokens
        .iter()
        .filter(|t| t.line == line && digit(&t.text))
        .map(|t| t.text.replace("f64", ""))
        .collect()
}

/// Numbers with their first digits as handbooks print them: densities in g/cm³ and kg/m³, moduli,
/// gravity, gas constant, pound, ounce. A hit in code is a hit wherever it stands.
const BOOK: [&str; 18] = [
    "9.80665",
    "9.81",
    "8.314",
    "2.70",
    "2.71",
    "2.80",
    "2.81",
    "7.85",
    "7.87",
    "8.47",
    "1.42",
    "0.45359237",
    "28.349523125",
    "101325",
    "273.15",
    "1.225",
    "1.204",
    "7850.0",
];

/// Lines that hold one of [`BOOK`] and are no book number.
const ALLOWED: [(&str, &str); 0] = [];

fn no_known_number(path: &str, text: &str) -> Vec<Finding> {
    let code = bare(text, Keep::Code);
    let before_tests = code
        .find("mod tests")
        .map_or(code.as_str(), |at| &code[..at]);
    let mut found = Vec::new();
    for (index, line) in before_tests.lines().enumerate() {
        let numbers =
            line.split(|letter: char| !letter.is_ascii_digit() && letter != '.' && letter != '_');
        for number in numbers
            .map(|number| number.replace('_', ""))
            .filter(|n| BOOK.contains(&n.as_str()))
        {
            if !ALLOWED
                .iter()
                .any(|(known, _)| *known == format!("{path}:{number}"))
            {
                found.push(Finding::new(
                    path,
                    index + 1,
                    format!("{number} is a number from a book: shelf/*.toml"),
                ));
            }
        }
    }
    found
}

#[test]
fn law_no_book_number_in_code() {
    for room in ["kit", "workshop", "ledger", "paper", "counter"] {
        let source = files(&format!("crates/{room}/src"), &[".rs"]);
        none(&apply(&source, no_book_number));
        none(&apply(&source, no_known_number));
    }
}

/// Each rule, shown to fail on a planted fault.
#[test]
fn law_a_planted_book_number_is_named() {
    let lines = |text: &str| {
        no_book_number("a", text)
            .iter()
            .map(|f| f.line)
            .collect::<Vec<_>>()
    };
    assert_eq!(lines("const DENSITY_G_CM3: f64 = 1.13;\n"), [1]);
    assert_eq!(lines("\nlet p = Material { density: 1.13, wall: 2 };"), [2]);
    assert_eq!(
        lines("let density = 1.0;\nlet pressure = given.pressure;"),
        [0usize; 0]
    );
    assert_eq!(lines("mod tests {\n let density = 1.13;\n}"), [0usize; 0]);
    assert_eq!(
        no_known_number("a", "// 9.81 in words\nlet g = 9.81;")
            .first()
            .map(|f| f.line),
        Some(2)
    );
    assert_eq!(no_known_number("a", "let a = 19.81; let b = 2.7;"), []);
}
