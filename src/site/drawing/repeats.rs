//! How often a drawing repeats its parts.
//!
//! Ten parts that each use the one before ten times make ten thousand million shapes of a file of one page,
//! and a browser would try. The sum is made here first; a part made of itself is refused with them.

use super::PictureError;
use super::tree::{Child, Element};
use super::{allowed, short};
use std::collections::BTreeMap;

/// The most elements once every reference is followed.
const MOST_ELEMENTS: u64 = 200_000;
/// How deep references and nesting may go together.
const DEEPEST: usize = 400;

pub fn check(root: &Element) -> Result<(), PictureError> {
    let mut sums = Sums { parts: BTreeMap::new(), counted: BTreeMap::new(), depth: 0 };
    sums.find_parts(root);
    sums.elements(root)?;
    Ok(())
}

struct Sums<'a> {
    /// Parts that can be referred to, by id; the first of that name, as browsers take it.
    parts: BTreeMap<&'a str, &'a Element>,
    /// How many elements a part comes to; `None` while it is being counted.
    counted: BTreeMap<&'a str, Option<u64>>,
    depth: usize,
}

impl<'a> Sums<'a> {
    fn find_parts(&mut self, element: &'a Element) {
        if let Some(id) = element.attributes.get("id") {
            self.parts.entry(id).or_insert(element);
        }
        for child in &element.children {
            if let Child::Element(child) = child {
                self.find_parts(child);
            }
        }
    }

    /// How many elements `element` comes to with everything it holds and refers to.
    fn elements(&mut self, element: &'a Element) -> Result<u64, PictureError> {
        let id = element.attributes.get("id").map(String::as_str);
        let id = id.filter(|id| self.parts.get(id).is_some_and(|part| std::ptr::eq(*part, element)));
        if let Some(id) = id {
            match self.counted.insert(id, None) {
                Some(Some(sum)) => {
                    self.counted.insert(id, Some(sum));
                    return Ok(sum);
                }
                Some(None) => return Err(PictureError::DrawingLoops(short(id))),
                None => {}
            }
        }
        let place = id.unwrap_or(element.name);
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(PictureError::DrawingLoops(short(place)));
        }
        let mut sum = 1_u64;
        for child in &element.children {
            if let Child::Element(child) = child {
                sum = sum.saturating_add(self.elements(child)?);
            }
        }
        for (name, value) in &element.attributes {
            if *name == "href" {
                sum = sum.saturating_add(self.part(allowed::local_id(value))?);
            } else {
                for id in allowed::referred_ids(value) {
                    sum = sum.saturating_add(self.part(Some(id))?);
                }
            }
        }
        self.depth -= 1;
        if sum > MOST_ELEMENTS {
            return Err(PictureError::DrawingLoops(short(place)));
        }
        if let Some(id) = id {
            self.counted.insert(id, Some(sum));
        }
        Ok(sum)
    }

    fn part(&mut self, id: Option<&str>) -> Result<u64, PictureError> {
        let part = id.and_then(|id| self.parts.get(id).copied());
        part.map_or(Ok(0), |part| self.elements(part))
    }
}
