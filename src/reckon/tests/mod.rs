//! The reckoning as a specification: rows of what was written and what follows.

mod calendar;
mod done;
mod due;
mod falls;
mod first;
mod gear;
mod log;
mod meters;
mod properties;
mod quantiles;
mod states;
mod stock;
