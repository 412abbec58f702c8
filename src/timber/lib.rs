//! Timber: lengths, sections, parts, set-outs, the job that they make up, and the plan made for it.
//!
//! The modules are in alphabetical order. They do not depend on each other in a circle.

pub mod angle;
pub mod beside;
pub mod blanks;
pub mod cautions;
pub mod clear;
pub mod draft;
pub mod edit;
pub mod ends;
pub mod fault;
pub mod fields;
pub mod give;
pub mod job;
pub mod left;
pub mod length;
pub mod limits;
pub mod lower;
pub mod marks;
pub mod mass;
pub mod money;
pub mod nearest;
pub mod part;
pub mod plan;
pub mod price;
pub mod quantities;
pub mod rules;
pub mod runs;
pub mod section;
pub mod section_table;
pub mod setout;
pub mod shown;
pub mod space;
pub mod usual;
