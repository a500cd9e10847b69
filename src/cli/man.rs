//! `garboard man`: one manual page (section 1) with every command that the help lists.
//!
//! Made from the same declarations as the help, so that the two cannot say different things.

use super::args::Args;
use super::outcome::Exit;
use clap::{Command, CommandFactory};
use clap_mangen::Man;
use std::io::{self, Write};

/// What stands before the examples in the help of a command.
const EXAMPLES: &str = "Examples:\n";

pub fn run(out: &mut dyn Write) -> io::Result<Exit> {
    out.write_all(&page()?)?;
    Ok(Exit::Fine)
}

fn page() -> io::Result<Vec<u8>> {
    let mut command = Args::command();
    command.build();
    let man = Man::new(command.clone()).manual("garboard");
    let mut page = Vec::new();
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    for inner in command.get_subcommands().filter(|inner| !inner.is_hide_set()) {
        section(&mut page, inner)?;
    }
    Ok(page)
}

/// One command: its own sections, a step lower.
fn section(page: &mut Vec<u8>, command: &Command) -> io::Result<()> {
    let about = command.get_long_about().or(command.get_about()).map(ToString::to_string).unwrap_or_default();
    let (about, examples) = about.split_once(EXAMPLES).unwrap_or((&about, ""));
    let man = Man::new(command.clone().long_about(about.trim_end().to_owned()));
    let mut inner = Vec::new();
    man.render_synopsis_section(&mut inner)?;
    man.render_description_section(&mut inner)?;
    man.render_options_section(&mut inner)?;
    writeln!(page, ".SH \"GARBOARD {}\"", command.get_name().to_uppercase())?;
    page.extend(String::from_utf8_lossy(&inner).replace(".SH ", ".SS ").bytes());
    if !examples.is_empty() {
        writeln!(page, ".SS EXAMPLES\n.nf")?;
        for line in examples.lines() {
            writeln!(page, "{}", verbatim(line))?;
        }
        writeln!(page, ".fi")?;
    }
    Ok(())
}

/// A line as it stands: what troff would read as its own is escaped, hyphens stay hyphens.
fn verbatim(line: &str) -> String {
    let escaped = line.trim_start().replace('\\', "\\e").replace('-', "\\-").replace('~', "\\(ti").replace('\'', "\\(aq");
    if escaped.starts_with('.') { format!("\\&{escaped}") } else { escaped }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(line: &str, expected: &str) {
        assert_eq!(verbatim(line), expected, "for {line:?}");
    }

    // groff_char(7) and groff(7): `\-`, `\(ti`, `\(aq`, `\e`, `\&`.
    #[test]
    fn what_troff_would_read_as_its_own_is_escaped() {
        case("  garboard due --all", "garboard due \\-\\-all");
        case("garboard publish --book ~/boat", "garboard publish \\-\\-book \\(ti/boat");
        case("'a\\b'", "\\(aqa\\eb\\(aq");
        case(".hidden", "\\&.hidden");
    }

    #[test]
    fn every_listed_command_has_its_section() {
        let page = String::from_utf8(page().expect("a page")).expect("text");
        for command in Args::command().get_subcommands().filter(|command| !command.is_hide_set()) {
            assert!(page.contains(&format!(".SH \"GARBOARD {}\"", command.get_name().to_uppercase())), "{}", command.get_name());
        }
        assert!(!page.contains("COMPLETIONS"));
    }
}
