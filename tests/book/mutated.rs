//! A sound guide with some of its bytes changed: reading it never panics, and every problem has a
//! place in the file and a remedy.

use crate::support::broken_folder;
use garboard::book::load::load;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::fs;

/// One change: where, and what is put there instead of how many bytes.
#[derive(Debug, Clone)]
struct Change {
    at: prop::sample::Index,
    taken: usize,
    put: Vec<u8>,
}

fn change() -> impl Strategy<Value = Change> {
    let signs: Vec<&'static [u8]> = vec![
        b"{",
        b"}",
        b"---\n",
        b"\n",
        b"\t",
        b": ",
        b" #",
        b"[",
        b"]",
        b"> ",
        b"1. ",
        b"&",
        b"*",
        b"\xff",
        b"\0",
        b"\xc3\xa9",
        b"`",
        b"<!--",
        b"..",
        b"-",
    ];
    let put = prop_oneof![prop::sample::select(signs).prop_map(<[u8]>::to_vec), prop::collection::vec(any::<u8>(), 0..4)];
    (any::<prop::sample::Index>(), 0..6_usize, put).prop_map(|(at, taken, put)| Change { at, taken, put })
}

#[test]
fn a_guide_with_changed_bytes_is_read_without_a_panic() {
    let folder = tempfile::tempdir().expect("a folder");
    let base = broken_folder().join("base");
    for (path, bytes) in crate::support::files_under(&base) {
        let path = folder.path().join(path);
        fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        fs::write(path, bytes).expect("a file");
    }
    let guide = folder.path().join("guides/engine/oil.md");
    let sound = fs::read(&guide).expect("the guide");
    let config = Config { cases: 300, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]));
    runner
        .run(&prop::collection::vec(change(), 1..5), |changes| {
            let mut bytes = sound.clone();
            for Change { at, taken, put } in changes {
                let start = at.index(bytes.len() + 1);
                let end = (start + taken).min(bytes.len());
                bytes.splice(start..end, put);
            }
            fs::write(&guide, &bytes).expect("a file");
            let loaded = load(folder.path()).expect("a book");
            let lines = String::from_utf8_lossy(&bytes).split('\n').count();
            for problem in &loaded.problems {
                prop_assert!(!problem.remedy.is_empty() && !problem.message.is_empty());
                prop_assert!(problem.place.line >= 1 && problem.place.column >= 1);
                if problem.place.file == "guides/engine/oil.md" {
                    prop_assert!(problem.place.line <= lines, "line {} of {lines}", problem.place.line);
                }
            }
            Ok(())
        })
        .expect("no change makes it panic");
}
