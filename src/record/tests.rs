//! Canonical form, fingerprints, and records that come from elsewhere.

use super::{Earlier, canonical, of_all, sha256};
use serde_json::json;

#[test]
fn the_hash_is_sha_256() {
    // FIPS 180-2, appendix B.1 and B.2, and the well-known value of nothing at all.
    assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    let two_blocks = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
    assert_eq!(sha256(two_blocks), "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    assert_eq!(sha256(b""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

#[test]
fn data_is_written_in_one_way() {
    // RFC 8785, section 3.2.3: keys by UTF-16 code units, so that U+1F600 comes before U+FB33.
    let keys = json!({
        "\u{20ac}": "Euro Sign", "\r": "Carriage Return", "\u{fb33}": "Hebrew Letter Dalet With Dagesh", "1": "One",
        "\u{1f600}": "Emoji: Grinning Face", "\u{80}": "Control", "\u{f6}": "Latin Small Letter O With Diaeresis"
    });
    let expected = "{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u{80}\":\"Control\",\"\u{f6}\":\"Latin Small Letter O With Diaeresis\",\
                    \"\u{20ac}\":\"Euro Sign\",\"\u{1f600}\":\"Emoji: Grinning Face\",\"\u{fb33}\":\"Hebrew Letter Dalet With Dagesh\"}";
    assert_eq!(canonical(&keys), expected);
    // Section 3.2.2: the string of its example, escaped as there.
    assert_eq!(canonical(&json!("\u{20ac}$\u{f}\nA'B\"\\\\\"/")), "\"\u{20ac}$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"");
    assert_eq!(canonical(&json!({"b": [true, {"d": "1", "c": "2"}], "a": "x"})), r#"{"a":"x","b":[true,{"c":"2","d":"1"}]}"#);
}

#[test]
fn the_fingerprint_of_all_is_that_of_the_sorted_lines() {
    // `printf 'a\nb\n' | sha256sum`
    assert_eq!(of_all(["b", "a"].into_iter()), "911169ddaaf146aff539f58c26c489af3b892dff0fe283c1c264c65ae5aa59a2");
}

#[track_caller]
fn refused(file: &[u8], words: &str) {
    let error = Earlier::read(file).expect_err("not a record");
    assert!(error.message.contains(words) && !error.remedy.is_empty(), "{error:?}");
}

#[test]
fn what_is_no_record_is_told_apart() {
    refused(b"", "not a whole JSON file");
    refused(b"\xff\xfe{", "not a whole JSON file");
    refused("[".repeat(100_000).as_bytes(), "not a whole JSON file");
    refused(b"{\"record\":\"garboard\",\"version\":1,\"entries\":[{\"finger", "not a whole JSON file");
    refused(b"[]", "not a boat's record");
    refused(b"null", "not a boat's record");
    refused(b"{\"record\":\"another\"}", "not a boat's record");
    refused(b"{\"record\":\"garboard\"}", "which version");
    refused(b"{\"record\":\"garboard\",\"version\":\"1\"}", "which version");
    refused(b"{\"record\":\"garboard\",\"version\":2}", "version 2");
    refused(b"{\"record\":\"garboard\",\"version\":1}", "`fingerprint`");
    refused(b"{\"record\":\"garboard\",\"version\":1,\"fingerprint\":\"\"}", "`entries`");
    let one = |entry: &str| format!("{{\"record\":\"garboard\",\"version\":1,\"fingerprint\":\"\",\"entries\":[{entry}]}}");
    for entry in ["1", "{}", "{\"fingerprint\":\"x\"}", "{\"fingerprint\":\"x\",\"content\":[]}", "{\"fingerprint\":1,\"content\":{}}"] {
        refused(one(entry).as_bytes(), "entry 1 of this record has no");
    }
    refused(one("{\"fingerprint\":\"x\",\"content\":{\"entry\":1}}").as_bytes(), "does not say which");
}

#[test]
fn a_file_is_whole_only_where_every_fingerprint_is_borne_out() {
    let content = r#"{"date":"2026-03-14","entry":"a"}"#;
    let print = sha256(content.as_bytes());
    let file = |content: &str, print: &str, all: &str, copies: usize| {
        let entry = format!("{{\"fingerprint\":\"{print}\",\"content\":{content}}}");
        let entries = vec![entry; copies].join(",");
        let file = format!("{{\"record\":\"garboard\",\"version\":1,\"fingerprint\":\"{all}\",\"entries\":[{entries}]}}");
        Earlier::read(file.as_bytes()).expect("a record")
    };
    let all = of_all([print.as_str()].into_iter());
    let whole = file(content, &print, &all, 1);
    assert!(whole.whole && whole.damaged.is_empty() && whole.entries.len() == 1);
    // Another program may write the keys in another order.
    assert!(file(r#"{ "entry": "a", "date": "2026-03-14" }"#, &print, &all, 1).whole);
    let changed = file(r#"{"date":"2026-03-15","entry":"a"}"#, &print, &all, 1);
    assert!(!changed.whole);
    assert_eq!(changed.damaged, ["a"]);
    let total = file(content, &print, &print, 1);
    assert!(!total.whole && total.damaged.is_empty());
    let twice = file(content, &print, &of_all([print.as_str(), print.as_str()].into_iter()), 2);
    assert!(!twice.whole);
    assert_eq!((twice.damaged, twice.entries.len()), (vec!["a".to_owned()], 1));
}

#[test]
fn html_is_part_of_the_notes_as_pages_show_it() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::create_dir_all(folder.path().join("log")).expect("a folder");
    std::fs::write(folder.path().join("boat.yaml"), "name: Test boat\n").expect("a file");
    let body = "The seal <leaking> drips.\n\n<div>Pressure was 5 bar</div>\n\n<!-- measured\ncold --> again\n\nDone. <!-- for me -->\n";
    let text = format!("---\nwork: [Looked]\ndate: 2026-05-01\n---\n{body}");
    std::fs::write(folder.path().join("log/2026-05-01-look.md"), text).expect("a file");
    let book = crate::book::load::load(folder.path()).expect("a book").book;
    let entry = book.entries.first().expect("the entry");
    assert_eq!(super::content::notes(entry), "The seal <leaking> drips.\n<div>Pressure was 5 bar</div>\nagain\nDone.");
}

#[test]
fn a_picture_that_cannot_be_read_is_told_and_not_left_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let put = |path: &str, bytes: &[u8]| {
        let path = folder.path().join(path);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        std::fs::write(path, bytes).expect("a file");
    };
    put("boat.yaml", b"name: Test boat\n");
    put("log/2026-05-01-look.md", b"---\nwork: [Looked]\ndate: 2026-05-01\n---\n![One](one.jpg) ![Two](two.jpg)\n");
    put("log/one.jpg", b"");
    put("log/two.jpg", b"two");
    let book = crate::book::load::load(folder.path()).expect("a book").book;
    let entries: Vec<_> = book.entries.iter().collect();
    std::fs::remove_file(folder.path().join("log/two.jpg")).expect("removed");
    let (hashes, unread) = super::pictures::hashes(folder.path(), &book, &entries);
    // SHA-256 of nothing is well known (FIPS 180-4 gives the constants; from memory).
    let nothing = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
    assert_eq!(hashes.into_iter().collect::<Vec<_>>(), [("log/one.jpg".to_owned(), nothing.to_owned())]);
    let told: Vec<_> = unread.iter().map(|problem| (problem.rule, problem.place.file.as_str())).collect();
    assert_eq!(told, [("unreadable", "log/two.jpg")]);
}
