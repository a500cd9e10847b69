//! Rows of a table of comma-, semicolon- or tab-separated values (RFC 4180).

use super::CsvProblem;

/// The most rows that are taken; a row a day for a century has fewer.
const MOST_ROWS: usize = 50_000;
/// Stands in a line of its own behind the table: where it is swallowed, a quote was left open.
const SENTINEL: &str = "\u{fdd0}end of the table\u{fdd0}";

/// A row that says something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Line of the file it begins in, from 1.
    pub line: u64,
    /// Blanks at the ends taken off; as many as the header has, or more.
    pub cells: Vec<String>,
}

impl Row {
    /// The cell of a column; empty where the row is short.
    #[must_use]
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }
}

/// A table as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    pub header: Vec<String>,
    pub rows: Vec<Row>,
    /// Comma, semicolon or tab.
    pub separator: char,
}

impl Table {
    /// Reads a table; what separates its cells is what its header has most of. Rows without any
    /// word are passed over, and a first line `sep=;`, which some spreadsheets write, is obeyed.
    ///
    /// # Errors
    /// No header, an open quote, no rows, or more rows than are taken.
    pub fn read(text: &str) -> Result<Self, CsvProblem> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let (said, body, lines_before) = match said_separator(text) {
            Some((separator, rest)) => (Some(separator), rest, 1),
            None => (None, text, 0),
        };
        let separator = said.unwrap_or_else(|| separator_of(body));
        let whole = format!("{body}\n{SENTINEL}");
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(u8::try_from(separator).unwrap_or(b','))
            .from_reader(whole.as_bytes());
        let mut rows = Vec::new();
        let mut ended = false;
        let mut lines = Lines { text: whole.as_bytes(), at: 0, line: 1 };
        for record in reader.records() {
            let record = record.map_err(|error| CsvProblem::new(format!("the table cannot be read: {error}"), "save it as CSV again"))?;
            lines.go_to(record.position().map_or(0, csv::Position::byte));
            let line = lines.line + lines_before;
            if record.len() == 1 && record.get(0) == Some(SENTINEL) {
                ended = true;
            } else if record.iter().any(|cell| cell.contains(SENTINEL)) {
                return Err(CsvProblem::new(
                    format!("a quote is open from line {line} to the end of the file"),
                    "write the `\"` that ends it, and every `\"` inside a quoted field twice",
                ));
            } else if record.iter().any(|cell| !cell.trim().is_empty()) {
                rows.push(Row { line, cells: record.iter().map(|cell| cell.trim().to_owned()).collect() });
            }
            if rows.len() > MOST_ROWS {
                return Err(CsvProblem::new(format!("the table has more than {MOST_ROWS} rows"), "split it into several files"));
            }
        }
        if !ended || rows.is_empty() {
            return Err(CsvProblem::new("the table has no header", "write the names of the columns into its first line"));
        }
        let header = rows.remove(0).cells;
        if rows.is_empty() {
            return Err(CsvProblem::new(
                "the table has one line and no rows under it",
                "its first line must name the columns, and a row a job follows",
            ));
        }
        Ok(Self { header, rows, separator })
    }
}

/// Counts lines; the reader's own count is behind after Windows line ends.
struct Lines<'t> {
    text: &'t [u8],
    at: usize,
    line: u64,
}

impl Lines<'_> {
    /// Goes on to a byte, and over the line ends that stand there.
    fn go_to(&mut self, byte: u64) {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        while let Some(letter) = self.text.get(self.at)
            && (self.at < byte || matches!(letter, b'\r' | b'\n'))
        {
            let ends = *letter == b'\n' || (*letter == b'\r' && self.text.get(self.at + 1) != Some(&b'\n'));
            self.line += u64::from(ends);
            self.at += 1;
        }
    }
}

/// `sep=;` in the first line, and what follows it.
fn said_separator(text: &str) -> Option<(char, &str)> {
    let (first, rest) = text.split_once('\n')?;
    let separator = first.trim_end_matches('\r').strip_prefix("sep=")?;
    let mut letters = separator.chars();
    let letter = letters.next().filter(|letter| matches!(letter, ',' | ';' | '\t'))?;
    letters.next().is_none().then_some((letter, rest))
}

/// What the header has most of, outside quotes.
fn separator_of(text: &str) -> char {
    let mut counts = [(',', 0), (';', 0), ('\t', 0)];
    let mut quoted = false;
    for letter in text.trim_start().chars() {
        match letter {
            '"' => quoted = !quoted,
            '\n' | '\r' if !quoted => break,
            _ if quoted => {}
            _ => {
                if let Some((_, count)) = counts.iter_mut().find(|(separator, _)| *separator == letter) {
                    *count += 1;
                }
            }
        }
    }
    // Of equal ones the first stays.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map_or(',', |(separator, _)| separator)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(text: &str, expected: &[(u64, &[&str])]) {
        let table = Table::read(&format!("aaa,bbb,ccc\n{text}")).expect("a table");
        assert_eq!(table.header, ["aaa", "bbb", "ccc"]);
        let rows: Vec<(u64, Vec<&str>)> = table.rows.iter().map(|row| (row.line, row.cells.iter().map(String::as_str).collect())).collect();
        let expected: Vec<(u64, Vec<&str>)> = expected.iter().map(|(line, cells)| (*line, cells.to_vec())).collect();
        assert_eq!(rows, expected, "for {text:?}");
    }

    /// RFC 4180, section 2, rules 1 to 7; the examples are its own.
    #[test]
    fn the_rules_of_rfc_4180() {
        case("zzz,yyy,xxx\r\n", &[(2, &["zzz", "yyy", "xxx"])]);
        case("zzz,yyy,xxx", &[(2, &["zzz", "yyy", "xxx"])]);
        case("\"zzz\",\"yyy\",xxx\n", &[(2, &["zzz", "yyy", "xxx"])]);
        case("\"z\r\nzz\",\"y,yy\",xxx\r\nd,,f\r\n", &[(2, &["z\r\nzz", "y,yy", "xxx"]), (4, &["d", "", "f"])]);
        case("\"z\"\"zz\",yyy,xxx\n", &[(2, &["z\"zz", "yyy", "xxx"])]);
        case(",,\n\n , ,\nd,e,f\n", &[(5, &["d", "e", "f"])]);
        case("d\nd,e,f,g\n", &[(2, &["d"]), (3, &["d", "e", "f", "g"])]);
    }

    #[test]
    fn what_separates_is_seen_from_the_header() {
        for (text, separator) in [
            ("a,b\n1,2\n", ','),
            ("a;b\n1,5;2\n", ';'),
            ("a\tb, c\td\n1\t2\t3\n", '\t'),
            ("\"a;b;c\",d\n1,2\n", ','),
            ("sep=;\r\na,b;c\n1;2\n", ';'),
            ("a\n1\n", ','),
        ] {
            assert_eq!(Table::read(text).expect("a table").separator, separator, "for {text:?}");
        }
        assert_eq!(Table::read("sep=;\na;b\n1;2\n").expect("a table").rows[0].line, 3);
    }

    #[test]
    fn what_is_no_table_is_refused() {
        for (text, said) in
            [("a,b\n1,\"2\n3,4\n5,6\n", "from line 2"), ("a,b\n", "no rows"), ("\"a", "quote is open"), ("a,b\n,\n", "no rows")]
        {
            let problem = Table::read(text).expect_err("no table");
            assert!(problem.message.contains(said), "{problem:?} for {text:?}");
        }
    }
}
