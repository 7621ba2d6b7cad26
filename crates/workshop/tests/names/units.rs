//! A public number has its unit, or the word for a number without one, in its name.

use super::tree::rust::{Keep, Token, bare, tokens};
use super::tree::{Finding, apply, files, none};

/// Unit suffixes, as the last words of a name. Compound units are written out (`g_mm2`).
const UNITS: &[&str] = &[
    "g",
    "kg",
    "mm",
    "um",
    "m",
    "mm2",
    "mm3",
    "cm3",
    "m3",
    "g_mm",
    "g_mm2",
    "kg_m2",
    "g_cm3",
    "kg_m3",
    "g_per_mm",
    "mm_per_g",
    "deg",
    "rad",
    "degc",
    "k",
    "mpa",
    "bar",
    "n",
    "kn",
    "nm",
    "nmm",
    "rpm",
    "s",
    "min",
    "h",
    "ms",
    "hz",
    "j",
    "w",
    "percent",
    "kpa",
    "pa",
    "cst",
    "m2_per_s",
    "pa_s",
    "m_per_s",
    "m_per_s2",
    "mm_per_s",
    "rad_per_s",
    "rad_per_s2",
    "deg_per_s",
    "n_m",
    "un_m",
    "mn",
    "un_m_per_rad",
    "mrad",
    "m_per_s2",
];

/// Words for numbers that have no unit, or take the unit of what they are given.
const WITHOUT: &[&str] = &[
    "cost",
    "share",
    "shares",
    "ratio",
    "count",
    "number",
    "sigma",
    "sigmas",
    "score",
    "factor",
    "weight",
    "fraction",
    "probability",
    "quantile",
    "statistic",
    "level",
    "scale",
    "tolerance",
    "rank",
    "distance",
    "units",
    "coefficient",
    "bound",
    "gain",
    "f64",
    "sets",
    "pieces",
    "parts",
    "per_gram",
    "order",
    "amplification",
    "worth",
    "float",
    "price",
];

/// Words that say which of several values it is; the unit stands before them.
const WHICH: [&str; 10] = [
    "at_most", "at_least", "least", "most", "mean", "sd", "median", "before", "after", "total",
];

/// Words for a number whose unit is chosen by the data. Its documentation says where the unit stands.
const GENERIC: &[&str] = &[
    "likely",
    "likely_at",
    "at",
    "from",
    "to",
    "value",
    "values",
    "low",
    "high",
    "within",
    "mean",
    "sd",
    "worst",
    "best",
    "median",
    "of",
    "to_base",
    "standard_deviation",
    "exact",
    "as_limit",
    "found",
    "at_least",
    "at_most",
    "offset",
    "float",
    "xx",
    "yy",
    "zz",
    "xy",
    "xz",
    "yz",
];

fn says_its_unit(name: &str, documented: bool) -> bool {
    let ends = |words: &[&str]| {
        words
            .iter()
            .any(|w| name == *w || name.ends_with(&format!("_{w}")))
    };
    let shorter = WHICH
        .iter()
        .find_map(|which| name.strip_suffix(which)?.strip_suffix('_'));
    ends(UNITS)
        || ends(WITHOUT)
        || (documented && ends(GENERIC))
        || shorter.is_some_and(|shorter| says_its_unit(shorter, documented))
}

/// Whether the documentation of a line, or of the type it stands in, speaks of the unit.
fn documents_its_unit(text: &str, line: usize) -> bool {
    let above: Vec<&str> = text.lines().take(line - 1).collect();
    let own_type = above
        .iter()
        .rposition(|line| line.starts_with("pub struct "))
        .unwrap_or(0);
    speaks_of_unit(&above) || speaks_of_unit(&above[..own_type])
}

fn speaks_of_unit(above: &[&str]) -> bool {
    let head = |line: &&&str| line.trim_start().starts_with(['/', '#']);
    above
        .iter()
        .rev()
        .take_while(head)
        .any(|line| line.contains("unit"))
}

/// Whether a type is a number a person would read, alone or in a list, an option or a result.
fn is_a_number(kind: &[Token]) -> bool {
    let words: Vec<&str> = kind
        .iter()
        .filter(|t| t.is_name())
        .map(|t| t.text.as_str())
        .collect();
    let around = [
        "Option", "Vec", "Result", "Box", "std", "core", "Decimal", "f64", "mut",
    ];
    words.iter().any(|word| ["f64", "Decimal"].contains(word))
        && words
            .iter()
            .all(|word| around.contains(word) || word.ends_with("Error"))
        && !kind.iter().any(|token| token.is("->"))
}

/// The tokens from `at` to the end of a type: a comma, a brace or a `;` outside brackets.
fn kind_from(tokens: &[Token], at: usize) -> &[Token] {
    let mut depth = 0i32;
    let end = tokens[at..].iter().position(|token| {
        match token.text.as_str() {
            "<" | "(" | "[" => depth += 1,
            ">" | ")" | "]" => depth -= 1,
            _ => {}
        }
        depth < 0
            || (depth == 0 && [",", "{", "}", ";", "=", "where"].contains(&token.text.as_str()))
    });
    &tokens[at..end.map_or(tokens.len(), |length| at + length)]
}

/// Public fields and functions that are numbers and do not say of what unit.
fn units_in_names(path: &str, text: &str) -> Vec<Finding> {
    let tokens = tokens(&bare(text, Keep::Code));
    let mut found = Vec::new();
    for at in 0..tokens.len().saturating_sub(3) {
        if !tokens[at].is("pub") {
            continue;
        }
        let (name, kind) = match (&tokens[at + 1], &tokens[at + 2]) {
            (name, colon) if name.is_name() && colon.is(":") && in_public_type(&tokens[..at]) => {
                (name, kind_from(&tokens, at + 3))
            }
            (word, name) if word.is("const") && !name.is("fn") => {
                (name, kind_from(&tokens, (at + 4).min(tokens.len())))
            }
            (word, name) if word.is("fn") => (name, given_back(&tokens[at + 3..])),
            (word, _) if word.is("const") => (&tokens[at + 3], given_back(&tokens[at + 4..])),
            _ => continue,
        };
        if is_a_number(kind)
            && !says_its_unit(
                &name.text.to_lowercase(),
                documents_its_unit(text, name.line),
            )
        {
            let says = format!(
                "`{}` is a number without a unit in its name (mm, g, deg, …)",
                name.text
            );
            found.push(Finding::new(path, name.line, says));
        }
    }
    found
}

/// Whether the type that was begun last is public to everybody (`pub`, not `pub(super)`).
fn in_public_type(before: &[Token]) -> bool {
    let begun = before
        .iter()
        .rposition(|token| token.is("struct") || token.is("enum"));
    begun.is_some_and(|at| at > 0 && before[at - 1].is("pub"))
}

/// The type after the `->` of a function, if it comes before the body.
fn given_back(tokens: &[Token]) -> &[Token] {
    let mut depth = 0i32;
    for (at, token) in tokens.iter().enumerate() {
        match token.text.as_str() {
            "(" => depth += 1,
            ")" => depth -= 1,
            "->" if depth == 0 => return kind_from(tokens, at + 1),
            "{" | ";" if depth == 0 => return &[],
            _ => {}
        }
    }
    &[]
}

#[test]
fn law_a_public_number_says_its_unit() {
    none(&apply(
        &files("crates/workshop/src", &[".rs"]),
        units_in_names,
    ));
}

/// The rule, shown to fail on planted faults and to pass what is right.
#[test]
fn law_a_planted_number_without_unit_is_named() {
    assert!(says_its_unit("mass_g_at_most", false) && !says_its_unit("mass_at_most", false));
    let lines = |text| {
        units_in_names("a", text)
            .iter()
            .map(|f| f.line)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        lines("pub struct A {\n  pub mass: f64,\n  pub mass_g: f64,\n}"),
        [2]
    );
    assert_eq!(
        lines("pub struct A {\n  pub sizes: Vec<Option<Decimal>>,\n  pub note: String,\n}"),
        [2]
    );
    assert_eq!(
        lines("pub fn mass(a: f64) -> f64 { a }\npub fn mass_g(a: f64) -> f64 { a }"),
        [1]
    );
    assert_eq!(
        lines("pub fn cut(f: impl Fn(f64) -> f64) -> String { x }"),
        [0usize; 0]
    );
    assert_eq!(
        lines("pub const LEAST: f64 = 1.0;\npub const LEAST_MM: f64 = 1.0;"),
        [1]
    );
    let documented =
        "pub struct A {\n  /// In the unit of `unit`.\n  pub mean: f64,\n  pub worst: f64,\n}";
    assert_eq!(lines(documented), [4]);
    let documented =
        "/// In the unit of its key.\npub struct A {\n  pub xx: f64,\n  pub mass: f64,\n}";
    assert_eq!(lines(documented), [4]);
    assert_eq!(
        lines("pub(super) struct A {\n  pub mass: f64,\n}"),
        [0usize; 0]
    );
    assert_eq!(lines("struct A {\n  mass: f64,\n}"), [0usize; 0]);
    assert_eq!(lines("pub fn at(i: usize) -> Result<f64, NoError> {}"), [1]);
}
