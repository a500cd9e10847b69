//! Drawings as people and drawing programs write them, and as someone hostile would.

use super::*;
use proptest::prelude::*;

const HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"40\" height=\"20\" viewBox=\"0 0 40 20\">";
const BUILT_HEAD: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" height=\"20\" viewBox=\"0 0 40 20\" width=\"40\">";

#[track_caller]
fn built(file: &str) -> (String, Vec<String>) {
    let drawing = rebuild_svg(file.as_bytes()).expect("a drawing that can be shown");
    let text = String::from_utf8(drawing.bytes).expect("UTF-8");
    (text, drawing.left_out)
}

/// What stands inside a drawing, and what of it remains and is named as left out.
#[track_caller]
fn inside(given: &str, expected: &str, left_out: &[&str]) {
    let (text, named) = built(&format!("{HEAD}{given}</svg>"));
    let expected =
        if expected.is_empty() { format!("{}/>\n", BUILT_HEAD.trim_end_matches('>')) } else { format!("{BUILT_HEAD}{expected}</svg>\n") };
    assert_eq!(text, expected);
    assert_eq!(named, left_out, "{given}");
}

#[track_caller]
fn refused(file: &str, message: &str, remedy: &str) {
    let error = rebuild_svg(file.as_bytes()).expect_err("a drawing that is refused");
    assert_eq!(error.to_string(), message);
    assert_eq!(error.remedy(), remedy);
}

#[test]
fn shapes_text_and_fills_come_through() {
    for kept in [
        "<path d=\"M0 0 L10,10z\" fill=\"none\" stroke=\"#123\" stroke-width=\"2\"/>",
        "<g transform=\"translate(1 2) rotate(-45)\"><circle cx=\"1\" cy=\"2\" r=\"3\"/></g>",
        "<title>Raw water &amp; pump</title><desc>Seen from &lt;aft></desc>",
        "<text font-family=\"'Some Sans', sans-serif\" x=\"1\" y=\"2\">35 <tspan dy=\"1\">N·m</tspan></text>",
        "<text xml:space=\"preserve\">a  b</text>",
        "<defs><linearGradient id=\"g\" x1=\"0\"><stop offset=\"50%\" stop-color=\"rgb(1, 2, 3)\"/></linearGradient></defs><rect fill=\"url(#g)\" height=\"5\" width=\"5\"/>",
        "<symbol id=\"v\" viewBox=\"0 0 1 1\"><line x1=\"0\" x2=\"1\"/></symbol><use href=\"#v\" x=\"3\"/>",
        "<clipPath id=\"c\"><ellipse rx=\"1\" ry=\"2\"/></clipPath><mask id=\"m\"><polygon points=\"0,0 1,1 2,0\"/></mask><g clip-path=\"url(#c)\" mask=\"url('#m')\"><polyline points=\"0,0 1,1\"/></g>",
        "<marker id=\"a\" orient=\"auto\" refX=\"1\"><path d=\"M0 0\"/></marker><pattern id=\"p\" patternUnits=\"userSpaceOnUse\"><path d=\"M1 1\" marker-end=\"url(#a)\"/></pattern>",
        "<g aria-label=\"To the sea: shut; see 'valves' (aft)\" role=\"img\"/>",
    ] {
        let expected = kept.replace("&lt;aft>", "&lt;aft&gt;");
        inside(kept, &expected, &[]);
    }
}

#[test]
fn notes_of_drawing_programs_are_dropped_without_a_word() {
    inside(
        "<!-- made by hand --><?note x?><metadata><x:y xmlns:x=\"urn:x\">private</x:y></metadata>\
         <e:view xmlns:e=\"urn:editor\" e:zoom=\"2\"><e:grid/></e:view>\
         <g xmlns:e=\"urn:editor\" e:label=\"Layer 1\" class=\"layer\" data-name=\"x\">\n  <path d=\"M0 0\"/>\n</g>",
        "<g><path d=\"M0 0\"/></g>",
        &[],
    );
}

#[test]
fn nothing_that_acts_comes_through() {
    inside("<script>alert(1)</script><path d=\"M0 0\"/>", "<path d=\"M0 0\"/>", &["script"]);
    inside("<s:script xmlns:s=\"http://www.w3.org/2000/svg\">x</s:script>", "", &["script"]);
    inside("<g onload=\"alert(1)\" ONCLICK=\"x\"/>", "<g/>", &["ONCLICK", "onload"]);
    inside("<foreignObject><p xmlns=\"http://www.w3.org/1999/xhtml\">x</p></foreignObject>", "", &["foreignObject"]);
    inside("<image href=\"https://example.org/x.png\"/><image href=\"data:image/png;base64,AAAA\"/>", "", &["image"]);
    inside("<animate attributeName=\"href\" to=\"javascript:x\"/><set/>", "", &["animate", "set"]);
    inside("<a href=\"javascript:alert(1)\"><circle r=\"1\"/></a>", "<g><circle r=\"1\"/></g>", &[]);
    inside("<text><a xlink:href=\"https://example.org\">see</a></text>", "<text><tspan>see</tspan></text>", &[]);
    inside("<filter id=\"f\"><feImage href=\"x.png\"/></filter><g filter=\"url(#f)\"/>", "<g/>", &["filter"]);
    inside("<iframe/><handler/><g tabindex=\"1\" autofocus=\"1\"/>", "<g/>", &["handler", "iframe"]);
}

#[test]
fn links_lead_only_to_parts_of_the_drawing() {
    for link in ["https://example.org/x.svg#a", "//example.org#a", "x.svg#a", "data:image/svg+xml,x", "javascript:x", "#", "", "#a b"] {
        inside(&format!("<use href=\"{link}\"/>"), "", &["link to another file"]);
        inside(&format!("<use xlink:href=\"{link}\"/>"), "", &["link to another file"]);
    }
    inside("<use xlink:href=\" #a \"/><g href=\"#a\"/>", "<use href=\"#a\"/><g/>", &[]);
    inside("<use href=\"x.svg\" xlink:href=\"#a\"/>", "", &["link to another file"]);
}

#[test]
fn values_can_do_no_more_than_draw() {
    for paint in [
        "url(https://example.org/x#a)",
        "url(x.svg#a)",
        "url(#a",
        "url( )",
        "url(\"//e#a\")",
        "URL(#a)",
        "url(#a) url(e.svg)",
        "image(x.png)",
        "image-set(x)",
        "-x-url(#a)",
        "u\\72l(//e)",
        "ur/**/l(//e)",
        "expression(1)",
        "var(--x)",
        "attr(x)",
        "javascript:x",
        "red;fill:url(//e)",
        "red}@import 'x'",
        "calc(1)",
        "(1)",
    ] {
        inside(&format!("<g fill='{}'/>", paint.replace('\'', "&apos;")), "<g/>", &[]);
    }
    inside("<g id=\"a b\" lang=\"e n\" role=\"x:y\" cursor=\"url(#a)\"/>", "<g/>", &[]);
}

#[test]
fn styles_become_attributes() {
    inside(
        "<path style=\"fill:none;stroke: red !important;;x;-e-font:1;marker:url(#a);font-family:'A B'\" fill=\"blue\"/>",
        "<path fill=\"none\" font-family=\"'A B'\" marker-end=\"url(#a)\" marker-mid=\"url(#a)\" marker-start=\"url(#a)\" stroke=\"red\"/>",
        &[],
    );
    inside(
        "<style>@import url(//e); /* } */ .a, .b { fill: none } @media print { .a { fill: red } } \
         .b{stroke:#00f} path { fill: red; opacity: .5 } #v{stroke:lime} g > .a { fill: lime }</style>\
         <path class=\"a b\" fill=\"blue\"/><path class=\"b\" id=\"v\" style=\"opacity:1\"/>",
        "<path fill=\"none\" opacity=\".5\" stroke=\"#00f\"/><path fill=\"none\" id=\"v\" opacity=\"1\" stroke=\"lime\"/>",
        &[],
    );
    for hostile in [
        "@import url(https://example.org/x.css)",
        "@import 'x.css'; fill: none",
        "fill: url(https://example.org)",
        "fill:u\\72l(//e)",
        "fill: url(data:x)",
        "background: url(//e)",
        "behavior: url(x)",
        "fill:/**/url(//e)",
        "{}fill:red",
    ] {
        let (text, _) = built(&format!("{HEAD}<g style=\"{hostile}\"/><style>{hostile}</style><style>g{{{hostile}}}</style></svg>"));
        let harmless = if hostile.contains("none") { "<g fill=\"none\"/>" } else { "<g/>" };
        assert!(text.contains(harmless), "{hostile}: {text}");
    }
}

#[test]
fn what_an_editor_calls_style_or_class_is_not_ours() {
    inside(
        "<style>.a{fill:red}#v{fill:red}</style>\
         <g xmlns:e=\"urn:editor\" e:style=\"fill:red\" e:class=\"a\" e:id=\"v\" e:fill=\"red\"/>",
        "<g/>",
        &[],
    );
}

#[test]
fn a_switch_shows_its_first_part() {
    inside("<switch><foreignObject/><g id=\"one\"/><g id=\"two\"/></switch>", "<g><g id=\"one\"/></g>", &["foreignObject"]);
}

#[test]
fn the_size_is_its_own() {
    #[track_caller]
    fn case(attributes: &str, width: u32, height: u32, view: &str) {
        let file = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {attributes}/>");
        let drawing = rebuild_svg(file.as_bytes()).expect("a drawing");
        assert_eq!((drawing.width, drawing.height), (width, height), "{attributes}");
        let text = String::from_utf8(drawing.bytes).expect("UTF-8");
        assert!(text.contains(&format!("viewBox=\"{view}\"")), "{text}");
        assert!(text.contains(&format!(" width=\"{width}\"")), "{text}");
    }
    // 96 pixels to the inch, 72 points, 6 picas: CSS Values and Units 3, section 5.2.
    case("width='1in' height='72pt'", 96, 96, "0 0 96 96");
    case("width='210mm' height='29.7cm' viewBox='0 0 210 297'", 794, 1123, "0 0 210 297");
    case("width='2pc' height='1.5e1px'", 32, 15, "0 0 32 15");
    case("viewBox='-5,-5 300,150'", 300, 150, "-5,-5 300,150");
    case("width='100%' height='100%' viewBox='0 0 30 10'", 30, 10, "0 0 30 10");
    case("width='60' viewBox='0 0 30 10'", 60, 20, "0 0 30 10");
    case("height='5' viewBox='0 0 30 10'", 15, 5, "0 0 30 10");
    case("width='32000' height='8000'", 16000, 4000, "0 0 32000 8000");
    case("width='0.2' height='0.2'", 1, 1, "0 0 0.2 0.2");
    let no_size = "this drawing has neither a width and height nor a viewBox";
    let remedy = "set the page size in the drawing program and save it again";
    for attributes in [
        "",
        "width='10'",
        "width='0' height='5'",
        "width='-1' height='5'",
        "width='nan' height='inf'",
        "viewBox='0 0 0 10'",
        "viewBox='1 2 3'",
        "viewBox='0 0 nan 1'",
        "width='1e99' height='1e99'",
        "width='10em' height='5em'",
    ] {
        refused(&format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {attributes}/>"), no_size, remedy);
    }
}

#[test]
fn files_by_hand_and_by_older_programs_are_read() {
    let expected = "<svg xmlns=\"http://www.w3.org/2000/svg\" height=\"1\" viewBox=\"0 0 2 1\" width=\"2\"><g/></svg>\n";
    for file in [
        "<svg width='2' height='1'><g/></svg>",
        "\u{feff}<?xml version=\"1.0\" encoding=\"UTF-8\"?>\r\n<!-- <!DOCTYPE x [ --><svg width='2' height='1'><g/></svg>",
        "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\"\n \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n<svg width='2' height='1'><g/></svg>",
        "<s:svg xmlns:s='http://www.w3.org/2000/svg' width='2' height='1'><s:g/></s:svg>",
    ] {
        assert_eq!(built(file).0, expected, "{file}");
    }
}

#[test]
fn what_is_no_drawing_is_refused() {
    let plain = "open it in a drawing program and save it as plain SVG";
    refused("<html><svg/></html>", "this drawing starts with `html` where `svg` is expected", plain);
    refused("<svg xmlns='urn:other' width='1' height='1'/>", "this drawing starts with `svg` where `svg` is expected", plain);
    refused("<svg width='2' height='1'>\n<g></svg>", "this drawing cannot be read (expected 'g' tag, not 'svg' at 2:4)", plain);
    assert_eq!(rebuild_svg(b""), Err(PictureError::Empty));
    assert_eq!(rebuild_svg(b"\xff\xfe<svg/>"), Err(PictureError::DrawingNotText));
    let declares = "this drawing brings declarations of its own in its document type";
    let take_out = "save it as plain SVG, or take out the line that starts with `<!DOCTYPE`";
    // The "billion laughs", in small and at length.
    refused("<!DOCTYPE svg [<!ENTITY a \"b\">]><svg width='1' height='1'><text>&a;</text></svg>", declares, take_out);
    let mut bomb = "<!DOCTYPE svg [<!ENTITY a0 \"ha\">".to_owned();
    for level in 1..40 {
        let before = format!("&a{};", level - 1).repeat(10);
        bomb = [bomb, format!("<!ENTITY a{level} \"{before}\">")].concat();
    }
    refused(&format!("{bomb}]><svg width='1' height='1'>&a39;</svg>"), declares, take_out);
    refused("<!DOCTYPE svg SYSTEM 'file:///x' [ %x; ]><svg/>", declares, take_out);
    assert!(rebuild_svg(b"<svg width='1' height='1'><!DOCTYPE svg><g/></svg>").is_err());
    assert!(rebuild_svg(b"<!DOCTYPE svg><!DOCTYPE svg><svg width='1' height='1'/>").is_err());
}

fn numbered(count: u32, part: impl Fn(u32) -> String) -> String {
    (0..count).map(part).collect::<Vec<_>>().concat()
}

#[test]
fn limits_hold_without_overflow_or_delay() {
    let simplify = "simplify the drawing, or save it as PNG instead";
    let deep = format!("{HEAD}{}{}</svg>", "<g>".repeat(10_000), "</g>".repeat(10_000));
    refused(&deep, "this drawing has more than 100 groups within each other", simplify);
    let unclosed = format!("{HEAD}{}", "<g a='>' b='/'>".repeat(300_000));
    refused(&unclosed, "this drawing has more than 100 groups within each other", simplify);
    let allowed_depth = format!("{HEAD}{}{}</svg>", "<g>".repeat(99), "</g>".repeat(99));
    assert!(rebuild_svg(allowed_depth.as_bytes()).is_ok());
    refused(&format!("{HEAD}{}</svg>", "<g/>".repeat(120_000)), "this drawing has more than 100,000 parts", simplify);
    refused(&" ".repeat(LARGEST_FILE + 1), "this drawing has more than 5 MB", simplify);
    let attributes = numbered(200_000, |n| format!(" a{n}='>'"));
    refused(&format!("{HEAD}<g{attributes}/></svg>"), "this drawing has more than 200 attributes on one part", simplify);
    let namespaces = numbered(2_000, |n| format!("<g xmlns:a{n}='u'/>"));
    refused(&format!("{HEAD}{namespaces}</svg>"), "this drawing has more than 1,000 namespaces", simplify);
    let style = "stroke-dasharray:".to_owned() + &"1 ".repeat(140);
    let styled = format!("{HEAD}<style>g{{{style}}}</style>{}</svg>", "<g/>".repeat(90_000));
    refused(&styled, "this drawing has more than 20 MB with its styles written out", simplify);
}

#[test]
fn copies_of_copies_are_refused() {
    let simplify = "simplify the drawing, or save it as PNG instead";
    let mut levels = "<g id=\"l0\"><path d=\"M0 0\"/></g>".to_owned();
    for level in 1..12 {
        let uses = format!("<use href=\"#l{}\"/>", level - 1).repeat(10);
        levels = [levels, format!("<g id=\"l{level}\">{uses}</g>")].concat();
    }
    let beyond = |id: &str| format!("part `{id}` of this drawing repeats itself, or is repeated, beyond measure");
    refused(&format!("{HEAD}{levels}</svg>"), &beyond("l5"), simplify);
    refused(&format!("{HEAD}<g id=\"a\"><use href=\"#a\"/></g></svg>"), &beyond("a"), simplify);
    refused(&format!("{HEAD}<use href=\"#b\" id=\"a\"/><g id=\"b\"><use href=\"#a\"/></g></svg>"), &beyond("a"), simplify);
    refused(&format!("{HEAD}<pattern id=\"p\"><path fill=\"url('#p')\"/></pattern></svg>"), &beyond("p"), simplify);
    let chain = numbered(40_000, |n| format!("<use id=\"c{n}\" href=\"#c{}\"/>", n + 1));
    refused(&format!("{HEAD}{chain}</svg>"), &beyond("c399"), simplify);
    // Ordinary repetition is no trouble.
    inside(
        "<g id=\"v\"/><use href=\"#v\" x=\"1\"/><use href=\"#v\" x=\"2\"/><use href=\"#missing\"/>",
        "<g id=\"v\"/><use href=\"#v\" x=\"1\"/><use href=\"#v\" x=\"2\"/><use href=\"#missing\"/>",
        &[],
    );
}

#[test]
fn text_is_escaped_as_it_was() {
    inside(
        "<text>a &lt; b &amp;&amp; c &gt; d <![CDATA[<script>]]>&#13;</text>",
        "<text>a &lt; b &amp;&amp; c &gt; d &lt;script&gt;&#13;</text>",
        &[],
    );
    inside("<g aria-label='&quot;&lt;g onload=x&gt;&#10;&#9;'/>", "<g aria-label=\"&quot;&lt;g onload=x&gt;&#10;&#9;\"/>", &[]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn any_file_is_refused_or_built_and_a_built_one_stays(
        parts in prop::collection::vec(prop_oneof![
            Just("<g>".to_owned()), Just("</g>".to_owned()), Just("<!--".to_owned()), Just("-->".to_owned()),
            Just("<style>".to_owned()), Just("</style>".to_owned()), Just("<![CDATA[".to_owned()), Just("]]>".to_owned()),
            Just("<text x='1'>".to_owned()), Just("</text>".to_owned()), Just("&#x41;".to_owned()), Just("<?x?>".to_owned()),
            "(?s:.){0,12}".prop_map(|text| text),
            "[.#]?[a-z]{1,4}\\{(fill|stroke):[a-z(#)]{0,9}[;}]",
            "[a-z(#)'\\\\;:/é]{0,16}".prop_map(|value| format!("<path fill=\"{value}\" style=\"fill:{value}\" id=\"{value}\"/>")),
            "[#a-z:/.]{0,8}".prop_map(|value| format!("<use href=\"{value}\" id=\"a\"/>")),
        ], 0..14),
    ) {
        let file = format!("{HEAD}{}</svg>", parts.concat());
        if let Ok(drawing) = rebuild_svg(file.as_bytes()) {
            let again = rebuild_svg(&drawing.bytes).expect("what was built can be built again");
            prop_assert_eq!(&again.bytes, &drawing.bytes);
            prop_assert!(again.left_out.is_empty());
            let text = String::from_utf8(drawing.bytes).expect("UTF-8");
            let document = Document::parse(&text).expect("well-formed");
            for node in document.descendants().filter(Node::is_element) {
                prop_assert!(allowed::element(node.tag_name().name()).is_some());
                for attribute in node.attributes() {
                    prop_assert!(!attribute.name().starts_with("on"));
                    let inside = attribute.value().replace("url(#", "");
                    prop_assert!(!inside.contains("url("));
                }
            }
        }
    }

    #[test]
    fn any_bytes_are_refused_or_built(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        let _ = rebuild_svg(&bytes).map_err(|error| (error.to_string(), error.remedy()));
    }
}
