//! Whatever the fuzzer has found once, replayed: every file of `fuzz/corpus/` goes through the check of its folder. How
//! the fuzzer is run stands in `fuzz/run`.

#![allow(clippy::disallowed_methods, reason = "tests lay and read files, and wait")]

#[path = "fuzz/targets/mod.rs"]
mod targets;

use std::fs;
use std::path::Path;

fn corpus() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus")
}

#[test]
fn what_was_found_once_holds() {
    for (name, check) in targets::ALL {
        let folder = corpus().join(name);
        let files = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
        let mut count = 0;
        for file in files {
            let path = file.expect("a file").path();
            let bytes = fs::read(&path).expect("a file");
            // Told first: a check that fails says nothing of the file.
            println!("{}", path.display());
            check(&bytes);
            count += 1;
        }
        assert!(count > 0, "{name} has nothing to begin with");
    }
}

#[test]
fn every_folder_of_the_corpus_has_its_target() {
    for folder in fs::read_dir(corpus()).expect("the corpus") {
        let name = folder.expect("a folder").file_name();
        assert!(targets::ALL.iter().any(|(known, _)| name == *known), "{}", name.display());
    }
}
