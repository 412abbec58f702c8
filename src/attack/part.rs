//! What a way of attacking is: something that makes cases, and an oracle that knows when the engine got one wrong.

use crate::dice::Dice;
use serde_json::Value;

/// What came of a case that the engine got right: names of what was met, each counted in the report.
pub type Met = Vec<&'static str>;

/// One way of attacking.
pub trait Attack {
    /// A case, complete in itself: written to a file it can be judged again by another run.
    fn make(&mut self, dice: &mut Dice) -> Value;

    /// Gives the engine a case and looks at what comes back. A panic counts as wrong too, and is caught by the caller.
    ///
    /// # Errors
    /// What the engine got wrong. Its words without their figures are its kind; finds of one kind are told once.
    fn judge(&mut self, case: &Value) -> Result<Met, String>;

    /// Fields of a case that are left as they are while a find is made smaller.
    fn held(&self) -> &'static [&'static str] {
        &[]
    }
}

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
