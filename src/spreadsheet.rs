//! Cells of tables that are opened in a spreadsheet.
//!
//! A spreadsheet takes a field that begins with `=`, `+`, `-` or `@` (or a tab or carriage return
//! before one) for a formula. Such a field gets an apostrophe before it, so that no title can run as
//! one.

/// Text that no spreadsheet takes for a formula.
#[must_use]
pub fn harmless(text: String) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::harmless;

    #[test]
    fn no_field_is_a_formula() {
        // The characters are those that OWASP lists under "CSV Injection".
        for (text, expected) in [
            ("=SUM(A1:A9)", "'=SUM(A1:A9)"),
            ("+44", "'+44"),
            ("-2+3", "'-2+3"),
            ("@cmd", "'@cmd"),
            ("\t=1", "'\t=1"),
            ("\r=1", "'\r=1"),
            ("Oil filter", "Oil filter"),
            ("7.5 L", "7.5 L"),
            ("", ""),
        ] {
            assert_eq!(harmless(text.to_owned()), expected);
        }
    }
}
