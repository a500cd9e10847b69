//! What a browser may run and show of a file: the scripts and styles that it was made with, pictures that it
//! holds itself, and nothing else.

use super::tags::{Piece, pieces};
use data_encoding::BASE64;
use sha2::{Digest, Sha256};

/// Stands in the page where the policy belongs, until the page is whole.
pub const PLACE: &str = "_policy_of_this_file_";

/// The page with its policy in place; one that does not ask for a policy is left as it is.
#[must_use]
pub fn sealed(page: &str) -> String {
    let Some((before, after)) = page.split_once(PLACE) else { return page.to_owned() };
    format!("{before}{}{after}", policy(page))
}

/// A content security policy (W3C, CSP Level 3) that names scripts and styles by their hashes.
fn policy(page: &str) -> String {
    let hashes =
        |name: &str| inside(page, name).map(|text| format!(" 'sha256-{}'", BASE64.encode(&Sha256::digest(text)))).collect::<String>();
    format!(
        "default-src 'none'; script-src{}; style-src{}; img-src data:; base-uri 'none'; form-action 'none'",
        hashes("script"),
        hashes("style")
    )
}

/// What stands in the elements of a name, data for programs left aside.
fn inside<'p>(page: &'p str, name: &str) -> impl Iterator<Item = &'p str> {
    let mut is_inside = false;
    pieces(page).filter_map(move |piece| match piece {
        Piece::Open(tag) => {
            is_inside = tag.name == name && tag.value("type").is_none();
            None
        }
        Piece::Close { .. } => {
            is_inside = false;
            None
        }
        Piece::Text(text) => is_inside.then_some(text),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_script_and_style_is_named_and_nothing_else() {
        let page = format!(
            "<meta content=\"{PLACE}\"><style>a {{ }}</style><script>alert(1)</script><script type=\"application/json\">{{}}</script>{PLACE}"
        );
        // By `printf %s 'alert(1)' | openssl dgst -sha256 -binary | base64`, and of `a { }` alike.
        let expected = "default-src 'none'; script-src 'sha256-bhHHL3z2vDgxUt0W3dWQOrprscmda2Y5pLsLg4GF+pI='; \
             style-src 'sha256-V772Un512mwSfboBMJIh7gFKD4A2CGfkS9l77+/tDHU='; img-src data:; base-uri 'none'; form-action 'none'";
        assert!(sealed(&page).starts_with(&format!("<meta content=\"{expected}\">")), "{}", sealed(&page));
        assert!(sealed(&page).ends_with(PLACE), "only once");
        assert_eq!(sealed("<p>x</p>"), "<p>x</p>");
    }
}
