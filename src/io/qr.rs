//! A text as a QR code, so that a link can be photographed from one screen to another.
//!
//! The code is drawn as one SVG path of unit squares, black on white whatever the page looks like, with the quiet zone of four
//! modules that ISO/IEC 18004 asks for. The lowest error correction is taken: a screen is clean, and a coarser code is easier
//! to photograph.

use qrcode::{Color, EcLevel, QrCode};
use std::fmt::Write;

/// Modules left white around the code.
const QUIET: usize = 4;

/// Draws a text as a QR code.
///
/// # Errors
/// A sentence for the person when the text does not fit into any code.
pub fn svg(text: &str) -> Result<String, String> {
    let code = QrCode::with_error_correction_level(text, EcLevel::L).map_err(|_| {
        format!(
            "{} characters are too many for a code to photograph; send the link, or save the job file",
            text.len()
        )
    })?;
    let width = code.width();
    let side = width + 2 * QUIET;
    let mut path = String::new();
    for (index, color) in code.to_colors().into_iter().enumerate() {
        if color == Color::Dark {
            let (x, y) = (index % width + QUIET, index / width + QUIET);
            // Writing to a text never fails.
            let _ = write!(path, "M{x} {y}h1v1h-1z");
        }
    }
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\" role=\"img\" \
         aria-label=\"The link as a QR code\"><rect width=\"{side}\" height=\"{side}\" fill=\"#fff\"/><path d=\"{path}\" fill=\"#000\"/></svg>"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_code_has_its_three_finders_and_its_quiet_zone() {
        // ISO/IEC 18004: version 1 has 21 modules a side; a finder is 7 modules with a dark corner, from memory.
        let drawn = svg("LENGTHWISE").expect("ten letters fit");
        assert!(drawn.contains("viewBox=\"0 0 29 29\""));
        for corner in ["M4 4h", "M24 4h", "M4 24h"] {
            assert!(drawn.contains(corner), "{corner}");
        }
        assert!(!drawn.contains("M3 "));
    }

    #[test]
    fn a_text_that_is_too_long_is_refused_with_a_remedy() {
        // The largest code holds 2 953 bytes at the lowest correction (ISO/IEC 18004, from memory).
        assert!(svg(&"a".repeat(2_953)).is_ok());
        let refused = svg(&"a".repeat(2_954)).expect_err("one too many");
        assert!(refused.contains("save the job file"), "{refused}");
    }
}
