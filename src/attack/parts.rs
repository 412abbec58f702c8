//! The parts of the attack.

use crate::part::Attack;

/// A part of the attack.
pub struct Part {
    /// Its name on the command line and in the report.
    pub name: &'static str,
    /// What it does, for the help.
    pub about: &'static str,
    /// Its share of the time.
    pub share: u32,
    /// Makes it.
    pub open: fn() -> Box<dyn Attack>,
}

/// Every part, in the order in which they run. A new one is a row here.
pub const PARTS: &[Part] = &[
    Part {
        name: "parsers",
        about: "texts and files that no reader was written for",
        share: 2,
        open: || Box::new(crate::parsers::Parsers::default()),
    },
    Part {
        name: "actions",
        about: "requests of the page, mangled",
        share: 2,
        open: || Box::new(crate::actions::Actions),
    },
    Part {
        name: "forgeries",
        about: "false proofs of plans that could be better",
        share: 3,
        open: || Box::new(crate::forge::Forger::default()),
    },
    Part {
        name: "rival",
        about: "the same jobs given to Cbc over cuttings of our own listing",
        share: 3,
        open: || Box::new(crate::rival::Rival),
    },
    Part {
        name: "laws",
        about: "one job said two ways, or with more to choose from",
        share: 2,
        open: || Box::new(crate::laws::Laws),
    },
    Part {
        name: "ordinary",
        about: "ordinary jobs, planned, checked and written out",
        share: 2,
        open: || Box::new(crate::ordinary::Ordinary),
    },
];
