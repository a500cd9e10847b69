//! What the Markdown of one page leads to: links of the site, pictures, words.

use super::assets::{Assets, Picture};
use super::escape;
use super::map::{SiteLink, SiteMap};
use super::markdown::{LinkTo, Surroundings};
use super::words::Words;
use crate::book::check::{Target, resolve};
use crate::book::model::Received;
use crate::book::source::folder_of;
use std::borrow::Cow;

/// The surroundings of one page.
pub struct PageSurroundings<'s> {
    pub map: &'s SiteMap,
    pub assets: &'s Assets,
    pub words: &'s Words,
    /// The file in the book: links are relative to its folder.
    pub file: String,
    /// Path from the page to the top of the site.
    pub root: &'static str,
    /// Where the guide of this page came from, if another boat wrote it.
    pub received: Option<&'s Received>,
}

impl PageSurroundings<'_> {
    /// Path from the page to the top of the site.
    #[must_use]
    pub fn root(&self) -> &'static str {
        self.root
    }

    /// What another boat wrote leads to where it stands here.
    fn here<'t>(&self, target: &'t str) -> Cow<'t, str> {
        self.received.map_or(Cow::Borrowed(target), |received| received.target(target))
    }
}

impl Surroundings for PageSurroundings<'_> {
    fn link(&self, target: &str) -> LinkTo {
        match self.map.link(&self.file, &self.here(target)) {
            Some(SiteLink::Page(page)) => LinkTo::Href(format!("{}{page}", self.root)),
            Some(SiteLink::File(path)) => match self.assets.file(&path) {
                Some(href) => LinkTo::Href(format!("{}{href}", self.root)),
                None => LinkTo::Words,
            },
            Some(SiteLink::SamePage(fragment)) => LinkTo::Href(format!("#{fragment}")),
            Some(SiteLink::Web(url)) => LinkTo::Href(url),
            None => LinkTo::Words,
        }
    }

    fn picture(&self, target: &str, alt: &str, title: &str, block: bool) -> String {
        let picture = match resolve(folder_of(&self.file), &self.here(target)) {
            Target::Inside { path, .. } => self.assets.picture(&path),
            _ => None,
        };
        let Some(picture) = picture else {
            // The words stand in for a picture that is not there.
            let words = escape::html(alt);
            return if block { format!("<p class=\"no-picture\">{words}</p>\n") } else { words };
        };
        let image = image(picture, alt, self.root);
        if !block {
            return image;
        }
        let caption = if title.is_empty() { String::new() } else { format!("<figcaption>{}</figcaption>", escape::html(title)) };
        format!("<figure class=\"picture\">{image}{caption}</figure>\n")
    }

    fn word(&self, name: &str) -> String {
        self.words.text(&format!("text.{name}"))
    }
}

fn image(picture: &Picture, alt: &str, root: &str) -> String {
    let alt = escape::html(alt);
    let Some(shown) = picture.sizes.first() else { return alt };
    let set = if picture.sizes.len() > 1 {
        let all: Vec<String> = picture.sizes.iter().map(|size| format!("{root}{} {}w", size.href, size.width)).collect();
        format!(" srcset=\"{}\" sizes=\"(max-width: 50rem) 100vw, 46rem\"", all.join(", "))
    } else {
        String::new()
    };
    format!("<img src=\"{root}{}\" alt=\"{alt}\" width=\"{}\" height=\"{}\" loading=\"lazy\"{set}>", shown.href, shown.width, shown.height)
}
