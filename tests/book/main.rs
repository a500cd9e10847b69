//! The program from outside: books on disk, the built binary, what it prints, the pages it writes.
//!
//! One binary for all, so that linking happens once. Every test has a folder of its own. What is
//! expected is worked out from the format and from published sources, never from what came out.

#![allow(clippy::disallowed_methods, reason = "tests lay and read files, and wait")]

mod bad_names;
mod begin;
mod big_books;
mod broken;
mod calendar;
mod canonical;
mod commands;
mod commonmark;
mod costs;
mod dependencies;
mod draft;
mod due;
mod due_meters;
mod due_table;
mod enter;
#[cfg(unix)]
mod enter_asks;
mod enter_csv;
mod enter_options;
mod escaping;
mod explain;
mod feeds;
mod help;
mod hostile;
mod miscounted;
mod mutated;
mod near;
mod only_about;
mod pages;
mod passage;
mod plan;
mod progress;
mod provision;
mod public;
mod publish;
mod publish_killed;
mod readings;
mod receive;
mod receive_attacks;
mod receive_round;
mod record;
mod reports;
mod samples;
mod search;
mod share;
mod shared_file;
mod signs;
mod stores;
mod support;
mod tend;
#[cfg(target_os = "linux")]
mod tend_load;
#[cfg(unix)]
mod terminal;
mod themes;
mod wording;
