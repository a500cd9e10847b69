//! Tools aboard, and those that guides ask for in plain words.

use crate::site::long::{TOOLS, page_of};
use crate::site::map::Names;
use crate::site::press::Press;
use crate::site::view::{ToolRow, ToolsPage};

/// What the list of those in plain words is called in the names of pages.
pub(super) const OTHER_TOOLS: &str = "other";

/// Fills the page of the tools.
#[must_use]
pub fn tools(press: &Press<'_>) -> ToolsPage {
    let guides_of = |name: &str| {
        let users = press.users.tools.get(name).map(Vec::as_slice).unwrap_or_default();
        users.iter().map(|guide| press.asking(guide, "")).collect()
    };
    let tools = press
        .book
        .tools
        .iter()
        .map(|tool| ToolRow {
            id: tool.id.value.clone(),
            href: press.map.tool("", &tool.id.value),
            title: tool.title.clone(),
            stowed: tool.stowed.clone(),
            note: tool.note.clone(),
            guides: guides_of(&tool.id.value),
            guides_more: None,
        })
        .collect();
    let mut names = Names::default();
    for tool in &press.book.tools {
        names.unique("tools", &tool.id.value);
    }
    let other = press
        .users
        .tools
        .keys()
        .filter(|name| press.book.tool(name).is_none())
        .enumerate()
        .map(|(at, name)| {
            let id = names.unique("tools", name);
            let href = format!("{}#{id}", page_of("tools", OTHER_TOOLS, at, TOOLS));
            ToolRow { id, href, title: (*name).to_owned(), stowed: None, note: None, guides: guides_of(name), guides_more: None }
        })
        .collect();
    ToolsPage { tools, tools_more: None, other, other_more: None }
}
