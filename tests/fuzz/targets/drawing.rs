//! Drawings: what is built anew is an SVG file that runs nothing, loads nothing, and is built to itself.

use garboard::site::drawing::rebuild_svg;
use roxmltree::Document;
use scraper::Html;

pub fn check(bytes: &[u8]) {
    let Ok(drawing) = rebuild_svg(bytes) else { return };
    let text = std::str::from_utf8(&drawing.bytes).expect("UTF-8");
    let read = Document::parse(text).unwrap_or_else(|error| panic!("{error} in {text}"));
    for element in read.descendants().filter(|node| node.is_element()) {
        assert_harmless(element.tag_name().name(), element.attributes().map(|attribute| (attribute.name(), attribute.value())));
    }
    // As a browser reads it inside a page, which is not how XML reads it.
    let page = Html::parse_fragment(text);
    for element in page.tree.values().filter_map(scraper::Node::as_element) {
        assert_harmless(element.name(), element.attrs());
    }
    let again = rebuild_svg(&drawing.bytes).unwrap_or_else(|error| panic!("its own drawing is refused: {error} in {text}"));
    assert_eq!(text, String::from_utf8_lossy(&again.bytes));
    assert_eq!((drawing.width, drawing.height, &again.left_out), (again.width, again.height, &Vec::new()));
}

fn assert_harmless<'n>(name: &str, attributes: impl Iterator<Item = (&'n str, &'n str)>) {
    let refused =
        ["script", "foreignobject", "iframe", "object", "embed", "image", "img", "audio", "video", "a", "handler", "link", "base"];
    assert!(!refused.contains(&name.to_ascii_lowercase().as_str()), "<{name}>");
    for (name, value) in attributes {
        let plain: String =
            value.chars().filter(|letter| !letter.is_whitespace() && !letter.is_control()).collect::<String>().to_lowercase();
        assert!(!name.to_ascii_lowercase().starts_with("on"), "{name}={value}");
        assert!(name != "href" || plain.starts_with('#'), "{name}={value}");
        assert!(!plain.contains("javascript:") || !matches!(name, "href" | "src" | "style"), "{name}={value}");
        assert!(
            plain.match_indices("url(").all(|(at, _)| plain[at + 4..].trim_start_matches(['"', '\'']).starts_with('#')),
            "{name}={value}"
        );
    }
}
