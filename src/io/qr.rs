//! A text as a QR code, so that a link can be photographed from one screen to another.
//!
//! The code is drawn as one SVG path of strips, black on white whatever the colours of the page. Around it is the quiet zone of four
//! modules that ISO/IEC 18004 requires. The lowest error correction is used, since a screen is clean and a coarser code is easier to
//! photograph. A code too fine for a phone to read off a phone is not drawn; the link then goes in parts.

mod correction;

use correction::codewords;
use qrcode::bits::encode_auto;
use qrcode::canvas::Canvas;
use qrcode::{Color, EcLevel, Version};
use std::fmt::Write;

/// Modules left white around the code.
const QUIET: usize = 4;

/// The largest version that is drawn, which has 97 modules along a side. On a phone's screen, where the code is some 50 mm wide, a module is
/// then half a millimetre; finer ones are not read from a hand's breadth away (common practice, no source).
const FINEST: i16 = 20;

/// The bytes of a link that a code of the finest version holds, two as three signs: 1249 signs (ISO/IEC 18004, from memory).
pub const MOST_BYTES: usize = 832;

/// Draws a text as a QR code; `None` where it needs a code too fine to photograph.
pub fn svg(text: &str) -> Option<String> {
    let (width, modules) = modules(text)?;
    let side = width + 2 * QUIET;
    let mut path = String::new();
    for (y, row) in modules.chunks(width).enumerate() {
        let mut x = QUIET;
        for run in row.chunk_by(|one, other| one == other) {
            if run[0] == Color::Dark {
                // Writing to a text never fails.
                let _ = write!(
                    path,
                    "M{x} {}h{wide}v1h-{wide}z",
                    y + QUIET,
                    wide = run.len()
                );
            }
            x += run.len();
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\" role=\"img\" \
         aria-label=\"The link as a QR code\"><rect width=\"{side}\" height=\"{side}\" fill=\"#fff\"/><path d=\"{path}\" fill=\"#000\"/></svg>"
    ))
}

/// How many modules a code has along a side, and their colours row by row; `None` where it is too fine.
fn modules(text: &str) -> Option<(usize, Vec<Color>)> {
    let bits = encode_auto(text.as_bytes(), EcLevel::L).ok()?;
    let Version::Normal(version @ ..=FINEST) = bits.version() else {
        return None;
    };
    let [data, correction] = codewords(&bits.into_bytes(), version)?;
    let mut canvas = Canvas::new(Version::Normal(version), EcLevel::L);
    canvas.draw_all_functional_patterns();
    canvas.draw_data(&data, &correction);
    let width = Version::Normal(version).width();
    let modules = canvas.apply_best_mask().into_colors();
    Some((usize::try_from(width).ok()?, modules))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_code_has_its_three_finders_and_its_quiet_zone() {
        // ISO/IEC 18004: version 1 has 21 modules a side; a finder is 7 modules with a dark corner, from memory.
        let drawn = svg("LENGTHWISE").expect("ten letters fit");
        assert!(drawn.contains("viewBox=\"0 0 29 29\""));
        for corner in ["M4 4h7v", "M18 4h7v", "M4 18h7v"] {
            assert!(drawn.contains(corner), "{corner}");
        }
        assert!(!drawn.contains("M3 "));
    }

    #[test]
    fn a_code_is_the_one_that_the_library_draws() {
        for text in [
            "",
            "7",
            "HTTP://A.B/C",
            "https://lengthwise.example/#a=b_c-D",
        ] {
            for text in [text.to_owned(), text.repeat(20)] {
                let code = qrcode::QrCode::with_error_correction_level(&text, EcLevel::L)
                    .expect("a short text");
                let drawn = modules(&text).expect("a short text");
                assert_eq!(drawn, (code.width(), code.to_colors()), "{text}");
            }
        }
    }

    #[test]
    fn a_text_that_is_too_long_is_refused() {
        // Version 20 at the lowest correction holds 858 bytes, or 1249 signs of the alphanumeric set (ISO/IEC 18004, table of
        // capacities, from memory).
        for (sign, most) in [("a", 858), ("A", 1249)] {
            assert!(svg(&sign.repeat(most)).is_some());
            assert!(
                svg(&sign.repeat(most + 1)).is_none(),
                "{most} and one of {sign}"
            );
        }
    }
}
