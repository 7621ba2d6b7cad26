//! One table of a job file: typed reading of its keys, faults gathered, unknown keys told.

use std::cell::RefCell;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};
use whirlwright_workshop::part::{Decimal, Dimension, Quantity};

/// A stretch of the file, in bytes.
pub(in crate::read) type Span = Range<usize>;

/// One fault with its stretch of the file.
pub(in crate::read) struct Found {
    pub span: Span,
    pub what: String,
    pub help: Option<String>,
}

/// Syntax faults looked through for a place that was said already.
const MOST_LOOKED_AT: usize = 100;

/// Every fault found so far.
pub(in crate::read) struct Faults {
    found: RefCell<Vec<Found>>,
    /// Parts of the file could not be read, so what is missing may have been there.
    pub recovered: bool,
}

impl Faults {
    /// No faults yet; `recovered` where the syntax itself had some.
    pub(in crate::read) fn new(recovered: bool) -> Self {
        Self {
            found: RefCell::default(),
            recovered,
        }
    }

    pub(in crate::read) fn add(&self, span: Span, what: impl Into<String>) {
        self.push(span, what.into(), None);
    }

    pub(in crate::read) fn push(&self, span: Span, what: String, help: Option<String>) {
        let mut found = self.found.borrow_mut();
        // What could not be read stands in the tree as an empty value: that was said already.
        let said = self.recovered && found.iter().take(MOST_LOOKED_AT).any(|f| f.span == span);
        if !said {
            found.push(Found { span, what, help });
        }
    }

    /// Something that had to be there is not.
    pub(in crate::read) fn missing(&self, span: Span, what: impl Into<String>) {
        if !self.recovered {
            self.add(span, what);
        }
    }

    pub(in crate::read) fn into_inner(self) -> Vec<Found> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|f| f.span.start);
        found
    }
}

/// A text of the file with its stretch.
#[derive(Clone)]
pub(in crate::read) struct Said<'a> {
    pub text: &'a str,
    pub span: Span,
}

/// One table.
pub(in crate::read) struct Block<'a> {
    table: &'a DeTable<'a>,
    faults: &'a Faults,
    /// What the table is called in a sentence, such as `[design]`.
    pub name: String,
    pub span: Span,
    asked: RefCell<Vec<&'static str>>,
}

impl<'a> Block<'a> {
    pub(in crate::read) fn new(
        table: &'a DeTable<'a>,
        faults: &'a Faults,
        name: impl Into<String>,
        span: Span,
    ) -> Self {
        Self {
            table,
            faults,
            name: name.into(),
            span,
            asked: RefCell::default(),
        }
    }

    /// The value of a key; the key counts as known from now on.
    pub(in crate::read) fn value(&self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().push(key);
        self.table.get(key)
    }

    /// Keys with their stretches, known or not.
    pub(in crate::read) fn entries(
        &self,
    ) -> impl Iterator<Item = (Said<'a>, &'a Spanned<DeValue<'a>>)> {
        self.table.iter().map(|(k, v)| {
            (
                Said {
                    text: k.get_ref(),
                    span: k.span(),
                },
                v,
            )
        })
    }

    pub(in crate::read) fn text(&self, key: &'static str) -> Option<Said<'a>> {
        let value = self.value(key)?;
        let said = as_text(value);
        if said.is_none() {
            let found = kind(value.get_ref());
            self.faults.add(
                value.span(),
                format!("`{key}` is {found}; a text in quotes was expected"),
            );
        }
        said
    }

    /// A text that must be there and not be blank.
    pub(in crate::read) fn needed_text(
        &self,
        key: &'static str,
        example: &str,
    ) -> Option<Said<'a>> {
        if self.table.get(key).is_none() {
            self.asked.borrow_mut().push(key);
            self.faults.missing(
                self.span.clone(),
                format!("{} has no `{key}`; {example} was expected", self.name),
            );
            return None;
        }
        let said = self.text(key)?;
        if said.text.trim().is_empty() {
            self.faults.add(
                said.span,
                format!("`{key}` is empty; {example} was expected"),
            );
            return None;
        }
        Some(said)
    }

    pub(in crate::read) fn quantity(
        &self,
        key: &'static str,
        wanted: Dimension,
    ) -> Option<(Quantity, Span)> {
        let value = self.value(key)?;
        let text =
            number_text(value.get_ref()).or_else(|| as_text(value).map(|s| s.text.to_owned()));
        let Some(text) = text else {
            let (found, name) = (kind(value.get_ref()), wanted.name());
            let what = format!(
                "`{key}` is {found}; {name} with its unit was expected, such as {}",
                wanted.example()
            );
            self.faults.add(value.span(), what);
            return None;
        };
        match Quantity::read(&text, wanted) {
            Ok(quantity) => Some((quantity, value.span())),
            Err(error) => {
                self.faults.add(value.span(), format!("`{key}`: {error}"));
                None
            }
        }
    }

    /// A quantity above zero.
    pub(in crate::read) fn positive(
        &self,
        key: &'static str,
        wanted: Dimension,
    ) -> Option<(Quantity, Span)> {
        let (quantity, span) = self.quantity(key, wanted)?;
        if quantity.value > 0.0 {
            return Some((quantity, span));
        }
        self.faults.add(
            span,
            format!("`{key}` is {quantity}; more than 0 was expected"),
        );
        None
    }

    /// A quantity that must be there.
    pub(in crate::read) fn needed(&self, key: &'static str, wanted: Dimension) -> Option<f64> {
        if self.table.get(key).is_none() {
            self.asked.borrow_mut().push(key);
            let what = format!(
                "{} has no `{key}`; {} was expected, such as {}",
                self.name,
                wanted.name(),
                wanted.example()
            );
            self.faults.missing(self.span.clone(), what);
            return None;
        }
        self.quantity(key, wanted).map(|(q, _)| q.value)
    }

    /// A limit of zero or more, as an exact decimal of the base unit.
    pub(in crate::read) fn limit(&self, key: &'static str, wanted: Dimension) -> Option<Decimal> {
        let (quantity, span) = self.quantity(key, wanted)?;
        let limit = quantity.as_limit().filter(|l| l.units >= 0);
        if limit.is_none() {
            self.faults.add(
                span,
                format!("`{key}` is {quantity}; 0 or more was expected"),
            );
        }
        limit
    }

    /// Two quantities with `..` between them, the smaller first.
    pub(in crate::read) fn window(
        &self,
        key: &'static str,
        wanted: Dimension,
    ) -> Option<(Decimal, Decimal)> {
        let said = self.text(key)?;
        let example = wanted.example().trim_matches('"');
        let Some((low, high)) = said.text.split_once("..") else {
            let what = format!(
                "`{key}` is `{}`; two values with `..` between them were expected, such as \"{example} .. {example}\"",
                said.text
            );
            self.faults.add(said.span, what);
            return None;
        };
        let read = |text: &str| match Quantity::read(text, wanted) {
            Ok(quantity) => quantity.as_limit(),
            Err(error) => {
                self.faults
                    .add(said.span.clone(), format!("`{key}`: {error}"));
                None
            }
        };
        let (low, high) = (read(low), read(high));
        let (low, high) = (low?, high?);
        if low.to_f64() > high.to_f64() {
            self.faults.add(said.span, format!("`{key}` starts at {low} and ends at {high}; the smaller value was expected first"));
            return None;
        }
        Some((low, high))
    }

    /// A whole number between two bounds.
    pub(in crate::read) fn whole(&self, key: &'static str, low: u32, high: u32) -> Option<u32> {
        let value = self.value(key)?;
        let number = match value.get_ref() {
            DeValue::Integer(n) => u32::from_str_radix(n.as_str(), n.radix()).ok(),
            _ => None,
        };
        let number = number.filter(|n| (low..=high).contains(n));
        if number.is_none() {
            let found = kind(value.get_ref());
            self.faults.add(
                value.span(),
                format!("`{key}` is {found}; a whole number from {low} to {high} was expected"),
            );
        }
        number
    }

    /// A number in one unit only, such as `"68e-6 1/K"`; a plain number where the unit is `1`.
    pub(in crate::read) fn in_unit(
        &self,
        key: &'static str,
        unit: &str,
        example: &str,
    ) -> Option<f64> {
        let value = self.value(key)?;
        let text = as_text(value).map(|said| said.text.to_owned());
        let plain = if unit == "1" {
            number_text(value.get_ref())
        } else {
            None
        };
        let (wanted, read) = (spelled(unit), text.as_deref().map(spelled));
        let number = match (&read, plain) {
            (_, Some(plain)) => Some(plain),
            (Some(read), _) if unit == "1" => Some(read.clone()),
            (Some(read), _) => read.strip_suffix(&wanted).map(str::to_owned),
            (None, None) => None,
        };
        let number = number.and_then(|n| n.trim().parse::<f64>().ok());
        let number = number.filter(|n| n.is_finite());
        if number.is_none() {
            let found = kind(value.get_ref());
            let what = if unit == "1" {
                format!("`{key}` is {found}; a plain number was expected, such as {example}")
            } else {
                format!(
                    "`{key}` is {found}; a number in {unit} was expected, such as \"{example} {unit}\""
                )
            };
            self.faults.add(value.span(), what);
        }
        number
    }

    /// A number without unit, above zero.
    pub(in crate::read) fn ratio(&self, key: &'static str) -> Option<f64> {
        let value = self.value(key)?;
        let number = number_text(value.get_ref()).and_then(|t| t.parse::<f64>().ok());
        let number = number.filter(|n| n.is_finite() && *n > 0.0);
        if number.is_none() {
            let found = kind(value.get_ref());
            self.faults.add(
                value.span(),
                format!("`{key}` is {found}; a number above 0 was expected"),
            );
        }
        number
    }

    pub(in crate::read) fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        if let DeValue::Boolean(flag) = value.get_ref() {
            return Some(*flag);
        }
        let found = kind(value.get_ref());
        self.faults.add(
            value.span(),
            format!("`{key}` is {found}; true or false was expected"),
        );
        None
    }

    /// One of a few words.
    pub(in crate::read) fn choice<T: Copy>(
        &self,
        key: &'static str,
        words: &[(&'static str, T)],
    ) -> Option<T> {
        let said = self.text(key)?;
        let found = words.iter().find(|(word, _)| *word == said.text);
        if found.is_none() {
            let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let what = format!(
                "`{key}` is `{}`; one of {} was expected",
                said.text,
                list.join(", ")
            );
            self.faults.push(said.span, what, near(said.text, &list));
        }
        found.map(|(_, value)| *value)
    }

    /// A table under a key.
    pub(in crate::read) fn block(
        &self,
        key: &'static str,
        name: impl Into<String>,
    ) -> Option<Block<'a>> {
        let value = self.value(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            let found = kind(value.get_ref());
            self.faults.add(
                value.span(),
                format!("`{key}` is {found}; a table was expected: [{key}]"),
            );
            return None;
        };
        Some(Block::new(table, self.faults, name, value.span()))
    }

    /// Tables under a key: `[[key]]`, or one table alone where `one_will_do`.
    pub(in crate::read) fn blocks(&self, key: &'static str, one_will_do: bool) -> Vec<Block<'a>> {
        let Some(value) = self.value(key) else {
            return Vec::new();
        };
        let each = match value.get_ref() {
            DeValue::Array(array) => array.iter().collect(),
            DeValue::Table(_) if one_will_do => vec![value],
            other => {
                let what = format!(
                    "`{key}` is {}; tables were expected: [[{key}]]",
                    kind(other)
                );
                self.faults.add(value.span(), what);
                Vec::new()
            }
        };
        let mut out = Vec::new();
        for (n, each) in each.into_iter().enumerate() {
            match each.get_ref() {
                DeValue::Table(table) => {
                    out.push(Block::new(
                        table,
                        self.faults,
                        format!("[[{key}]] number {}", n + 1),
                        each.span(),
                    ));
                }
                other => self.faults.add(
                    each.span(),
                    format!("`{key}` holds {}; tables were expected", kind(other)),
                ),
            }
        }
        out
    }

    /// Whether a text stands under a key.
    pub(in crate::read) fn text_at(&self, key: &str) -> bool {
        self.table.get(key).is_some_and(|v| as_text(v).is_some())
    }

    pub(in crate::read) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// Tells every key nobody asked for, with the near one where there is one.
    pub(in crate::read) fn finish(self) {
        let asked = self.asked.borrow();
        for (key, _) in self.entries() {
            if asked.contains(&key.text) {
                continue;
            }
            let help = near(key.text, &asked).or_else(|| {
                let mut known = asked.clone();
                known.dedup();
                Some(format!("known keys of {}: {}", self.name, known.join(", ")))
            });
            self.faults.push(
                key.span,
                format!("`{}` is not a key of {}", key.text, self.name),
                help,
            );
        }
    }
}

/// A unit in one spelling: `W/(m²·K)` and `W/(m2 K)` are the same.
fn spelled(text: &str) -> String {
    let plain = text
        .replace(['·', '⋅', '*'], " ")
        .replace('²', "2")
        .replace('³', "3");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The near word, as a question.
pub(in crate::read) fn near(word: &str, known: &[&str]) -> Option<String> {
    let lower = word.to_lowercase();
    let score = |k: &str| {
        // In short words the measure below does not see two letters in the wrong order.
        let is_slip = k.len() > 2 && strsim::osa_distance(&lower, k) == 1;
        strsim::jaro_winkler(&lower, k).max(if is_slip { 0.9 } else { 0.0 })
    };
    let best = known.iter().max_by(|a, b| score(a).total_cmp(&score(b)))?;
    // Four letters in five alike: below that the guesses are mostly wrong.
    (score(best) > 0.8).then(|| format!("did you mean `{best}`?"))
}

pub(in crate::read) fn as_text<'a>(value: &'a Spanned<DeValue<'a>>) -> Option<Said<'a>> {
    match value.get_ref() {
        DeValue::String(text) => Some(Said {
            text,
            span: value.span(),
        }),
        _ => None,
    }
}

pub(super) fn number_text(value: &DeValue<'_>) -> Option<String> {
    match value {
        DeValue::Integer(n) => Some(n.as_str().to_owned()),
        DeValue::Float(n) => Some(n.as_str().to_owned()),
        _ => None,
    }
}

/// What a value is, in a sentence.
pub(in crate::read) fn kind(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) if text.len() < 40 => format!("the text `{text}`"),
        DeValue::String(_) => "a text".to_owned(),
        DeValue::Integer(n) => format!("the number {}", n.as_str()),
        DeValue::Float(n) => format!("the number {}", n.as_str()),
        DeValue::Boolean(flag) => flag.to_string(),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}
