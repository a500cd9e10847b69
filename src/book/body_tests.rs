use super::*;
use crate::book::source::Source;
use proptest::prelude::*;

/// The letters that Markdown and marks are made of.
const SIGNS: &str = "[a-c1.)\\n {}\\[\\]()<>`~!#*_|:;&/\u{fffc}-]{0,40}";

proptest! {
    #[test]
    fn nothing_is_looked_for_in_vain(text in SIGNS) {
        let text: String = text.chars().filter(|letter| !"[<`~".contains(*letter)).collect();
        prop_assert!(is_bare(&text));
        for (event, _) in markdown::parse(&text, Span::new(0, text.len())) {
            let found = matches!(event, Event::Start(Tag::Image { .. } | Tag::Link { .. } | Tag::CodeBlock(CodeBlockKind::Fenced(_))));
            prop_assert!(!found, "{event:?}");
        }
    }
}

#[test]
fn a_text_with_a_link_or_a_fence_is_not_bare() {
    for text in ["[a](b)", "<https://example.org>", "```nmea\n$x\n```", "~~~nmea\n$x\n~~~", "![a](b)", "[a]\n\n[a]: b"] {
        let source = Source::new("f.md", text);
        assert!(!is_bare(source.text()), "{text}");
    }
}
