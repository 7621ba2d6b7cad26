//! Job files: reading one, and finding the one that lies beside a lot.

use std::path::{Component, Path, PathBuf};

use whirlwright_workshop::measuring::{Window, Windows};
use whirlwright_workshop::part::{Job, Kind};

use crate::error::Trouble;
use crate::keep;
use crate::read::job;

/// Reads a job file; drawings it refers to are looked for in its folder.
///
/// # Errors
/// The file cannot be read, or every fault in it at once.
pub fn read(path: &Path) -> Result<Job, Trouble> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let fetch = |name: &str| drawing(folder, name);
    let read = job::read(&text(path)?, &path.display().to_string(), &fetch);
    read.map_err(|faults| Trouble::Input(faults.to_string()))
}

/// The text of a file that should be plain UTF-8.
fn text(path: &Path) -> Result<String, Trouble> {
    String::from_utf8(keep::read(path)?).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        let why = format!("is not UTF-8 text (byte {at}); save it as UTF-8");
        Trouble::Input(format!("{} {why}", path.display()))
    })
}

/// A drawing beside the job file; nothing outside its folder is opened.
fn drawing(folder: &Path, name: &str) -> Result<String, String> {
    let inside = Path::new(name)
        .components()
        .all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    if !inside {
        return Err(format!(
            "`{name}` lies outside the job's folder; put the drawing beside the job file"
        ));
    }
    text(&folder.join(name)).map_err(|e| e.to_string())
}

/// The job files of a folder, by name.
///
/// A file is taken for one when its text has a line `whirlwright = …`.
#[must_use]
pub fn in_folder(folder: &Path) -> Vec<PathBuf> {
    with_line(folder, |line| {
        line.trim_start()
            .strip_prefix("whirlwright")
            .is_some_and(|rest| rest.trim_start().starts_with('='))
    })
}

/// The TOML files of a folder that have such a line, by name.
pub(super) fn with_line(folder: &Path, is: impl Fn(&str) -> bool) -> Vec<PathBuf> {
    let folder = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let plain = |path: PathBuf| path.strip_prefix(".").map(Path::to_owned).unwrap_or(path);
    let paths = entries.filter_map(|entry| Some(plain(entry.ok()?.path())));
    let toml = |path: &PathBuf| path.extension().is_some_and(|e| e == "toml");
    let mut found: Vec<PathBuf> = paths
        .filter(toml)
        .filter(|path| text(path).is_ok_and(|text| text.lines().any(&is)))
        .collect();
    found.sort();
    found
}

/// The one job file of a folder; none if there is none, or more than one to choose from.
#[must_use]
pub fn only_one_in(folder: &Path) -> Option<PathBuf> {
    let mut jobs = in_folder(folder);
    if jobs.len() == 1 { jobs.pop() } else { None }
}

/// What a reading of each kind of part may sensibly be: common practice, and the job file's own
/// windows before it.
#[must_use]
pub fn windows(job: Option<&Job>) -> Windows {
    let mut windows = Windows::practice();
    let named = [
        ("half", Kind::Half),
        ("rim", Kind::Rim),
        ("dressed", Kind::Dressed),
    ];
    for (name, kind) in named {
        let Some(said) = job.and_then(|job| job.lots.get(name)) else {
            continue;
        };
        let window = |(low, high)| Window {
            low,
            high,
            source: "the job file".to_owned(),
        };
        let known = windows.of_mut(kind);
        known.mass_g = said.mass_window_g.map(window).or(known.mass_g.take());
        known.fit_mm = said.fit_window_mm.map(window).or(known.fit_mm.take());
        if let Some(cavities) = said.cavities {
            known.origins = (1..=cavities).map(|n| n.to_string()).collect();
        }
    }
    windows
}
