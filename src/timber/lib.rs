//! Timber: lengths, sections, parts, set-outs, the job they make up, and the plan that comes of it.
//!
//! The modules stand in the order of their dependencies; none knows one below it.

pub mod angle;
pub mod cautions;
pub mod clear;
pub mod draft;
pub mod fault;
pub mod fields;
pub mod job;
pub mod left;
pub mod length;
pub mod limits;
pub mod marks;
pub mod mass;
pub mod money;
pub mod nearest;
pub mod part;
pub mod plan;
pub mod quantities;
pub mod rules;
pub mod runs;
pub mod section;
pub mod section_table;
pub mod setout;
pub mod shown;
pub mod usual;
