//! What may stand in a drawing: elements, attributes, and the values of attributes.
//!
//! Lists of what is let through, never of what is kept out. Values are held to a narrow alphabet: no colon, no
//! backslash, no function but the few that colours, transforms and references within the drawing need.

/// Elements that are built as they came.
const ELEMENTS: [&str; 23] = [
    "circle",
    "clipPath",
    "defs",
    "desc",
    "ellipse",
    "g",
    "line",
    "linearGradient",
    "marker",
    "mask",
    "path",
    "pattern",
    "polygon",
    "polyline",
    "radialGradient",
    "rect",
    "stop",
    "svg",
    "symbol",
    "text",
    "title",
    "tspan",
    "use",
];

/// Elements that hold no part of the picture, so that nobody misses them.
const SILENT_ELEMENTS: [&str; 3] = ["metadata", "style", "view"];

/// Attributes that say where things are and what shape they have.
const GEOMETRY: [&str; 43] = [
    "clipPathUnits",
    "cx",
    "cy",
    "d",
    "dx",
    "dy",
    "fr",
    "fx",
    "fy",
    "gradientTransform",
    "gradientUnits",
    "height",
    "lengthAdjust",
    "markerHeight",
    "markerUnits",
    "markerWidth",
    "maskContentUnits",
    "maskUnits",
    "offset",
    "orient",
    "pathLength",
    "patternContentUnits",
    "patternTransform",
    "patternUnits",
    "points",
    "preserveAspectRatio",
    "r",
    "refX",
    "refY",
    "rotate",
    "rx",
    "ry",
    "spreadMethod",
    "textLength",
    "transform",
    "viewBox",
    "width",
    "x",
    "x1",
    "x2",
    "y",
    "y1",
    "y2",
];

/// Attributes that say how things look. Each may also be set by a style. No filters and no cursors: they name
/// other files, or elements that are not built.
const LOOK: [&str; 46] = [
    "alignment-baseline",
    "baseline-shift",
    "clip-path",
    "clip-rule",
    "color",
    "color-interpolation",
    "direction",
    "display",
    "dominant-baseline",
    "fill",
    "fill-opacity",
    "fill-rule",
    "font-family",
    "font-size",
    "font-stretch",
    "font-style",
    "font-variant",
    "font-weight",
    "letter-spacing",
    "marker-end",
    "marker-mid",
    "marker-start",
    "mask",
    "mask-type",
    "opacity",
    "overflow",
    "paint-order",
    "shape-rendering",
    "stop-color",
    "stop-opacity",
    "stroke",
    "stroke-dasharray",
    "stroke-dashoffset",
    "stroke-linecap",
    "stroke-linejoin",
    "stroke-miterlimit",
    "stroke-opacity",
    "stroke-width",
    "text-anchor",
    "text-decoration",
    "text-rendering",
    "unicode-bidi",
    "vector-effect",
    "visibility",
    "word-spacing",
    "writing-mode",
];

/// The functions a value may call.
const FUNCTIONS: [&str; 11] = ["hsl", "hsla", "matrix", "rgb", "rgba", "rotate", "scale", "skewX", "skewY", "translate", "url"];

/// The name of an element that is built, from its name in the file.
pub fn element(name: &str) -> Option<&'static str> {
    find(&ELEMENTS, name)
}

pub fn is_silently_dropped(name: &str) -> bool {
    SILENT_ELEMENTS.contains(&name)
}

/// Whether bare text inside the element is shown or read out.
pub fn holds_text(name: &str) -> bool {
    matches!(name, "text" | "tspan" | "title" | "desc")
}

/// Whether a link of the element to another part of the drawing means something.
pub fn may_link(name: &str) -> bool {
    matches!(name, "use" | "linearGradient" | "radialGradient" | "pattern")
}

/// The name of an attribute without namespace that is kept with this value.
pub fn attribute(name: &str, value: &str) -> Option<&'static str> {
    match name {
        "id" => is_id(value).then_some("id"),
        // Free text for those who listen to the page.
        "aria-label" => Some("aria-label"),
        "role" => is_word(value).then_some("role"),
        "lang" => is_word(value).then_some("lang"),
        _ => find(&GEOMETRY, name).filter(|_| is_harmless(value)).or_else(|| look(name, value)),
    }
}

/// The name of an attribute that says how things look, if it is kept with this value.
pub fn look(name: &str, value: &str) -> Option<&'static str> {
    find(&LOOK, name).filter(|_| is_harmless(value))
}

/// The name of an attribute of the XML namespace that is kept with this value.
pub fn xml_attribute(name: &str, value: &str) -> Option<&'static str> {
    match name {
        "space" if matches!(value, "preserve" | "default") => Some("xml:space"),
        "lang" if is_word(value) => Some("xml:lang"),
        _ => None,
    }
}

/// The id in a link like `#valve`; `None` for a link that leads out of the drawing.
pub fn local_id(link: &str) -> Option<&str> {
    link.trim().strip_prefix('#').filter(|id| is_id(id))
}

/// The ids a value refers to, as in `url(#hatch)`.
pub fn referred_ids(value: &str) -> impl Iterator<Item = &str> {
    let parts = value.split("url(").skip(1);
    parts.filter_map(|rest| local_id(rest.split_once(')')?.0.trim_matches(is_quote_or_blank)))
}

fn find(list: &[&'static str], name: &str) -> Option<&'static str> {
    list.iter().find(|known| **known == name).copied()
}

fn is_id(value: &str) -> bool {
    !value.is_empty() && value.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '-' | '.'))
}

fn is_word(value: &str) -> bool {
    value.chars().all(|c| c.is_ascii_alphanumeric() || c == '-')
}

fn is_quote_or_blank(c: char) -> bool {
    matches!(c, '"' | '\'') || c.is_ascii_whitespace()
}

/// Whether a value can do no more than draw: listed characters, listed functions, references only to parts of
/// the same drawing.
fn is_harmless(value: &str) -> bool {
    let harmless_character = |c: char| c.is_alphanumeric() || c.is_ascii_whitespace() || "+-.,#%()'\"_/*".contains(c);
    if !value.chars().all(harmless_character) || value.contains("/*") {
        return false;
    }
    let mut rest = value;
    while let Some((before, after)) = rest.split_once('(') {
        let in_name = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
        let function = before.trim_end().rsplit(|c| !in_name(c)).next();
        let function = function.unwrap_or_default();
        if !FUNCTIONS.contains(&function) {
            return false;
        }
        if function == "url" {
            let Some((inside, _)) = after.split_once(')') else {
                return false;
            };
            if local_id(inside.trim_matches(is_quote_or_blank)).is_none() {
                return false;
            }
        }
        rest = after;
    }
    true
}
