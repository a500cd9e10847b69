//! What can be wrong with a picture, in words for the person who put it into the book.

use std::fmt;

/// Why a photo or drawing cannot be shown. `Display` says what is wrong, [`PictureError::remedy`] how to
/// mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PictureError {
    /// The file has no bytes.
    Empty,
    /// A HEIC or HEIF photo, as some phones save them.
    Heic,
    /// Some other kind of file; the name of its kind where the bytes give it away.
    UnknownKind(Option<&'static str>),
    /// More pixels than are read.
    TooManyPixels { width: u32, height: u32 },
    /// The picture would take more memory than allowed.
    TooMuchMemory,
    /// The file is damaged or cut short; what the decoder says.
    Damaged(String),
    /// The picture could not be written anew; what the encoder says.
    NotWritten(String),
    /// A drawing that is not text in UTF-8.
    DrawingNotText,
    /// A drawing that is not well-formed XML; what the reader says, with line and column.
    DrawingNotXml(String),
    /// The outermost element is not `svg`.
    DrawingNotSvg(String),
    /// A document type with declarations of its own.
    DrawingDeclares,
    /// A drawing past some limit; which one, in words.
    DrawingTooLarge(&'static str),
    /// Neither width and height nor a viewBox.
    DrawingWithoutSize,
    /// A part that is made of itself, or of too many copies of copies.
    DrawingLoops(String),
}

impl fmt::Display for PictureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("the picture file is empty"),
            Self::Heic => f.write_str("this is a HEIC photo, which browsers cannot show"),
            Self::UnknownKind(Some(kind)) => {
                write!(f, "this is {kind}, not a photo that can be read")
            }
            Self::UnknownKind(None) => f.write_str("this is not a photo that can be read"),
            Self::TooManyPixels { width, height } => {
                write!(f, "this picture claims {width} by {height} pixels, more than any camera takes")
            }
            Self::TooMuchMemory => f.write_str("this picture would take too much memory to unpack"),
            Self::Damaged(reason) => write!(f, "this picture is damaged or cut short ({reason})"),
            Self::NotWritten(reason) => {
                write!(f, "this picture could not be written anew ({reason})")
            }
            Self::DrawingNotText => f.write_str("this drawing is not plain SVG text in UTF-8"),
            Self::DrawingNotXml(reason) => write!(f, "this drawing cannot be read ({reason})"),
            Self::DrawingNotSvg(name) => {
                write!(f, "this drawing starts with `{name}` where `svg` is expected")
            }
            Self::DrawingDeclares => f.write_str("this drawing brings declarations of its own in its document type"),
            Self::DrawingTooLarge(limit) => write!(f, "this drawing has more than {limit}"),
            Self::DrawingWithoutSize => f.write_str("this drawing has neither a width and height nor a viewBox"),
            Self::DrawingLoops(id) => {
                write!(f, "part `{id}` of this drawing repeats itself, or is repeated, beyond measure")
            }
        }
    }
}

impl std::error::Error for PictureError {}

impl PictureError {
    /// One thing to do about it, in a sailor's words.
    #[must_use]
    pub fn remedy(&self) -> &'static str {
        match self {
            Self::Empty | Self::Damaged(_) => "copy the file from the camera or phone again",
            Self::Heic => "save it as JPEG on the phone first, and set the camera to take JPEG",
            Self::UnknownKind(_) => "save it as JPEG, PNG, WebP or GIF, or a drawing as SVG",
            Self::TooManyPixels { .. } | Self::TooMuchMemory => "make a smaller copy of it: 1600 pixels wide is all a page shows",
            Self::NotWritten(_) => "open it in a picture program and save it anew as JPEG",
            Self::DrawingNotText | Self::DrawingNotXml(_) | Self::DrawingNotSvg(_) => {
                "open it in a drawing program and save it as plain SVG"
            }
            Self::DrawingDeclares => "save it as plain SVG, or take out the line that starts with `<!DOCTYPE`",
            Self::DrawingTooLarge(_) | Self::DrawingLoops(_) => "simplify the drawing, or save it as PNG instead",
            Self::DrawingWithoutSize => "set the page size in the drawing program and save it again",
        }
    }
}
