//! The command line; `lengthwise --help` says what it does.
//!
//! Exit codes: 0 proven, 1 our own failure, 2 faults in the job or on the command line, 3 not proven in time, 4 impossible.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::Command::read(lexopt::Parser::from_env()) {
        Ok(command) => command.run(),
        Err(message) => {
            eprintln!("lengthwise: {message}");
            eprintln!("lengthwise --help lists what can be asked");
            ExitCode::from(cli::FAULTS)
        }
    }
}
