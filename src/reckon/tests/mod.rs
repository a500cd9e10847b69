//! The reckoning as a specification: rows of what was written and what follows.

mod calendar;
mod done;
mod due;
mod first;
mod gear;
mod kept;
mod log;
mod meters;
mod outside;
mod properties;
mod quantiles;
mod states;
mod stock;
mod trends;
