//! What lets a served site be installed on a phone and opened without a network: a web app manifest
//! (W3C), its pictures, and the worker that keeps the files. From a folder none of it is used.

use super::manifest::KnownFile;
use crate::book::model::Boat;
use serde_json::json;
use std::collections::BTreeMap;

/// Most bytes that are fetched when a site is first kept. What is beyond is kept when it is first looked at.
const AT_ONCE: u64 = 50 * 1024 * 1024;
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
    let short = |file: &KnownFile| file.hash.chars().take(DIGITS).collect::<String>();
    // A code for paper is of no use on a screen, and the pocket file says again what the pages say.
    let mut wanted: Vec<(&String, &KnownFile)> =
        files.iter().filter(|(path, _)| !path.starts_with("qr/") && *path != super::pocket::NAME).collect();
    wanted.sort_by_key(|(path, _)| rank(path));
    let mut sum = 0_u64;
    let (mut now, mut later) = (Vec::new(), Vec::new());
    for (path, file) in wanted {
        sum = sum.saturating_add(file.size);
        if sum <= AT_ONCE { now.push((path, file)) } else { later.push((path, file)) }
    }
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

/// What a boat needs first: the first pages, then guides, then words to search for, then all else;
/// pictures and papers last.
fn rank(path: &str) -> u8 {
    match path.split_once('/') {
        None => 0,
        Some(("assets", rest)) if !rest.starts_with("search/") => 0,
        Some(("guides", _)) => 1,
        Some(("assets", rest)) if rest.starts_with("search/t-") || rest.starts_with("search/v-") => 2,
        Some(("pictures" | "papers", _)) => 4,
        Some(_) => 3,
    }
}

#[cfg(test)]
mod tests {
    use super::{AT_ONCE, worker};
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
        let few = worker("", &files(&[("index.html", 10, "aa"), ("pictures/a.jpg", AT_ONCE - 10, "bb")]));
        assert!(first_line(&few).contains(r#""files":{"index.html":"aa","pictures/a.jpg":"bb"},"later":{}"#), "{few}");
        let many = worker("", &files(&[("index.html", 10, "aa"), ("pictures/a.jpg", AT_ONCE - 9, "bb")]));
        assert!(first_line(&many).contains(r#""files":{"index.html":"aa"},"later":{"pictures/a.jpg":"bb"}"#), "{many}");
    }

    #[test]
    fn codes_for_paper_are_not_kept() {
        assert!(!worker("", &files(&[("qr/index.svg", 10, "aa")])).contains("qr/"));
    }
}
