//! The document: its generated blocks and its fenced examples.

use std::path::PathBuf;

const BEGIN: &str = "<!-- generated: ";
const END: &str = "<!-- end -->";

/// What stands between `<!-- generated: NAME -->` and `<!-- end -->`.
pub struct Block {
    pub name: String,
    pub text: String,
    start: usize,
}

/// A fenced block.
pub struct Fence {
    pub language: String,
    /// Path in the book, where a line `<!-- file: PATH -->` stands above the fence.
    pub file: Option<String>,
    pub text: String,
    /// Line of the opening fence, from 1.
    pub line: usize,
}

pub struct Document {
    path: PathBuf,
    text: String,
    blocks: Vec<Block>,
}

impl Document {
    pub fn read() -> Self {
        let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/book/format-reference.md");
        let text = std::fs::read_to_string(&path).expect("the format reference can be read");
        let blocks = blocks(&text);
        Self { path, text, blocks }
    }

    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// Puts the texts in place of what stands in the blocks, in order, and writes the file.
    pub fn rewrite(&mut self, texts: &[String]) {
        for (block, text) in self.blocks.iter().zip(texts).rev() {
            self.text.replace_range(block.start..block.start + block.text.len(), text);
        }
        std::fs::write(&self.path, &self.text).expect("the format reference can be written");
        self.blocks = blocks(&self.text);
    }

    pub fn fences(&self) -> Vec<Fence> {
        let mut fences = Vec::new();
        let mut file = None;
        let mut open: Option<(usize, Fence)> = None;
        for (at, line) in self.text.lines().enumerate() {
            let ticks = line.bytes().take_while(|byte| *byte == b'`').count();
            match &mut open {
                Some((length, _)) if ticks >= *length && line.len() == ticks => fences.extend(open.take().map(|(_, fence)| fence)),
                Some((_, fence)) => {
                    fence.text.push_str(line);
                    fence.text.push('\n');
                }
                None if ticks >= 3 => {
                    let language = line[ticks..].trim().to_owned();
                    open = Some((ticks, Fence { language, file: file.take(), text: String::new(), line: at + 1 }));
                }
                None => {
                    if let Some(path) = line.strip_prefix("<!-- file: ").and_then(|rest| rest.strip_suffix(" -->")) {
                        file = Some(path.to_owned());
                    } else if !line.is_empty() {
                        assert!(file.is_none(), "line {}: a file is announced above, and no example follows", at + 1);
                    }
                }
            }
        }
        assert!(open.is_none(), "a fence is not closed");
        fences
    }
}

fn blocks(text: &str) -> Vec<Block> {
    let mut found: Vec<Block> = Vec::new();
    let mut at = 0;
    while let Some(begin) = text[at..].find(BEGIN).map(|found| at + found) {
        let line_end = begin + text[begin..].find('\n').expect("a line ends");
        let name = text[begin + BEGIN.len()..line_end].strip_suffix(" -->").expect("a comment is closed on its line").to_owned();
        let start = line_end + 1;
        let end = start + text[start..].find(END).expect("a block has its end");
        assert!(found.iter().all(|block| block.name != name), "the block `{name}` stands there twice");
        found.push(Block { name, text: text[start..end].to_owned(), start });
        at = end;
    }
    found
}

/// A table in Markdown.
pub fn table(head: &[&str], rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut text = head_of(head);
    for row in rows {
        let cells: Vec<&str> = row.iter().map(|cell| if cell.is_empty() { "—" } else { cell }).collect();
        text.push_str(&format!("| {} |\n", cells.join(" | ")));
    }
    text
}

/// A table whose first cells are given, in backticks the very first; the cells after them are kept from `old`.
pub fn merged_table(head: &[&str], rows: impl IntoIterator<Item = Vec<String>>, old: &str) -> String {
    let mut text = head_of(head);
    for given in rows {
        let name = given.first().expect("a row has a name");
        let start = format!("| `{name}` |");
        let kept = old.lines().find(|line| line.starts_with(&start)).unwrap_or_default();
        let mut cells = vec![format!("`{name}`")];
        cells.extend(given.iter().skip(1).cloned());
        let kept: Vec<&str> = kept.trim_matches('|').split(" | ").map(str::trim).collect();
        for at in cells.len()..head.len() {
            cells.push(kept.get(at).copied().unwrap_or_default().to_owned());
        }
        text.push_str(&format!("| {} |\n", cells.join(" | ")));
    }
    text
}

fn head_of(head: &[&str]) -> String {
    format!("| {} |\n|{}\n", head.join(" | "), " --- |".repeat(head.len()))
}
