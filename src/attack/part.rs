//! The interface of a part of the attack: it makes cases, and its oracle knows when the engine got one wrong.

use crate::dice::Dice;
use serde_json::Value;

/// The events met in a case that the engine got right, each counted by name in the report.
pub type Met = Vec<&'static str>;

/// A part of the attack.
pub trait Attack {
    /// Makes a case that is complete in itself, so that another run can judge it from a file.
    fn make(&mut self, dice: &mut Dice) -> Value;

    /// Gives the engine a case and judges the result. A panic counts as wrong too, and is caught by the caller.
    ///
    /// # Errors
    /// What the engine got wrong. The text without its numbers is the kind of the failure; each kind is reported once.
    fn judge(&mut self, case: &Value) -> Result<Met, String>;

    /// Fields of a case that stay unchanged while a failing case is made smaller.
    fn held(&self) -> &'static [&'static str] {
        &[]
    }
}
