//! What lets a served site be installed on a phone and opened without a network: a web app manifest
//! (W3C), its pictures, and the worker that keeps the files. From a folder none of it is used.

use super::manifest::KnownFile;
use crate::book::model::Boat;
use serde_json::json;
use std::collections::BTreeMap;

/// Most bytes of pictures and papers that are fetched at once when a site is first kept; with more,
/// each is kept when it is first looked at.
const PICTURES: u64 = 50 * 1024 * 1024;
/// Digits of a file's hash that tell a changed file.
const DIGITS: usize = 16;

/// The web app manifest, `site.webmanifest`.
#[must_use]
pub fn manifest(boat: &Boat, language: &str) -> String {
    let icon = |size: u32, purpose: &str| json!({"src": format!("assets/icon-{size}.png"), "sizes": format!("{size}x{size}"), "type": "image/png", "purpose": purpose});
    let manifest = json!({
        "name": boat.name,
        "short_name": boat.name,
        "lang": language,
        "start_url": "index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#ffffff",
        "icons": [icon(192, "any"), icon(512, "any"), icon(512, "maskable")],
    });
    format!("{manifest:#}\n")
}

/// The worker, `sw.js`: the theme's script after one line that names the files of the site.
#[must_use]
pub fn worker(script: &str, files: &BTreeMap<String, KnownFile>) -> String {
    let is_picture = |path: &str| path.starts_with("pictures/") || path.starts_with("papers/");
    let pictures: u64 = files.iter().filter(|(path, _)| is_picture(path)).map(|(_, file)| file.size).sum();
    let short = |file: &KnownFile| file.hash.chars().take(DIGITS).collect::<String>();
    // A code for paper is of no use on a screen, and the pocket file says again what the pages say.
    let wanted = files.iter().filter(|(path, _)| !path.starts_with("qr/") && *path != super::pocket::NAME);
    let (later, now): (Vec<_>, Vec<_>) = wanted.partition(|(path, _)| pictures > PICTURES && is_picture(path));
    let mut hasher = blake3::Hasher::new();
    for (path, file) in files {
        hasher.update(path.as_bytes()).update(file.hash.as_bytes());
    }
    let list = |files: &[(&String, &KnownFile)]| -> serde_json::Map<String, serde_json::Value> {
        files.iter().map(|(path, file)| ((*path).clone(), short(file).into())).collect()
    };
    let version: String = hasher.finalize().to_hex().chars().take(DIGITS).collect();
    let site = json!({"version": version, "files": list(&now), "later": list(&later)});
    format!("var site = {site};\n{script}")
}

#[cfg(test)]
mod tests {
    use super::{PICTURES, worker};
    use crate::site::manifest::KnownFile;
    use std::collections::BTreeMap;

    fn files(list: &[(&str, u64, &str)]) -> BTreeMap<String, KnownFile> {
        list.iter().map(|(path, size, hash)| ((*path).to_owned(), KnownFile { size: *size, hash: (*hash).to_owned() })).collect()
    }

    fn first_line(worker: &str) -> &str {
        worker.lines().next().unwrap_or_default()
    }

    #[test]
    fn a_changed_file_makes_another_worker() {
        let before = worker("", &files(&[("index.html", 10, "aa")]));
        assert_eq!(before, worker("", &files(&[("index.html", 10, "aa")])));
        assert_ne!(before, worker("", &files(&[("index.html", 10, "ab")])));
    }

    #[test]
    fn pictures_wait_where_they_are_too_many() {
        let few = worker("", &files(&[("index.html", 10, "aa"), ("pictures/a.jpg", PICTURES, "bb")]));
        assert!(first_line(&few).contains(r#""files":{"index.html":"aa","pictures/a.jpg":"bb"},"later":{}"#), "{few}");
        let many = worker("", &files(&[("index.html", 10, "aa"), ("pictures/a.jpg", PICTURES + 1, "bb")]));
        assert!(first_line(&many).contains(r#""files":{"index.html":"aa"},"later":{"pictures/a.jpg":"bb"}"#), "{many}");
    }

    #[test]
    fn codes_for_paper_are_not_kept() {
        assert!(!worker("", &files(&[("qr/index.svg", 10, "aa")])).contains("qr/"));
    }
}
