//! Lengthwise plans timber: from the sizes of a piece to the fewest lengths to buy, the tape reading of every cut, and what goes back
//! in the shed.
//!
//! The data flows one way. A job as typed ([`io::job_file`]) is validated ([`job`]), and its set-outs are worked out ([`setout`]). Its
//! sections are grouped ([`group`]) into problems of bare integers ([`problem`]), which are solved exactly ([`solve`]) and laid on boards
//! ([`layout`], [`plan`]). The plan counts only once [`check`] has worked it out again from the job alone; what people see ([`report`]) is
//! made from a checked plan only.
//!
//! ```
//! use lengthwise::{check, io::job_file, job, patience, planner, report};
//!
//! let (draft, faults) = job_file::read(
//!     r#"{ "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten" }],
//!          "yard": [{ "length": "2.4 m" }, { "length": "3 m" }],
//!          "parts": [{ "label": "leg", "length": 560, "quantity": 8 }] }"#,
//! );
//! assert!(faults.is_empty());
//! let job = job::validate(&draft).expect("a job without faults");
//! let clock = || 0.0; // milliseconds; the core has no clock of its own
//! let mut hear = |_: &lengthwise::plan::Plan| {}; // better plans arrive here while the solver is at work
//! let mut patience = patience::Patience::new(patience::Limits::asks(100_000), &clock, &mut hear);
//! let planner::Planned::Found(plan) = planner::plan_job(&job, &mut patience) else { panic!("eight legs can be cut") };
//! let checked = check::check(&job, plan).expect("the plan holds");
//! // Five legs of 560 mm and their cuts take 2809.6 mm of a 3 m length, so two lengths do.
//! assert_eq!(checked.plan().boards.len(), 2);
//! assert!(report::build(&job, &checked).headline.contains('2'));
//! ```

pub mod api;
#[cfg(any(not(target_arch = "wasm32"), feature = "bench"))]
pub mod bench;
pub mod bill;
mod cells;
pub mod choices;
pub mod exact_yard;
mod figures;
pub mod group;
pub mod io;
pub mod layout;
mod longest;
pub mod patience;
pub mod piece;
pub mod planner;
pub mod progress;
pub mod report;
mod reserve;
pub mod savings;
pub mod sellers;
pub mod sizes;
mod trials;
#[cfg(target_arch = "wasm32")]
mod web;
pub mod wording;

pub use checking as check;
pub use cutting::{problem, solve};
pub use proof::certificate;
pub use timber::{
    cautions, clear, draft, fault, fields, give, job, left, length, limits, lower, marks, mass,
    money, plan, quantities, section_table, setout, shown, space, usual,
};
