//! The command line, as tests start it.

use std::io::Write;
use std::process::{Command, Output, Stdio};

/// Starts the command line with this on its standard input, and waits for its end.
pub fn lengthwise(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lengthwise"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command line starts");
    // A command that does not read its input closes the pipe, which is no fault.
    let _ = child
        .stdin
        .take()
        .expect("a pipe")
        .write_all(input.as_bytes());
    child.wait_with_output().expect("it ends")
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

/// The same; it should end with this code. What it printed, and what it said of errors.
#[track_caller]
pub fn ends(arguments: &[&str], input: &str, code: i32) -> (String, String) {
    let output = lengthwise(arguments, input);
    let (out, err) = (text(&output.stdout), text(&output.stderr));
    assert_eq!(
        output.status.code(),
        Some(code),
        "{arguments:?}\n{out}\n{err}"
    );
    (out, err)
}
