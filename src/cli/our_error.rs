//! A panic is our error: it is told as one, and ends with the code for it, in whichever thread it happens.

use super::codes::FAILURE;
use super::output::tell;

/// Makes every panic end the program with [`FAILURE`] and a message that says what to do.
///
/// Nothing unwinds: files are put in place only when all of them are whole, so there is nothing to take back.
pub fn ends_the_program() {
    std::panic::set_hook(Box::new(|panic| {
        tell(&format!(
            "lengthwise: this is our error, not yours: {panic}\n\
             No file was changed. Please send this message, the words you started it with and the job file to whoever gave you Lengthwise."
        ));
        std::process::exit(FAILURE.into());
    }));
}
