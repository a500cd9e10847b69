//! The text of a spreadsheet's export: UTF-8, UTF-16 with its mark, or Windows-1252.

use super::CsvProblem;
use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

/// The text of a file, and how it was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decoded {
    pub text: String,
    /// Name of the encoding: `UTF-8`, `windows-1252`.
    pub encoding: &'static str,
}

/// Makes text of bytes. What is not UTF-8 and carries no mark is Windows-1252, which older
/// spreadsheets write. Line ends become `\n`, whatever they were.
///
/// # Errors
/// Nothing in it, or bytes that no text has.
pub fn decode(bytes: &[u8]) -> Result<Decoded, CsvProblem> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        return Err(CsvProblem::new(
            "this is a spreadsheet's own file, not a table of comma-separated values",
            "open it in the spreadsheet and save it as CSV",
        ));
    }
    let encoding = match Encoding::for_bom(bytes) {
        Some((encoding, _)) => encoding,
        None if std::str::from_utf8(bytes).is_ok() => UTF_8,
        None => WINDOWS_1252,
    };
    let (text, _, bad) = encoding.decode(bytes);
    let text = text.into_owned();
    let foreign = text.chars().find(|letter| letter.is_control() && !matches!(letter, '\t' | '\n' | '\r'));
    if bad || foreign.is_some() {
        return Err(CsvProblem::new("this is no text file", "save the table as CSV, best with the encoding UTF-8, and try again"));
    }
    if text.trim().is_empty() {
        return Err(CsvProblem::new("this file is empty", "look whether it is the file you mean"));
    }
    // One kind of line ends, so that what a cell holds has no line of Markdown that is taken for none here.
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    Ok(Decoded { text, encoding: encoding.name() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(bytes: &[u8], expected: &str, encoding: &str) {
        let decoded = decode(bytes).expect("text");
        assert_eq!((decoded.text.as_str(), decoded.encoding), (expected, encoding));
    }

    #[test]
    fn texts_of_several_encodings() {
        case(b"Date,Job\n", "Date,Job\n", "UTF-8");
        case("\u{feff}Öl".as_bytes(), "Öl", "UTF-8");
        // Windows code page 1252, Unicode mapping table CP1252.TXT: D6 Ö, E4 ä, DF ß, 80 €, 96 –.
        case(b"\xd6l, sp\xe4t, gro\xdf, 5 \x80 \x96", "Öl, spät, groß, 5 € –", "windows-1252");
        // UTF-16 little end first with its mark (RFC 2781, section 3.2).
        case(b"\xff\xfeD\0\xd6\0", "DÖ", "UTF-16LE");
        // Line ends of Windows, and of machines that had carriage returns alone.
        case(b"a\r\nb\rc\n\rd", "a\nb\nc\n\nd", "UTF-8");
    }

    #[test]
    fn what_is_no_text_is_refused() {
        for bytes in [&b""[..], b" \r\n\n", b"PK\x03\x04rest", b"a\0b", b"\x89PNG\r\n\x1a\n\0", b"\x81\x8d\x90", b"a\x1bb", b"\xff\xfe\0"] {
            assert!(decode(bytes).is_err(), "{bytes:?}");
        }
    }
}
