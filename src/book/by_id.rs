//! Where things stand in a list, by their ids: a large book asks for its stores, tools and gear a million times.

use super::model::Guide;
use std::collections::HashMap;
use std::sync::OnceLock;

/// Places in a list by id, found when first asked for.
///
/// The list may change afterwards: a place is looked at before it is believed.
#[derive(Debug, Default)]
pub struct ById(OnceLock<HashMap<String, usize>>);

impl ById {
    /// The first thing of `list` with this id. It must always be asked about the same list.
    pub fn find<'l, T>(&self, list: &'l [T], id: &str, id_of: impl Fn(&T) -> &str) -> Option<&'l T> {
        self.known(list, id, &id_of).or_else(|| list.iter().find(|one| id_of(one) == id))
    }

    /// As [`ById::find`], of a list that is sorted by id: what is not there is soon told.
    pub fn find_sorted<'l, T>(&self, list: &'l [T], id: &str, id_of: impl Fn(&T) -> &str) -> Option<&'l T> {
        self.position_sorted(list, id, id_of).and_then(|at| list.get(at))
    }

    /// Where in a list that is sorted by id the thing with this id stands.
    pub fn position_sorted<T>(&self, list: &[T], id: &str, id_of: impl Fn(&T) -> &str) -> Option<usize> {
        self.place(list, id, &id_of).or_else(|| list.binary_search_by(|one| id_of(one).cmp(id)).ok())
    }

    fn known<'l, T>(&self, list: &'l [T], id: &str, id_of: &impl Fn(&T) -> &str) -> Option<&'l T> {
        self.place(list, id, id_of).and_then(|at| list.get(at))
    }

    fn place<T>(&self, list: &[T], id: &str, id_of: &impl Fn(&T) -> &str) -> Option<usize> {
        // Of two with one id the first is meant, so the last is put in first.
        let places = self.0.get_or_init(|| list.iter().enumerate().rev().map(|(at, one)| (id_of(one).to_owned(), at)).collect());
        places.get(id).copied().filter(|at| list.get(*at).is_some_and(|one| id_of(one) == id))
    }
}

/// Places of guides by the ids that they had before, found when first asked for; with how many guides there were then.
#[derive(Debug, Default)]
pub struct ByFormerId(OnceLock<(usize, HashMap<String, usize>)>);

impl ByFormerId {
    /// Where the guide stands that was called so; of two, which is an error, the first. It must always be asked
    /// about the same list, to which others may be added.
    pub fn position(&self, guides: &[Guide], id: &str) -> Option<usize> {
        let was = |guide: &Guide| guide.formerly.iter().any(|name| name.value == id);
        let (count, places) = self.0.get_or_init(|| {
            let all = guides.iter().enumerate().rev();
            (guides.len(), all.flat_map(|(at, guide)| guide.formerly.iter().map(move |name| (name.value.clone(), at))).collect())
        });
        if *count != guides.len() {
            return guides.iter().position(was);
        }
        places.get(id).copied().filter(|at| guides.get(*at).is_some_and(was))
    }
}

impl Clone for ById {
    /// A copy of a list may be changed, and is then looked through anew.
    fn clone(&self) -> Self {
        Self::default()
    }
}

#[cfg(test)]
mod tests {
    use super::{ByFormerId, ById};
    use crate::book::decode;
    use crate::book::diagnostic::Notes;
    use crate::book::source::Source;

    #[test]
    fn things_are_found_by_id_the_first_of_two_and_after_a_change() {
        let by_id = ById::default();
        let mut list = vec![("filter", 1), ("belt", 2), ("filter", 3)];
        let find = |list: &[(&'static str, i32)], id: &str| by_id.find(list, id, |one| one.0).copied();
        assert_eq!(find(&list, "filter"), Some(("filter", 1)));
        assert_eq!(find(&list, "belt"), Some(("belt", 2)));
        assert_eq!(find(&list, "anode"), None);
        list.remove(0);
        list.push(("anode", 4));
        assert_eq!(find(&list, "belt"), Some(("belt", 2)));
        assert_eq!(find(&list, "filter"), Some(("filter", 3)));
        assert_eq!(find(&list, "anode"), Some(("anode", 4)));
    }

    #[test]
    fn a_sorted_list_may_grow_after_it_was_asked() {
        let by_id = ById::default();
        let mut list = vec![("anode", 1), ("filter", 2)];
        let find = |list: &[(&'static str, i32)], id: &str| by_id.find_sorted(list, id, |one| one.0).copied();
        assert_eq!(find(&list, "filter"), Some(("filter", 2)));
        list.insert(1, ("belt", 3));
        assert_eq!(find(&list, "filter"), Some(("filter", 2)));
        assert_eq!(find(&list, "belt"), Some(("belt", 3)));
        assert_eq!(find(&list, "pump"), None);
    }

    #[test]
    fn a_former_id_is_found_after_a_guide_has_come_in_before_it() {
        let guide = |name: &str, former: &str| {
            let text = format!("---\ntitle: X\nformerly: [{former}]\n---\n## Work\n\n1. Do it.\n");
            let source = Source::new(format!("guides/hull/{name}.md"), text);
            decode::guide::read(&mut Notes::new(&source)).expect("a guide")
        };
        let by_former = ByFormerId::default();
        let mut guides = vec![guide("belt", "v-belt"), guide("zincs", "anodes")];
        assert_eq!(by_former.position(&guides, "anodes"), Some(1));
        assert_eq!(by_former.position(&guides, "pump"), None);
        guides.insert(1, guide("oil", "engine-oil"));
        assert_eq!(by_former.position(&guides, "anodes"), Some(2));
        assert_eq!(by_former.position(&guides, "engine-oil"), Some(1));
        assert_eq!(by_former.position(&guides, "v-belt"), Some(0));
    }
}
