//! Figures: what is read prints back to the same, and a refusal says how to mend it.

use garboard::quantity::{Approximate, CalendarSpan, Duration, DutyCycle, Fastener, Figure, Money, Number, Quantity, Unit};

pub fn check(bytes: &[u8]) {
    let Some(text) = super::text(bytes) else { return };
    macro_rules! reads_back {
        ($($kind:ty),*) => {$(
            match <$kind>::parse(text) {
                Ok(read) => assert_eq!(<$kind>::parse(&read.to_string()).as_ref(), Ok(&read), "{}", stringify!($kind)),
                Err(error) => assert_said(&error.to_string(), &error.remedy()),
            }
        )*};
    }
    reads_back!(Approximate, CalendarSpan, Duration, DutyCycle, Fastener, Figure, Money, Number, Quantity);
    if let Err(error) = Unit::parse(text) {
        assert_said(&error.to_string(), &error.remedy());
    }
    if let Ok(figure) = Figure::parse(text) {
        let (low, high) = figure.bounds();
        assert!(low.is_none() || high.is_none() || low <= high, "{figure}");
        let _ = figure.converted();
    }
}

fn assert_said(message: &str, remedy: &str) {
    assert!(!message.is_empty() && !remedy.is_empty() && !message.ends_with('.') && !remedy.ends_with('.'), "{message}; {remedy}");
}
