//! A panic is our error: in whichever thread it happens, the program says so and ends with the exit code for it.

use super::codes::FAILURE;
use super::output::tell;

/// Makes every panic end the program with [`FAILURE`] and a message that says what to do.
///
/// Nothing is unwound: files are put in place only once all of them are whole, so nothing has to be undone.
pub fn ends_the_program() {
    std::panic::set_hook(Box::new(|panic| {
        tell(&format!(
            "lengthwise: this is our error, not yours: {panic}\n\
             No file was changed. Please send this message, the words you started it with and the job file to whoever gave you Lengthwise."
        ));
        std::process::exit(FAILURE.into());
    }));
}
