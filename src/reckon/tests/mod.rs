//! The reckoning as a specification: rows of what was written and what follows.

mod calendar;
mod costs;
mod done;
mod due;
mod estimates;
mod falls;
mod first;
mod gear;
mod isolated;
mod kept;
mod lately;
mod log;
mod meters;
mod occasion;
mod outside;
mod passage;
mod properties;
mod quantiles;
mod spans;
mod states;
mod stock;
mod trends;
