//! Adding records at the end of a list that the crew wrote, without touching a byte of it.

use super::records::List;
use crate::book::diagnostic::Notes;
use crate::book::node::{self, Kind};
use crate::book::source::{Source, Span};

/// The text with `lines` as new items at its end; it begins with all of `old`.
///
/// # Errors
/// Why nothing can be added to it safely.
pub fn appended(list: List, old: &str, lines: &[String]) -> Result<String, &'static str> {
    let before = list.count(old).ok_or("it has errors of its own")?;
    let indent = indent(list, old)?;
    let end = if old.contains("\r\n") { "\r\n" } else { "\n" };
    let mut new = old.to_owned();
    if !old.trim_start_matches('\u{feff}').is_empty() && !old.ends_with('\n') {
        new.push_str(end);
    }
    for line in lines {
        new.push_str(&format!("{indent}- {line}{end}"));
    }
    // Whatever else stands in the file, the list must have grown by just these.
    if list.count(&new) == Some(before + lines.len()) { Ok(new) } else { Err("nothing can be added at its end") }
}

/// What stands before the hyphen of each item.
fn indent(list: List, old: &str) -> Result<&str, &'static str> {
    let source = Source::new(list.file(), old);
    let mut notes = Notes::new(&source);
    let start = if old.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    match node::read(&mut notes, Span::new(start, old.len())) {
        None => Ok(""),
        Some(node) if node.is_null() => Ok(""),
        Some(node) => {
            let Kind::List(items) = &node.kind else { return Err("it is no list") };
            let Some(first) = items.first() else { return Err("its list stands in brackets") };
            let before = old.get(start..first.span.start as usize).unwrap_or_default();
            // The item may begin below its hyphen.
            let line = before.trim_end_matches([' ', '\r', '\n']).rsplit('\n').next().unwrap_or_default();
            let hyphen = line.trim_start_matches(' ');
            if hyphen == "-" { Ok(&line[..line.len() - hyphen.len()]) } else { Err("its list stands in brackets") }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINE: &str = "{id: strap-wrench, title: Strap wrench}";

    #[track_caller]
    fn case(old: &str, added: &str) {
        let new = appended(List::Tools, old, &[LINE.to_owned()]).unwrap_or_else(|why| panic!("{old:?}: {why}"));
        assert_eq!(new, format!("{old}{added}"));
    }

    #[track_caller]
    fn refused(old: &str) {
        assert!(appended(List::Tools, old, &[LINE.to_owned()]).is_err(), "{old:?}");
    }

    #[test]
    fn a_list_grows_at_its_end_and_keeps_every_byte() {
        let line = format!("- {LINE}\n");
        case("", &line);
        case("\u{feff}", &line);
        case("# Tools aboard.\n", &line);
        case("- {id: torch, title: Torch}\n", &line);
        case("- {id: torch, title: Torch}", &format!("\n{line}"));
        case("- {id: torch, title: Torch}\r\n", &format!("- {LINE}\r\n"));
        case("\u{feff}- {id: torch, title: Torch}\r\n# the end", &format!("\r\n- {LINE}\r\n"));
        case("- id: torch\n  title: Torch\n  note: |\n    two\n    lines\n\n# - {id: old, title: Old}\n\n", &line);
        case("  - id: torch\n    title: Torch\n", &format!("  {line}"));
        case("-\n  id: torch\n  title: Torch\n", &line);
    }

    #[test]
    fn what_cannot_grow_safely_is_left() {
        refused("[{id: torch, title: Torch}]\n");
        refused("[]\n");
        refused("[\n  {id: torch, title: Torch}\n]\n");
        refused("- {id: torch, title: Torch}\n...\n");
        refused("id: torch\n");
        refused("- {id: torch\n");
        refused("- {id: strap-wrench, title: Ours}\n");
        refused("---\n- {id: torch, title: Torch}\n---\n");
        refused("- &a {id: torch, title: Torch}\n");
    }
}
