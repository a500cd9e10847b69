//! Hazards and their signal words.

/// How badly a person can be hurt if it is not avoided (ANSI Z535.6); gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Signal {
    Danger,
    Warning,
    Caution,
    Notice,
}

impl Signal {
    /// All four, gravest first.
    pub const ALL: [Self; 4] = [Self::Danger, Self::Warning, Self::Caution, Self::Notice];

    /// Lower-case word: `danger`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Danger => "danger",
            Self::Warning => "warning",
            Self::Caution => "caution",
            Self::Notice => "notice",
        }
    }

    /// The signal of a word, in any case.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|signal| signal.word().eq_ignore_ascii_case(word))
    }
}

/// A hazard with its usual caution.
#[derive(Debug, Clone)]
pub struct Hazard {
    pub id: String,
    pub title: String,
    pub signal: Signal,
    /// What can happen, and how badly.
    pub harm: String,
    /// How to avoid it, a sentence each.
    pub avoid: Vec<String>,
    pub defer: Option<String>,
    /// Words in a guide that suggest this hazard.
    pub words: Vec<String>,
}
