//! What comes in from outside: every crate has its reason in `DEVELOPERS.md`, and the builds are locked.

use std::path::Path;

fn read(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Names below the headings of dependencies, in the first column of a line.
fn dependencies(manifest: &str) -> Vec<&str> {
    let mut inside = false;
    let mut names = Vec::new();
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line.ends_with("dependencies]");
        } else if inside && let Some((name, _)) = line.split_once('=') {
            names.push(name.trim().trim_matches('"'));
        }
    }
    names
}

/// The rows of the table of dependencies, first column only: names with commas between them.
fn reasons(page: &str) -> Vec<String> {
    let table = page.split_once("\n## Dependencies\n").expect("a heading `Dependencies`").1;
    let rows = table.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |")?.split_once(" | "));
    rows.filter(|(_, reason)| reason.len() > 5)
        .flat_map(|(names, _)| names.split([' ', ',', '(', ')', '*']).map(str::to_owned).collect::<Vec<_>>())
        .collect()
}

#[test]
fn every_dependency_has_its_reason() {
    let known = reasons(&read("DEVELOPERS.md"));
    for manifest in ["Cargo.toml", "tests/fuzz/Cargo.toml"] {
        let text = read(manifest);
        let names = dependencies(&text);
        assert!(names.len() >= 4, "{names:?}");
        for name in names.into_iter().filter(|name| *name != "garboard") {
            assert!(known.iter().any(|one| one == name), "{manifest}: `{name}` has no line in the table of DEVELOPERS.md");
        }
    }
}

#[test]
fn every_build_is_locked() {
    for script in [".ci/run", "tests/all", "tests/faults/run", "tests/fuzz/run"] {
        let text = read(script).replace("\\\n", " ");
        for line in text.lines().filter(|line| !line.trim_start().starts_with('#')) {
            let builds = ["cargo build", "cargo test", "cargo run", "cargo bench", "cargo clippy", "cargo install"];
            assert!(!builds.iter().any(|build| line.contains(build)) || line.contains("--locked"), "{script}: {line}");
        }
    }
}

#[test]
fn unsafe_code_is_forbidden_in_every_crate() {
    for root in ["src/lib.rs", "src/main.rs"] {
        assert!(read(root).contains("#![forbid(unsafe_code)]"), "{root}");
    }
}
