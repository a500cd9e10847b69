//! A text of the theme with placeholders in braces, found once and filled at every use.

/// `{n} of {count}`.
#[derive(Debug, Clone)]
pub struct Message {
    text: String,
    /// Where each placeholder opens and closes: the places of its braces.
    slots: Box<[(usize, usize)]>,
}

impl Message {
    /// A brace that nothing closes opens nothing.
    #[must_use]
    pub fn new(text: String) -> Self {
        let mut slots = Vec::new();
        let mut from = 0;
        let find = |brace: char, from: usize| text.get(from..).and_then(|rest| rest.find(brace)).map(|at| from + at);
        while let Some(open) = find('{', from)
            && let Some(close) = find('}', open)
        {
            slots.push((open, close));
            from = close + 1;
        }
        let slots = slots.into();
        Self { text, slots }
    }

    /// As it was written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// With the values of its placeholders by their names; one without a value stays as it is. What is filled in is not
    /// filled again.
    #[must_use]
    pub fn filled(&self, fill: &[(&str, &str)]) -> String {
        if self.slots.is_empty() {
            return self.text.clone();
        }
        let values: usize = fill.iter().map(|(_, value)| value.len()).sum();
        let mut out = String::with_capacity(self.text.len() + values);
        let part = |from: usize, to: usize| self.text.get(from..to).unwrap_or_default();
        let mut from = 0;
        for (open, close) in &self.slots {
            let name = part(open + 1, *close);
            if let Some((_, value)) = fill.iter().find(|(known, _)| *known == name) {
                out.push_str(part(from, *open));
                out.push_str(value);
                from = close + 1;
            }
        }
        out.push_str(part(from, self.text.len()));
        out
    }
}

#[cfg(test)]
mod tests {
    use super::Message;

    #[track_caller]
    fn case(text: &str, fill: &[(&str, &str)], expected: &str) {
        assert_eq!(Message::new(text.to_owned()).filled(fill), expected);
    }

    #[test]
    fn placeholders_are_filled_once() {
        case("{x} {y}", &[("x", "{y}"), ("y", "2")], "{y} 2");
        case("{n} of {n}: {what}.", &[("what", "öl"), ("n", "3")], "3 of 3: öl.");
        case("plain", &[("n", "1")], "plain");
        case("", &[], "");
    }

    #[test]
    fn what_has_no_value_stays() {
        case("{unknown} {n}", &[("n", "1")], "{unknown} 1");
        case("a { b", &[], "a { b");
        case("} {n", &[("n", "1")], "} {n");
        case("a { b {n} {n}", &[("n", "1")], "a { b {n} 1");
        case("{}", &[("", "x")], "x");
    }
}
