//! The command line; `lengthwise --help` says what it does.
//!
//! Exit codes: 0 proven, 1 our own failure, 2 faults in the job or on the command line, 3 not proven in time, 4 impossible.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::our_error::ends_the_program();
    match cli::Command::read(lexopt::Parser::from_env()) {
        Ok(command) => command.run(),
        Err(message) => {
            cli::output::tell(&format!(
                "lengthwise: {message}\nlengthwise --help lists what can be asked"
            ));
            ExitCode::from(cli::FAULTS)
        }
    }
}
