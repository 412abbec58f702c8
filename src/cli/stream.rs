//! `lengthwise plan --stream`.

use super::asked::Allowed;
use super::codes::{FAILURE, PROVEN};
use super::output::tell;
use lengthwise::api::stream;
use lengthwise::fault::{Fault, FaultKind, Place};
use lengthwise::limits;
use std::io::{self, BufRead, Write};
use std::time::Instant;

/// Answers every line of standard input. The exit code says whether all were answered, not how their plans came out: the answers say that.
pub fn stream(allowed: Allowed) -> u8 {
    match answer_all(allowed, &mut io::stdin().lock(), &mut io::stdout().lock()) {
        Ok(()) => PROVEN,
        Err(error) => {
            tell(&format!("lengthwise: the stream ended early: {error}"));
            FAILURE
        }
    }
}

fn answer_all(
    allowed: Allowed,
    input: &mut impl BufRead,
    output: &mut impl Write,
) -> io::Result<()> {
    let allowed = match allowed {
        Allowed::Milliseconds(most) => stream::Allowed::Milliseconds(most as f64),
        Allowed::Looks(most) => stream::Allowed::Looks(most),
    };
    while let Some(line) = next_line(input)? {
        let began = Instant::now();
        let clock = || began.elapsed().as_secs_f64() * 1e3;
        let answer = match line {
            Ok(line) => stream::answer(&line, allowed, &clock),
            Err(fault) => stream::refused(*fault),
        };
        writeln!(output, "{answer}")?;
        // Who reads the answers may wait for one before the next job is sent.
        output.flush()?;
    }
    Ok(())
}

/// The next line without its end, or why it cannot be read; `None` where there is none. No more of a line is held than a job file may have.
fn next_line(input: &mut impl BufRead) -> io::Result<Option<Result<String, Box<Fault>>>> {
    let (mut line, mut length) = (Vec::new(), 0);
    loop {
        let read = input.fill_buf()?;
        if read.is_empty() && length == 0 {
            return Ok(None);
        }
        let end = read.iter().position(|&byte| byte == b'\n');
        let part = &read[..end.unwrap_or(read.len())];
        let room = limits::FILE.most.saturating_sub(line.len());
        line.extend_from_slice(&part[..part.len().min(room)]);
        let taken = end.map_or(read.len(), |end| end + 1);
        length += taken;
        let ended = end.is_some() || read.is_empty();
        let found = length - usize::from(end.is_some());
        input.consume(taken);
        if ended {
            return Ok(Some(text(line, found)));
        }
    }
}

fn text(line: Vec<u8>, found: usize) -> Result<String, Box<Fault>> {
    let fault = |kind| Box::new(Fault::new(Place::default(), kind));
    let limit = &limits::FILE;
    if limit.passed_by(found) {
        return Err(fault(FaultKind::TooMany { found, limit }));
    }
    String::from_utf8(line)
        .map_err(|_| fault(FaultKind::Unreadable("the line is not UTF-8 text".into())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(bytes: &[u8]) -> Vec<Result<String, Box<Fault>>> {
        // A small buffer, so that lines come in parts.
        let mut input = io::BufReader::with_capacity(7, bytes);
        let mut lines = Vec::new();
        while let Some(line) = next_line(&mut input).expect("memory reads") {
            lines.push(line);
        }
        lines
    }

    #[test]
    fn lines_end_where_they_end_and_the_last_needs_no_end() {
        let read: Vec<String> = lines(b"one\n\nthe third line\nlast")
            .into_iter()
            .map(|line| line.expect("text"))
            .collect();
        assert_eq!(read, ["one", "", "the third line", "last"]);
        assert!(lines(b"").is_empty());
        assert_eq!(lines(b"\n").len(), 1);
    }

    #[test]
    fn what_is_too_long_or_no_text_is_a_fault_of_its_line_alone() {
        let mut bytes = vec![b'x'; limits::FILE.most + 1];
        bytes.extend_from_slice(b"\n\xff\xfe\nthird");
        let read = lines(&bytes);
        let too_many = |line: &Result<String, Box<Fault>>| match line {
            Err(fault) => {
                matches!(fault.kind, FaultKind::TooMany { found, .. } if found == limits::FILE.most + 1)
            }
            Ok(_) => false,
        };
        assert!(too_many(&read[0]));
        assert!(matches!(&read[1], Err(fault) if matches!(fault.kind, FaultKind::Unreadable(_))));
        assert_eq!(read[2].as_deref(), Ok("third"));
        assert_eq!(
            lines(&vec![b'x'; limits::FILE.most])[0]
                .as_ref()
                .map(String::len),
            Ok(limits::FILE.most)
        );
    }
}
