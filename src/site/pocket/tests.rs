use super::rewrite::{Places, data_address, ids, matter, pictures, rewritten, script, style};
use super::tags::{Piece, pieces};
use proptest::prelude::*;

fn places() -> Places<'static> {
    [("oil", ["sheet", "step-1", "drain"].into()), ("rig", ["sheet", "step-1"].into())].into()
}

#[track_caller]
fn case(html: &str, expected: &str) {
    let picture = |path: &str| (path == "pictures/a.png").then(|| "data:image/png;base64,AA==".to_owned());
    assert_eq!(rewritten(html, "oil", &places(), &picture), expected, "{html}");
}

#[test]
fn ids_get_the_name_of_their_guide_in_front() {
    case(r#"<p id="step-1">x</p>"#, r#"<p id="oil.step-1">x</p>"#);
    case(r#"<b id="a"></b><i aria-labelledby="a z" for="a"></i>"#, r#"<b id="oil.a"></b><i aria-labelledby="oil.a z" for="oil.a"></i>"#);
    case(r##"<g id="c"/><path fill="url(#c)" mask="url(#z)"/>"##, r##"<g id="oil.c"/><path fill="url(#oil.c)" mask="url(#z)"/>"##);
}

#[test]
fn links_lead_to_places_of_the_file() {
    case(r##"<a id="x" href="#x">1</a>"##, r##"<a id="oil.x" href="#oil.x">1</a>"##);
    // What is not of the guide is of the frame.
    case(r##"<use href="#_alert"/>"##, r##"<use href="#_alert"/>"##);
    case(r#"<a class="n" href="../guides/rig.html#step-1">1</a>"#, r##"<a class="n" href="#rig.step-1">1</a>"##);
    case(r#"<a href="../guides/rig.html#gone">1</a>"#, r##"<a href="#rig">1</a>"##);
    case(r#"<a href="guides/rig.html">1</a>"#, r##"<a href="#rig">1</a>"##);
    case(
        r#"<a href="https://example.org/guides/rig.html" rel="x">1</a>"#,
        r#"<a href="https://example.org/guides/rig.html" rel="x">1</a>"#,
    );
    case(r#"<a href="mailto:a@example.org">1</a>"#, r#"<a href="mailto:a@example.org">1</a>"#);
}

#[test]
fn links_out_of_the_file_are_plain_text() {
    case(
        r#"<a href="../log/2026.html#e" class="figure" dir="auto" aria-label="l">1 <b>2</b></a> 3"#,
        r#"<span class="figure" dir="auto" data-to="e">1 <b>2</b></span> 3"#,
    );
    case(r##"<a href="../tools.html">1</a><a href="#z">2</a>"##, r##"<span>1</span><a href="#z">2</a>"##);
    case(r#"<a href="../guides/not-here.html">1</a>"#, "<span>1</span>");
}

#[test]
fn pictures_are_held_by_the_page() {
    case(
        r#"<img src="../pictures/a.png" alt="A" width="8" loading="lazy" srcset="x 1w" sizes="y">"#,
        r#"<img src="data:image/png;base64,AA==" alt="A" width="8">"#,
    );
    case(r#"<img src="../pictures/b.png" alt="B &amp; <b>">"#, r#"<span class="no-picture">B &amp; &lt;b&gt;</span>"#);
    assert_eq!(pictures(r#"<img src="../pictures/a.png"><img alt="x">"#).collect::<Vec<_>>(), ["pictures/a.png"]);
}

#[test]
fn bytes_in_base_64() {
    // The test vectors of RFC 4648, section 10.
    for (plain, code) in
        [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("fooba", "Zm9vYmE="), ("foobar", "Zm9vYmFy")]
    {
        assert_eq!(data_address("a.png", plain.as_bytes()).as_deref(), Some(format!("data:image/png;base64,{code}").as_str()));
    }
    assert_eq!(data_address("a.svg", b"f").as_deref(), Some("data:image/svg+xml;base64,Zg==#.svg"));
    assert_eq!(data_address("a.html", b"f"), None);
}

#[test]
fn the_matter_is_what_stands_in_main() {
    assert_eq!(matter("<html><main id=\"_main\">\n<p>x</p>\n</main><footer></footer>"), "<p>x</p>");
    assert_eq!(matter("<html><p>x</p>"), "");
    assert_eq!(ids("<p id=a><b id='c'>").into_iter().collect::<Vec<_>>(), ["a", "c"]);
}

#[test]
fn nothing_in_a_script_or_a_style_ends_its_element() {
    assert_eq!(script("a = '</script><!-- x'; b<c;"), "a = '\\x3c/script>\\x3c!-- x'; b<c;");
    assert_eq!(script("'</SCRIPT>é<'"), "'\\x3c/SCRIPT>é<'");
    assert_eq!(style("a { content: '</style>' }"), "a { content: '<\\/style>' }");
}

proptest! {
    #[test]
    fn whatever_stands_there_every_id_is_renamed_and_the_words_stay(page in "[<>/aid=\"' #&;b.-]{0,60}") {
        let text = |page: &str| -> String { pieces(page).filter_map(|piece| match piece { Piece::Text(text) => Some(text.to_owned()), _ => None }).collect() };
        let once = rewritten(&page, "oil", &places(), &|_| None);
        prop_assert_eq!(text(&once), text(&page));
        prop_assert!(ids(&once).iter().all(|id| id.starts_with("oil.")), "{}", once);
        prop_assert_eq!(once, rewritten(&page, "oil", &places(), &|_| None));
    }
}
