//! Tools aboard, and those that guides ask for in plain words.

use crate::site::map::Names;
use crate::site::press::Press;
use crate::site::view::{ToolRow, ToolsPage};

/// Fills the page of the tools.
#[must_use]
pub fn tools(press: &Press<'_>) -> ToolsPage {
    let guides_of = |name: &str| {
        let users = press.users.tools.get(name).map(Vec::as_slice).unwrap_or_default();
        users.iter().map(|guide| press.guide(guide, "")).collect()
    };
    let tools = press
        .book
        .tools
        .iter()
        .map(|tool| ToolRow {
            id: tool.id.value.clone(),
            title: tool.title.clone(),
            stowed: tool.stowed.clone(),
            guides: guides_of(&tool.id.value),
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
        .map(|name| ToolRow { id: names.unique("tools", name), title: (*name).to_owned(), stowed: None, guides: guides_of(name) })
        .collect();
    ToolsPage { tools, other }
}
