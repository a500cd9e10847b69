//! What lets a served site be installed on a phone and opened without a network: a web app manifest
//! (W3C), its pictures, and the worker that keeps the files. From a folder none of it is used.

use super::manifest::KnownFile;
use crate::book::model::Boat;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Most bytes that are fetched when a site is first kept. What is beyond is kept when it is first looked at.
const AT_ONCE: u64 = 50 * 1024 * 1024;
/// Most bytes of names in the worker itself; more of them stand in files of at most as many that it brings in.
const NAMES: usize = 200_000;
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

/// The worker, `sw.js`: the theme's script after what names the files of the site. Before it the files
/// with names that it brings in, where one alone would be too much to load.
#[must_use]
pub fn worker(script: &str, files: &BTreeMap<String, KnownFile>) -> Vec<(String, String)> {
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
    let named = |(path, file): (&String, &KnownFile)| (path.clone(), short(file));
    let now: Vec<(String, String)> = now.into_iter().map(named).collect();
    let later: Vec<(String, String)> = later.into_iter().map(named).collect();
    let version: String = hasher.finalize().to_hex().chars().take(DIGITS).collect();
    let list =
        |names: &[(String, String)]| -> Value { names.iter().map(|(path, hash)| (path.clone(), Value::String(hash.clone()))).collect() };
    let site = |now: Value, later: Value| json!({"version": version, "files": now, "later": later});
    let whole = site(list(&now), list(&later)).to_string();
    if whole.len() <= NAMES {
        return vec![("sw.js".to_owned(), format!("var site = {whole};\n{script}"))];
    }
    let mut made: Vec<(String, String)> = Vec::new();
    let mut brought = String::new();
    for (key, names) in [("files", now), ("later", later)] {
        for part in parts(&names) {
            let name = format!("sw-{}.js", made.len() + 1);
            let text = format!("Object.assign(site.{key}, {});\n", list(part));
            // Another text is another address: a browser may take what is brought in from its own store.
            let hash: String = blake3::hash(text.as_bytes()).to_hex().chars().take(DIGITS).collect();
            brought.push_str(&format!("importScripts(\"{name}?{hash}\");\n"));
            made.push((name, text));
        }
    }
    made.push(("sw.js".to_owned(), format!("var site = {};\n{brought}{script}", site(list(&[]), list(&[])))));
    made
}

/// Names in stretches that are short enough for a file each.
fn parts(names: &[(String, String)]) -> Vec<&[(String, String)]> {
    let mut parts = Vec::new();
    let (mut from, mut size) = (0, 0);
    for (at, (path, hash)) in names.iter().enumerate() {
        // A name in quotes, a colon, a hash in quotes, a comma.
        let own = path.len() + hash.len() + 6;
        if size + own > NAMES && at > from {
            parts.push(names.get(from..at).unwrap_or_default());
            (from, size) = (at, 0);
        }
        size += own;
    }
    parts.push(names.get(from..).unwrap_or_default());
    parts.retain(|part| !part.is_empty());
    parts
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

    /// The worker that needs nothing besides.
    fn only(worker: &[(String, String)]) -> &str {
        match worker {
            [(name, text)] if name == "sw.js" => text,
            more => panic!("{more:?}"),
        }
    }

    fn first_line(worker: &[(String, String)]) -> &str {
        let worker = only(worker);
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
        assert!(first_line(&few).contains(r#""files":{"index.html":"aa","pictures/a.jpg":"bb"},"later":{}"#), "{few:?}");
        let many = worker("", &files(&[("index.html", 10, "aa"), ("pictures/a.jpg", AT_ONCE - 9, "bb")]));
        assert!(first_line(&many).contains(r#""files":{"index.html":"aa"},"later":{"pictures/a.jpg":"bb"}"#), "{many:?}");
    }

    #[test]
    fn codes_for_paper_are_not_kept() {
        assert!(!only(&worker("", &files(&[("qr/index.svg", 10, "aa")]))).contains("qr/"));
    }

    #[test]
    fn many_names_stand_in_files_that_a_phone_can_load() {
        let names: Vec<String> = (0..20_000).map(|n| format!("guides/a-guide-with-a-name-of-some-length-{n}.html")).collect();
        let many: Vec<(&str, u64, &str)> = names.iter().map(|name| (name.as_str(), 10, "0123456789abcdef")).collect();
        let made = worker("SCRIPT", &files(&many));
        assert!(made.iter().all(|(_, text)| text.len() <= 210_000), "{:?}", made.iter().map(|(_, text)| text.len()).collect::<Vec<_>>());
        let (own, brought) = made.split_last().expect("a worker");
        assert!(own.1.ends_with("SCRIPT"));
        for (name, _) in brought {
            assert!(own.1.contains(&format!("importScripts(\"{name}?")), "{name} is brought in");
        }
        for name in &names {
            assert_eq!(brought.iter().filter(|(_, text)| text.contains(&format!("\"{name}\""))).count(), 1, "{name}");
        }
    }
}
