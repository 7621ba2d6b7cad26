//! Just enough of Rust's grammar to see what a file refers to: no parser, no dependency.

/// One word or sign of the code, with its line (from 1).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    pub line: usize,
    pub text: String,
}

impl Token {
    pub fn is(&self, text: &str) -> bool {
        self.text == text
    }

    pub fn is_name(&self) -> bool {
        self.text
            .starts_with(|letter: char| letter.is_alphabetic() || letter == '_')
    }
}

/// A path the code names, resolved to the crate and the modules it goes through.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    pub line: usize,
    /// `workshop` for `crate::` inside the workshop and for `whirlwright_workshop::` elsewhere.
    pub room: String,
    pub path: Vec<String>,
    /// Whether it stands in a `mod tests`, written inside the file or as a file.
    pub in_tests: bool,
}

/// What of a file shall stay readable; the rest turns into spaces, line breaks stay.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    Code,
    CodeAndStrings,
}

/// The text without its comments, and without what stands in string literals if asked.
pub fn bare(text: &str, keep: Keep) -> String {
    let letters: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while at < letters.len() {
        let (length, visible) = stretch(&letters[at..]);
        let shown = match visible {
            Part::Code => true,
            Part::Text => keep == Keep::CodeAndStrings,
            Part::Comment => false,
        };
        for &letter in &letters[at..at + length] {
            out.push(if shown || letter == '\n' { letter } else { ' ' });
        }
        at += length;
    }
    out
}

enum Part {
    Code,
    Text,
    Comment,
}

/// The length of the stretch that begins here, and what it is.
fn stretch(rest: &[char]) -> (usize, Part) {
    let next = rest.get(1).copied();
    match (rest[0], next) {
        ('/', Some('/')) => (find(rest, &['\n']).unwrap_or(rest.len()), Part::Comment),
        ('/', Some('*')) => (block_comment(rest), Part::Comment),
        ('"', _) => (quoted(rest, 1), Part::Text),
        ('r', Some('"' | '#')) => match raw(rest) {
            Some(length) => (length, Part::Text),
            None => (1, Part::Code),
        },
        ('\'', Some('\\')) => (3 + find(&rest[3..], &['\'']).unwrap_or(0) + 1, Part::Text),
        ('\'', Some(_)) if rest.get(2) == Some(&'\'') => (3, Part::Text),
        (letter, _) if letter.is_alphanumeric() || letter == '_' => {
            let end = rest.iter().position(|l| !l.is_alphanumeric() && *l != '_');
            (end.unwrap_or(rest.len()), Part::Code)
        }
        _ => (1, Part::Code),
    }
}

fn find(rest: &[char], what: &[char]) -> Option<usize> {
    rest.windows(what.len()).position(|window| window == what)
}

fn block_comment(rest: &[char]) -> usize {
    let (mut depth, mut at) = (0usize, 0usize);
    while at + 1 < rest.len() {
        match (rest[at], rest[at + 1]) {
            ('/', '*') => (depth, at) = (depth + 1, at + 2),
            ('*', '/') if depth == 1 => return at + 2,
            ('*', '/') => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
    }
    rest.len()
}

fn quoted(rest: &[char], from: usize) -> usize {
    let mut at = from;
    while at < rest.len() {
        match rest[at] {
            '\\' => at += 2,
            '"' => return at + 1,
            _ => at += 1,
        }
    }
    rest.len()
}

fn raw(rest: &[char]) -> Option<usize> {
    let hashes = rest[1..]
        .iter()
        .take_while(|letter| **letter == '#')
        .count();
    if rest.get(1 + hashes) != Some(&'"') {
        return None;
    }
    let mut end = vec!['"'];
    end.resize(1 + hashes, '#');
    let from = 2 + hashes;
    Some(find(&rest[from..], &end).map_or(rest.len(), |at| from + at + end.len()))
}

/// The words and signs of bare code; `::` and `->` are one sign each.
pub fn tokens(code: &str) -> Vec<Token> {
    let mut found = Vec::new();
    for (index, line) in code.lines().enumerate() {
        let letters: Vec<char> = line.chars().collect();
        let mut at = 0;
        while at < letters.len() {
            let length = token_length(&letters[at..]);
            let text: String = letters[at..at + length].iter().collect();
            if !text.trim().is_empty() {
                found.push(Token {
                    line: index + 1,
                    text,
                });
            }
            at += length;
        }
    }
    found
}

fn token_length(rest: &[char]) -> usize {
    let of_a_word = |letter: &char| letter.is_alphanumeric() || *letter == '_';
    match (rest[0], rest.get(1)) {
        (letter, _) if of_a_word(&letter) => rest.iter().take_while(|l| of_a_word(l)).count(),
        (':', Some(':')) | ('-', Some('>')) => 2,
        _ => 1,
    }
}

/// The crate (`workshop`) and the module path (`["design", "given"]`) of a source file.
pub fn module_of(path: &str) -> Option<(String, Vec<String>)> {
    let (room, rest) = path.strip_prefix("crates/")?.split_once("/src/")?;
    let mut modules: Vec<String> = rest
        .strip_suffix(".rs")?
        .split('/')
        .map(ToOwned::to_owned)
        .collect();
    if modules
        .last()
        .is_some_and(|last| ["mod", "lib", "main"].contains(&last.as_str()))
    {
        modules.pop();
    }
    Some((room.to_owned(), modules))
}

/// Every path of a source file that starts with `crate`, `self`, `super` or one of our crates.
pub fn references(path: &str, text: &str) -> Vec<Reference> {
    let Some((room, own)) = module_of(path) else {
        return Vec::new();
    };
    let tokens = tokens(&bare(text, Keep::Code));
    let mut seen = Seen {
        room,
        own,
        inner: Vec::new(),
        found: Vec::new(),
    };
    let (mut depth, mut at) = (0usize, 0usize);
    while at < tokens.len() {
        match tokens[at].text.as_str() {
            "{" => depth += 1,
            "}" => {
                depth = depth.saturating_sub(1);
                seen.inner.retain(|(_, opened)| *opened <= depth);
            }
            "mod" if tokens.get(at + 2).is_some_and(|token| token.is("{")) => {
                seen.inner.push((tokens[at + 1].text.clone(), depth + 1));
            }
            _ if starts_a_path(&tokens, at) => {
                at = seen.tree(&tokens, at, Vec::new());
                continue;
            }
            _ => {}
        }
        at += 1;
    }
    seen.found
}

fn starts_a_path(tokens: &[Token], at: usize) -> bool {
    let word = &tokens[at].text;
    let ours =
        matches!(word.as_str(), "crate" | "self" | "super") || word.starts_with("whirlwright_");
    let goes_on = tokens.get(at + 1).is_some_and(|next| next.is("::"));
    ours && goes_on && (at == 0 || !tokens[at - 1].is("::"))
}

struct Seen {
    room: String,
    own: Vec<String>,
    /// Modules written inside the file, with the depth of braces at which each ends.
    inner: Vec<(String, usize)>,
    found: Vec<Reference>,
}

impl Seen {
    /// Reads one path, following `{a, b::c}`; gives the place after it.
    fn tree(&mut self, tokens: &[Token], mut at: usize, mut path: Vec<String>) -> usize {
        let line = tokens[at].line;
        while at < tokens.len() && (tokens[at].is_name() || tokens[at].is("*")) {
            path.push(tokens[at].text.clone());
            if !tokens.get(at + 1).is_some_and(|next| next.is("::")) {
                self.keep(line, &path);
                return at + 1;
            }
            at += 2;
        }
        if !tokens.get(at).is_some_and(|token| token.is("{")) {
            self.keep(line, &path);
            return at;
        }
        at += 1;
        while at < tokens.len() && !tokens[at].is("}") {
            at = if tokens[at].is_name() || tokens[at].is("*") {
                let after = self.tree(tokens, at, path.clone());
                if tokens.get(after).is_some_and(|token| token.is("as")) {
                    after + 2
                } else {
                    after
                }
            } else {
                at + 1
            };
        }
        at + 1
    }

    fn keep(&mut self, line: usize, path: &[String]) {
        let here: Vec<String> = self
            .own
            .iter()
            .cloned()
            .chain(self.inner.iter().map(|(name, _)| name.clone()))
            .collect();
        let (room, mut full) = match path[0].strip_prefix("whirlwright_") {
            Some(room) => (room.to_owned(), Vec::new()),
            None if path[0] == "crate" => (self.room.clone(), Vec::new()),
            None => (self.room.clone(), here),
        };
        for (index, step) in path.iter().enumerate() {
            match step.as_str() {
                "super" => drop(full.pop()),
                "crate" | "self" => {}
                _ if index == 0 => {}
                _ => full.push(step.clone()),
            }
        }
        let modules = self
            .own
            .iter()
            .chain(self.inner.iter().map(|(name, _)| name));
        let in_tests = modules.into_iter().any(|name| name == "tests");
        self.found.push(Reference {
            line,
            room,
            path: full,
            in_tests,
        });
    }
}

/// The tests of a file, with their lines.
pub fn tests_of(text: &str) -> Vec<(usize, String)> {
    let tokens = tokens(&bare(text, Keep::Code));
    let mut found = Vec::new();
    for at in 1..tokens.len().saturating_sub(1) {
        let is_mark = tokens[at].is("test") && (tokens[at - 1].is("[") || tokens[at - 1].is("::"));
        let ends = tokens[at + 1].is("]") || tokens[at + 1].is("(");
        if is_mark && ends && tokens[at - 1..at + 2].iter().all(|t| !t.is("cfg")) {
            let name = tokens[at..].windows(2).find(|pair| pair[0].is("fn"));
            found.extend(name.map(|pair| (pair[1].line, pair[1].text.clone())));
        }
    }
    found
}
