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
