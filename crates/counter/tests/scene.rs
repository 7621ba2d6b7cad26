//! Scenes: each file of `scenes/` is a folder at a bench, and what is asked in it, by command and by
//! page; what comes back must be what stands there.

#[path = "common/ask.rs"]
mod ask;
mod common;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use common::{Served, program, root};
use serde::Deserialize;
use serde_json::Value;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scene {
    /// Files of the project that lie in the folder, by the name they have there.
    #[serde(default)]
    files: BTreeMap<String, String>,
    /// Files that are written as they stand here.
    #[serde(default)]
    written: BTreeMap<String, String>,
    /// Files that are another of the folder with some words changed.
    #[serde(default)]
    changed: BTreeMap<String, Changed>,
    step: Vec<Step>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Changed {
    /// The other file.
    of: String,
    /// What stands there, and what shall stand in its place; it must stand there.
    swap: Vec<(String, String)>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    /// Words of a command …
    run: Option<Vec<String>>,
    #[serde(default)]
    exit: i32,
    /// … or the address of a page …
    get: Option<String>,
    /// … or an address a form is sent to.
    post: Option<String>,
    #[serde(default)]
    form: String,
    status: Option<u16>,
    /// What must stand in the output (of a page: in its body).
    #[serde(default)]
    out: Vec<String>,
    /// What must stand on standard error.
    #[serde(default)]
    err: Vec<String>,
    /// What must not stand in the output.
    #[serde(default)]
    never: Vec<String>,
    /// Values of the JSON output by pointer.
    #[serde(default)]
    json: BTreeMap<String, Value>,
    /// Pointers that must lead to a value.
    #[serde(default)]
    has: Vec<String>,
    /// Lengths of lists by pointer.
    #[serde(default)]
    count: BTreeMap<String, usize>,
    /// Files that must be there afterwards, with how each begins.
    #[serde(default)]
    made: BTreeMap<String, String>,
}

/// Plays one scene; everything that is not as it should be, with its place.
fn play(path: &Path) -> Vec<String> {
    let text = fs::read_to_string(path).expect("a scene");
    let scene: Scene = toml::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let folder = tempfile::tempdir().expect("a folder");
    for (name, from) in &scene.files {
        fs::copy(root().join(from), folder.path().join(name))
            .unwrap_or_else(|e| panic!("{from}: {e}"));
    }
    for (name, text) in &scene.written {
        fs::write(folder.path().join(name), text).expect("a file is written");
    }
    for (name, changed) in &scene.changed {
        let text = fs::read_to_string(folder.path().join(&changed.of)).expect("a file to change");
        let swap = |text: String, (old, new): &(String, String)| {
            assert!(
                text.contains(old),
                "{name}: `{old}` stands in {}",
                changed.of
            );
            text.replace(old, new)
        };
        let text = changed.swap.iter().fold(text, swap);
        fs::write(folder.path().join(name), text).expect("a file is written");
    }
    let mut served = None;
    let mut wrong = Vec::new();
    for (n, step) in scene.step.iter().enumerate() {
        let place = format!(
            "{}, step {}",
            path.file_name().unwrap_or_default().to_string_lossy(),
            n + 1
        );
        let mut note = |what: String| wrong.push(format!("{place}: {what}"));
        match &step.run {
            Some(words) => command(folder.path(), words, step, &mut note),
            None => page(
                served.get_or_insert_with(|| Served::start(folder.path())),
                step,
                &mut note,
            ),
        }
        for (file, start) in &step.made {
            match fs::read(folder.path().join(file)) {
                Ok(bytes) if bytes.starts_with(start.as_bytes()) => {}
                Ok(_) => note(format!("{file} does not begin with {start:?}")),
                Err(why) => note(format!("{file} was not made: {why}")),
            }
        }
    }
    wrong
}

fn command(folder: &Path, words: &[String], step: &Step, note: &mut impl FnMut(String)) {
    let done = program(folder)
        .args(words)
        .output()
        .expect("the program runs");
    let (out, err) = (
        String::from_utf8_lossy(&done.stdout),
        String::from_utf8_lossy(&done.stderr),
    );
    if done.status.code() != Some(step.exit) {
        note(format!(
            "exit {:?}, expected {}\n{err}",
            done.status.code(),
            step.exit
        ));
    }
    for part in step.err.iter().filter(|part| !err.contains(*part)) {
        note(format!("standard error lacks {part:?}:\n{err}"));
    }
    if err.contains("panicked") || err.contains("fault in the program") {
        note(format!("it fell over:\n{err}"));
    }
    text(&out, step, note);
    if step.json.is_empty() && step.has.is_empty() && step.count.is_empty() {
        return;
    }
    // A refusal is told as JSON on standard error.
    match serde_json::from_str::<Value>(if out.trim().is_empty() { &err } else { &out }) {
        Ok(value) => json(&value, step, note),
        Err(why) => note(format!("the output is no JSON ({why}):\n{out}{err}")),
    }
}

fn page(served: &Served, step: &Step, note: &mut impl FnMut(String)) {
    let reply = match (&step.get, &step.post) {
        (Some(path), _) => served.get(path),
        (None, Some(path)) => served.post(path, &step.form),
        (None, None) => {
            return note("a step runs a command, gets a page or posts a form".to_owned());
        }
    };
    let expected = step.status.unwrap_or(200);
    if reply.status != expected {
        note(format!(
            "status {}, expected {expected}\n{}",
            reply.status, reply.body
        ));
    }
    text(&reply.body, step, note);
}

fn text(out: &str, step: &Step, note: &mut impl FnMut(String)) {
    for part in step.out.iter().filter(|part| !out.contains(*part)) {
        note(format!(
            "the output lacks {part:?}:\n{}",
            out.chars().take(2000).collect::<String>()
        ));
    }
    for part in step.never.iter().filter(|part| out.contains(*part)) {
        note(format!("the output holds {part:?}"));
    }
}

fn json(value: &Value, step: &Step, note: &mut impl FnMut(String)) {
    for (at, expected) in &step.json {
        if value.pointer(at) != Some(expected) {
            note(format!(
                "{at} is {:?}, expected {expected}",
                value.pointer(at)
            ));
        }
    }
    for at in step
        .has
        .iter()
        .filter(|at| value.pointer(at).is_none_or(Value::is_null))
    {
        note(format!("{at} is not there"));
    }
    for (at, expected) in &step.count {
        let found = value.pointer(at).and_then(Value::as_array).map(Vec::len);
        if found != Some(*expected) {
            note(format!("{at} has {found:?} entries, expected {expected}"));
        }
    }
}

#[test]
fn scene_every_folder_at_a_bench_gives_what_it_should() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/scenes");
    let mut scenes: Vec<_> = fs::read_dir(folder)
        .expect("scenes")
        .map(|e| e.expect("a scene").path())
        .collect();
    scenes.sort();
    assert!(!scenes.is_empty(), "no scene was found");
    let wrong: Vec<String> = scenes.iter().flat_map(|scene| play(scene)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn refuses_foreign_names_and_writes_from_other_pages() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::start(folder.path());
    for host in ["example.org", "127.0.0.1.example.org", "192.168.1.2:80"] {
        let reply = served.ask("GET", "/", &[("Host", host)], b"");
        assert_eq!(reply.status, 403, "{host} was let in");
    }
    for origin in ["http://example.org", "null"] {
        let reply = served.ask("POST", "/lot", &[("Origin", origin)], b"");
        assert_eq!(reply.status, 403, "a form of {origin} was taken");
    }
    assert_eq!(
        served
            .ask("POST", "/lot/D26/record?read_at=1", &[], b"")
            .status,
        403
    );
}

#[test]
fn scene_every_page_forbids_what_comes_from_outside() {
    let folder = tempfile::tempdir().expect("a folder");
    let served = Served::start(folder.path());
    for path in [
        "/",
        "/design",
        "/balance",
        "/nothing",
        "/static/style.css",
        "/lot/X",
    ] {
        let reply = served.get(path);
        for header in [
            "content-security-policy: default-src 'none'; script-src 'self'; style-src 'self'",
            "x-content-type-options: nosniff",
            "x-frame-options: deny",
        ] {
            assert!(
                reply.head.contains(header),
                "{path} lacks {header}:\n{}",
                reply.head
            );
        }
        assert!(
            !reply.body.contains("https://"),
            "{path} names an address outside"
        );
    }
}

#[test]
fn reads_a_pipe_that_closes_early_without_a_word() {
    use std::io::Read;
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy(
        root().join("examples/coins/coins.csv"),
        folder.path().join("coins.csv"),
    )
    .expect("coins");
    let mut child = program(folder.path())
        .args([
            "pair",
            "--parts",
            "coins.csv",
            "--mass-within",
            "0.01 g",
            "--format",
            "json",
        ])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let mut err = String::new();
    child
        .stderr
        .take()
        .expect("piped")
        .read_to_string(&mut err)
        .expect("standard error");
    let status = child.wait().expect("it ends");
    assert!(
        status.code().is_some_and(|code| code < 2) && err.is_empty(),
        "{status}: {err}"
    );
}

/// A form with files, as a browser sends it.
fn with_files(
    served: &Served,
    path: &str,
    fields: &[(&str, &str)],
    files: &[(&str, &[u8])],
) -> ask::Reply {
    const LINE: &str = "----a-line-that-stands-in-no-file";
    let mut body = Vec::new();
    for (name, value) in fields {
        body.extend(
            format!(
                "--{LINE}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"
            )
            .bytes(),
        );
    }
    for (name, bytes) in files {
        let head = format!(
            "--{LINE}\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: text/csv\r\n\r\n"
        );
        body.extend(head.bytes());
        body.extend_from_slice(bytes);
        body.extend(b"\r\n");
    }
    body.extend(format!("--{LINE}--\r\n").bytes());
    let origin = format!("http://{}", served.host);
    let kind = format!("multipart/form-data; boundary={LINE}");
    let headers = [("Origin", origin.as_str()), ("Content-Type", kind.as_str())];
    served.ask("POST", path, &headers, &body)
}

#[test]
fn scene_what_was_measured_of_a_spin_is_brought_in_from_the_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let example = |name: &str| fs::read(root().join("examples/first_lot").join(name)).expect(name);
    fs::write(folder.path().join("dunlin.toml"), example("dunlin.toml")).expect("a job");
    let served = Served::start(folder.path());
    let [dry, other, oiled, tray] = [
        "throw_dry_1.csv",
        "throw_dry_2.csv",
        "throw_oiled_1.csv",
        "bearings.csv",
    ]
    .map(example);
    let log = with_files(
        &served,
        "/spin",
        &[("kind", "log"), ("job", "dunlin.toml")],
        &[("C:\\logs\\dry.csv", &dry)],
    );
    assert_eq!(log.status, 200, "{}", log.body);
    for words in [
        "dry.csv",
        "against the design",
        "data-plot=\"log\"",
        "data:image/svg+xml",
    ] {
        assert!(log.body.contains(words), "{words}");
    }
    let three: [(&str, &[u8]); 3] = [
        ("dry_1.csv", &dry),
        ("dry_2.csv", &other),
        ("oiled_1.csv", &oiled),
    ];
    let compared = with_files(&served, "/spin", &[("kind", "compare")], &three);
    assert!(
        compared.status == 200 && compared.body.contains("oiled less dry"),
        "{}",
        compared.body
    );
    let sorted = with_files(
        &served,
        "/spin",
        &[("kind", "bearings"), ("flywheel", "900 g·mm2")],
        &[("tray.csv", &tray)],
    );
    assert!(
        sorted.status == 200 && sorted.body.contains("B05"),
        "{}",
        sorted.body
    );
    for (fields, files, status, words) in [
        (
            vec![("kind", "log")],
            vec![("empty.csv", &b""[..])],
            422,
            "an empty file",
        ),
        (vec![("kind", "log")], vec![], 422, "no file was chosen"),
        (
            vec![("kind", "poem")],
            vec![("dry.csv", &dry[..])],
            422,
            "not one of the kinds",
        ),
        (
            vec![("kind", "log"), ("job", "../x.toml")],
            vec![("dry.csv", &dry[..])],
            404,
            "no job file",
        ),
        (
            vec![("kind", "log"), ("marks", "0")],
            vec![("dry.csv", &dry[..])],
            422,
            "1 to 100",
        ),
        (
            vec![("kind", "recording")],
            vec![("dry.wav", &dry[..])],
            422,
            "dry.wav",
        ),
    ] {
        let reply = with_files(&served, "/spin", &fields, &files);
        assert!(
            reply.status == status && reply.body.contains(words),
            "{fields:?}: {} {}",
            reply.status,
            reply.body
        );
    }
}
