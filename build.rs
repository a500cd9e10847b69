//! Embeds the theme, and a fingerprint of the program's own sources: a site made by another version
//! of the program is rendered anew. The same sources give the same fingerprint on any machine.

#![expect(clippy::disallowed_methods, reason = "reads the theme that is put into the program")]

use std::fs;
use std::path::{Path, PathBuf};

fn main() {
    println!("cargo::rerun-if-changed=themes");
    println!("cargo::rerun-if-changed=src");
    let mut files = Vec::new();
    gather(Path::new("src"), &mut files);
    files.sort();
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for path in files {
        let name = path.to_string_lossy().replace('\\', "/");
        let content = fs::read(&path).unwrap_or_default();
        for byte in name.bytes().chain(content) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
    println!("cargo::rustc-env=GARBOARD_SOURCES={hash:016x}");
}

fn gather(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(items) = fs::read_dir(folder) else { return };
    for item in items.flatten() {
        let path = item.path();
        if path.is_dir() {
            gather(&path, files);
        } else {
            files.push(path);
        }
    }
}
