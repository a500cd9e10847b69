//! From the path of a request to a file of the site, and to nothing else.
//!
//! First the words: what could lead out is refused before the disk is asked. Then the disk: links are
//! resolved, and what stands outside the site is not there.

use std::path::{Path, PathBuf};

/// The file of a path, counted from the top of the site; `/` leads to `index.html`. `None`: no such
/// path can be in a site.
#[must_use]
pub fn inside(path: &str) -> Option<String> {
    let decoded = percent_decoded(path.strip_prefix('/')?)?;
    // A colon or backslash means something on some systems; control characters nowhere.
    if decoded.chars().any(|character| character.is_control() || matches!(character, '\\' | ':')) {
        return None;
    }
    let decoded = if decoded.is_empty() || decoded.ends_with('/') { decoded + "index.html" } else { decoded };
    // Names that begin with a dot are parts of a publish that is under way, or nothing of ours.
    let sound = decoded.split('/').all(|name| !name.is_empty() && !name.starts_with('.') && name.len() <= 255);
    sound.then_some(decoded)
}

/// The bytes of `%XX`, once (RFC 3986, 2.1). `None`: they are none, or no UTF-8.
fn percent_decoded(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let high = char::from(rest.next()?).to_digit(16)?;
            let low = char::from(rest.next()?).to_digit(16)?;
            bytes.push(u8::try_from(high * 16 + low).ok()?);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

/// The file on disk. `None`: there is no plain file of that path inside the site.
#[must_use]
pub fn find(site: &Path, path: &str) -> Option<PathBuf> {
    let site = site.canonicalize().ok()?;
    let file = site.join(inside(path)?).canonicalize().ok()?;
    // Asked before it is opened: a named pipe would never answer.
    (file.starts_with(&site) && file.metadata().is_ok_and(|meta| meta.is_file())).then_some(file)
}

/// The media type of a file, by its ending.
#[must_use]
pub fn kind(path: &Path) -> &'static str {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
    match ending.as_str() {
        "html" => "text/html; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "csv" => "text/csv; charset=utf-8",
        "txt" | "md" => "text/plain; charset=utf-8",
        "xml" => "application/xml",
        "atom" => "application/atom+xml",
        "ics" => "text/calendar; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "gif" => "image/gif",
        "pdf" => "application/pdf",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::{find, inside};
    use std::fs;

    #[test]
    fn paths_of_a_site() {
        #[track_caller]
        fn case(path: &str, expected: &str) {
            assert_eq!(inside(path).as_deref(), Some(expected), "{path}");
        }
        case("/", "index.html");
        case("/guides/oil-and-filter.html", "guides/oil-and-filter.html");
        case("/guides/", "guides/index.html");
        case("/pictures/%C3%B6l%20filter.jpg", "pictures/\u{f6}l filter.jpg");
        // Decoded once only: this is a name with a percent sign.
        case("/%252e%252e/x", "%2e%2e/x");
    }

    #[test]
    fn paths_that_lead_astray() {
        for path in [
            "",
            "..",
            "/..",
            "/../boat.yaml",
            "/guides/../../boat.yaml",
            "/%2e%2e/boat.yaml",
            "/%2E%2e%2fboat.yaml",
            "/..%2fboat.yaml",
            "/.%2e/boat.yaml",
            "/..%5cboat.yaml",
            "/..\\boat.yaml",
            "//etc/passwd",
            "/%2fetc/passwd",
            "/guides//x",
            "/C:/x",
            "/c%3a/x",
            "/x%00.html",
            "/x\n",
            "/%0d%0aSet-Cookie:x",
            "/.garboard-new/index.html",
            "/./index.html",
            "/x/.",
            "/%",
            "/%2",
            "/%zz",
            "/%ff",
            "/%c0%ae%c0%ae/boat.yaml",
            "/index.html::$DATA",
        ] {
            assert_eq!(inside(path), None, "{path}");
        }
        assert_eq!(inside(&format!("/{}", "a".repeat(256))), None);
    }

    #[cfg(unix)]
    #[test]
    fn links_out_of_the_site_lead_nowhere() {
        let folder = tempfile::tempdir().unwrap();
        let site = folder.path().join("site");
        fs::create_dir_all(site.join("guides")).unwrap();
        fs::write(folder.path().join("secret"), "x").unwrap();
        fs::write(site.join("index.html"), "x").unwrap();
        std::os::unix::fs::symlink("../secret", site.join("file")).unwrap();
        std::os::unix::fs::symlink("..", site.join("up")).unwrap();
        std::os::unix::fs::symlink("index.html", site.join("first.html")).unwrap();
        for path in ["/file", "/up/secret", "/up/site/../secret", "/guides", "/guides/", "/none"] {
            assert_eq!(find(&site, path), None, "{path}");
        }
        let first = site.canonicalize().unwrap().join("index.html");
        for path in ["/", "/index.html", "/first.html", "/up/site/index.html"] {
            assert_eq!(find(&site, path).as_ref(), Some(&first), "{path}");
        }
        assert_eq!(find(&folder.path().join("none"), "/"), None);
    }
}
