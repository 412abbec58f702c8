//! A job in the fragment of a link. Whoever opens the link, or photographs its QR code, has the piece, and no server has seen it.
//!
//! The text of the job is compressed by DEFLATE with `WORDS` as a preset dictionary. Jobs are full of those words, so a link is a third
//! shorter than without them and its QR code that much coarser. Four bytes of checksum follow, since a link that lost or changed a letter
//! must not be read as another piece. Two bytes are written as three of 41 characters that addresses allow and that a QR code holds in 5
//! 1/2 bits each.

use crate::limits;
use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, TDEFLStatus, compress_to_output, create_comp_flags_from_zip_params,
};
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::{DecompressorOxide, decompress, inflate_flags};

/// What precedes the data; the digit is the version of all that follows, `WORDS` included.
const MARK: &str = "job2=";

/// What precedes the data in links of an earlier version, which was packed with other `WORDS`.
const EARLIER: &str = "job1=";

/// The preset dictionary: words that jobs consist of, the most frequent last. Every link that was ever given away depends on each letter of
/// it, so another dictionary needs another [`MARK`].
const WORDS: &[u8] = include_bytes!("link_words.txt");

const SIGNS: &[u8; 41] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-./:+";

/// The last character: programs that make links clickable leave out a full stop or a colon at the end.
const END: char = 'E';

/// The longest text of a job that is read from a link, in bytes, so that a short link cannot fill the memory.
const MOST_TEXT: usize = limits::LINK.most;

/// The fragment that holds a text.
pub fn pack(text: &str) -> String {
    let mut bytes = deflated(text.as_bytes());
    bytes.extend(check(text).to_be_bytes());
    let mut fragment = MARK.to_owned();
    for pair in bytes.chunks(2) {
        let mut rest = pair
            .iter()
            .fold(0, |sum, byte| sum * 256 + usize::from(*byte));
        for _ in 0..=pair.len() {
            fragment.push(char::from(SIGNS[rest % SIGNS.len()]));
            rest /= SIGNS.len();
        }
    }
    fragment.push(END);
    fragment
}

/// Why a fragment holds no text that can be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unread {
    /// An earlier version made it, with a dictionary that is no longer kept: the link has to be made anew.
    Earlier,
    /// It holds no text that can be trusted: it is cut short, damaged, of a later version, or no link of a piece at all.
    Damaged,
}

/// The text in a fragment.
///
/// # Errors
/// A fragment of an earlier version, or one without a text that can be trusted.
pub fn unpack(fragment: &str) -> Result<String, Unread> {
    if fragment.starts_with(EARLIER) {
        return Err(Unread::Earlier);
    }
    trusted(fragment).ok_or(Unread::Damaged)
}

fn trusted(fragment: &str) -> Option<String> {
    let signs = fragment.strip_prefix(MARK)?;
    // Two bytes are three characters, and incompressible text grows by a little only.
    if signs.len() > 2 * MOST_TEXT {
        return None;
    }
    // Text that a message put after the link is no part of it.
    let end = signs.find(|sign: char| !sign.is_ascii() || !SIGNS.contains(&(sign as u8)));
    let signs = signs[..end.unwrap_or(signs.len())].trim_end_matches(['-', '.', '/', ':', '+']);
    let bytes = bytes_of(signs.strip_suffix(END)?)?;
    let (packed, said) = bytes.split_at_checked(bytes.len().checked_sub(4)?)?;
    let text = String::from_utf8(inflated(packed)?).ok()?;
    (check(&text).to_be_bytes() == said).then_some(text)
}

fn bytes_of(signs: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(signs.len() / 3 * 2 + 1);
    for group in signs.as_bytes().chunks(3) {
        let number = group.iter().rev().try_fold(0, |sum, sign| {
            let value = SIGNS.iter().position(|known| known == sign)?;
            Some(sum * SIGNS.len() + value)
        })?;
        match group.len() {
            3 => bytes.extend(u16::try_from(number).ok()?.to_be_bytes()),
            2 => bytes.push(u8::try_from(number).ok()?),
            _ => return None,
        }
    }
    Some(bytes)
}

fn deflated(text: &[u8]) -> Vec<u8> {
    const BEST: i32 = 9;
    const RAW: i32 = -15;
    let mut packer = CompressorOxide::new(create_comp_flags_from_zip_params(BEST, RAW, 0));
    // A flush ends the dictionary on a whole byte and keeps it in the window of what follows.
    compress_to_output(&mut packer, WORDS, TDEFLFlush::Sync, |_| true);
    let mut packed = Vec::new();
    let (status, _) = compress_to_output(&mut packer, text, TDEFLFlush::Finish, |bytes| {
        packed.extend_from_slice(bytes);
        true
    });
    debug_assert!(
        status == TDEFLStatus::Done,
        "a list always takes what it is given"
    );
    packed
}

fn inflated(packed: &[u8]) -> Option<Vec<u8>> {
    let mut text = WORDS.to_vec();
    text.resize(WORDS.len() + MOST_TEXT, 0);
    let whole = inflate_flags::TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
    let (status, read, written) = decompress(
        &mut DecompressorOxide::new(),
        packed,
        &mut text,
        WORDS.len(),
        whole,
    );
    let done = status == TINFLStatus::Done && read == packed.len();
    done.then(|| text[WORDS.len()..WORDS.len() + written].to_vec())
}

/// FNV-1a with 32 bits (Fowler, Noll and Vo). It detects damage; it is no protection against tampering.
fn check(text: &str) -> u32 {
    const BASIS: u32 = 0x811c_9dc5;
    const PRIME: u32 = 0x0100_0193;
    let step = |check: u32, byte: u8| (check ^ u32::from(byte)).wrapping_mul(PRIME);
    text.bytes().fold(BASIS, step)
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = include_str!("../../fixtures/jobs/bin_store.json");

    fn compact() -> String {
        let job: serde_json::Value = serde_json::from_str(JOB).expect("the example is JSON");
        job.to_string()
    }

    #[test]
    fn a_text_comes_back_from_its_link_whatever_stands_behind_it() {
        for text in ["", "{}", "a mitred rail, 3′ 11¼″ – ½", JOB, &compact()] {
            let fragment = pack(text);
            for behind in ["", ".", ")", " and so on", "%20"] {
                assert_eq!(unpack(&format!("{fragment}{behind}")).as_deref(), Ok(text));
            }
        }
    }

    #[test]
    fn a_link_that_lost_or_changed_a_sign_is_not_read_as_another_piece() {
        let fragment = pack(&compact());
        for place in MARK.len()..fragment.len() - 1 {
            let other = if &fragment[place..=place] == "7" {
                "8"
            } else {
                "7"
            };
            let changed = format!("{}{other}{}", &fragment[..place], &fragment[place + 1..]);
            assert_eq!(unpack(&changed), Err(Unread::Damaged), "changed at {place}");
            let lost = format!("{}{}", &fragment[..place], &fragment[place + 1..]);
            assert_eq!(unpack(&lost), Err(Unread::Damaged), "lost at {place}");
            assert_eq!(
                unpack(&fragment[..place]),
                Err(Unread::Damaged),
                "cut at {place}"
            );
        }
        assert_eq!(unpack("job3=00E"), Err(Unread::Damaged));
        assert_eq!(unpack("plan"), Err(Unread::Damaged));
    }

    #[test]
    fn a_link_given_away_is_read_for_ever() {
        // Packed by zlib with the same words as its preset dictionary, from a few lines of Python. A change of the words, the characters,
        // their order or the checksum would fail here.
        let given_away = "job2=YE5UUCRO05RQ+TRVB6M4V1MA4Z3.NCO0PVAA.N0V6HLT0GQSE00V4793E";
        let job = r#"{"format":"lengthwise-job","version":1,"piece":"Gate","parts":[{"label":"pale","section":"batten","length":"1130","quantity":"9"}]}"#;
        assert_eq!(unpack(given_away).as_deref(), Ok(job));
    }

    #[test]
    fn a_link_of_an_earlier_make_is_told_from_a_damaged_one() {
        let earlier = "job1=YE5EQCG5N+CZ566JAL9-NWRHRGM6Q5-8RMSB4Z14YJ/TRL005GA.0E";
        assert_eq!(unpack(earlier), Err(Unread::Earlier));
        assert_eq!(unpack(&earlier[1..]), Err(Unread::Damaged));
    }

    #[test]
    fn the_example_with_its_shed_fits_a_code_that_a_phone_reads() {
        let link = format!(
            "https://timber.example.org/lengthwise/#{}",
            pack(&compact())
        );
        assert!(crate::io::qr::svg(&link).is_ok(), "{} signs", link.len());
    }

    #[test]
    fn a_few_letters_cannot_fill_the_memory() {
        let long = "0".repeat(MOST_TEXT + 1);
        assert_eq!(unpack(&pack(&long)), Err(Unread::Damaged));
        assert!(unpack(&pack(&long[1..])).is_ok());
    }
}
