//! Shows a site while its book is being written: a small web server for the files of one folder, and
//! the watch over the book.
//!
//! The server reads and never writes, answers GET and HEAD only, and reaches nothing outside the folder.
//! What the pages need to follow the book is added to the answers; the files stay as they are.

pub mod address;
mod answer;
mod connection;
pub mod live;
pub mod place;
pub mod request;
pub mod serve;
pub mod watch;
