//! Finding one path in a drawing.

/// The path data of the element with this id.
///
/// Only what a section needs of SVG is read: the elements with their attributes. Numbers count as
/// mm, y as the radius. A transform on the path or around it is refused: it would move the numbers.
///
/// # Errors
/// No such id, no path data, or a transform, in words.
pub(super) fn path(drawing: &str, id: &str) -> Result<String, String> {
    let mut around: Vec<bool> = Vec::new();
    let mut ids = Vec::new();
    let mut rest = drawing;
    while let Some(open) = rest.find('<') {
        rest = &rest[open..];
        if let Some(end) = skipped(rest) {
            rest = &rest[end..];
            continue;
        }
        let end = tag_end(rest);
        let tag = &rest[1..end];
        rest = rest.get(end + 1..).unwrap_or("");
        if tag.starts_with('/') {
            around.pop();
            continue;
        }
        let attributes = attributes(tag);
        let get = |name: &str| attributes.iter().find(|(n, _)| *n == name).map(|(_, v)| *v);
        let moved = get("transform").is_some();
        if let Some(found) = get("id") {
            if found == id {
                if moved || around.contains(&true) {
                    return Err(format!(
                        "the path `{id}` is moved by a transform; apply it in the drawing, so that the numbers are mm"
                    ));
                }
                return get("d").map(unescaped).ok_or_else(|| {
                    format!("`{id}` is no path; an element with path data (`d`) was expected")
                });
            }
            ids.push(found);
        }
        if !tag.ends_with('/') && !tag.starts_with(['?', '!']) {
            around.push(moved);
        }
    }
    let known = if ids.is_empty() {
        "it has no ids at all".to_owned()
    } else {
        format!("its ids: {}", ids.join(", "))
    };
    Err(format!("the drawing has no id `{id}`; {known}"))
}

/// Comments and data sections are passed over whole.
fn skipped(rest: &str) -> Option<usize> {
    let pairs = [("<!--", "-->"), ("<![CDATA[", "]]>")];
    let (open, close) = pairs.iter().find(|(open, _)| rest.starts_with(open))?;
    Some(
        rest[open.len()..]
            .find(close)
            .map_or(rest.len(), |n| open.len() + n + close.len()),
    )
}

/// Where the tag at the start of the text ends; a `>` in quotes does not count.
fn tag_end(rest: &str) -> usize {
    let mut quote = None;
    for (n, c) in rest.char_indices() {
        match (quote, c) {
            (None, '>') => return n,
            (None, '"' | '\'') => quote = Some(c),
            (Some(q), c) if q == c => quote = None,
            _ => {}
        }
    }
    rest.len()
}

/// Names and values of a tag's attributes.
fn attributes(tag: &str) -> Vec<(&str, &str)> {
    let mut out = Vec::new();
    let mut rest = tag;
    while let Some((before, after)) = rest.split_once('=') {
        let name = before.split_whitespace().next_back().unwrap_or("");
        let after = after.trim_start();
        let Some(quote) = after.chars().next().filter(|c| matches!(c, '"' | '\'')) else {
            break;
        };
        let Some((value, left)) = after[1..].split_once(quote) else {
            break;
        };
        out.push((name, value));
        rest = left;
    }
    out
}

/// Line breaks of path data may be written as character references.
fn unescaped(text: &str) -> String {
    text.replace("&#10;", "\n")
        .replace("&#xA;", "\n")
        .replace("&#9;", "\t")
}
