//! A job in the fragment of a link. Whoever opens the link, or photographs its QR code, has the piece, and no server has seen it.
//!
//! The text of the job is compressed by DEFLATE with `WORDS` as a preset dictionary. Jobs are full of those words, so a link is a third
//! shorter than without them and its QR code that much coarser. Four bytes of checksum follow, since a link that lost or changed a letter
//! must not be read as another piece. Two bytes are written as three of 41 characters that addresses allow and that a QR code holds in 5
//! 1/2 bits each.
//!
//! A link that one code cannot hold goes in parts, each a link of its own with a code of its own. ISO/IEC 18004 has such a thing, the
//! structured append of up to 16 codes, but the cameras of phones show such codes one by one and join none (common knowledge, no source); a
//! link is opened by all of them. Each part says which it is, of how many, and of which whole, by the check sum of that: so parts may come
//! in any order, and parts of two pieces never mix.

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

/// What precedes a part of what would stand behind [`MARK`].
const PART: &str = "part2=";

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
    MARK.to_owned() + &signs_of(&packed(text))
}

/// The fragments that hold a text in so many parts of nearly one length, from 2 to 255.
pub fn pack_in_parts(text: &str, of: u8) -> Vec<String> {
    let whole = packed(text);
    let room = whole.len().div_ceil(usize::from(of.max(1))).max(1);
    let sum = check(&whole).to_be_bytes();
    let part = |(number, bytes): (u8, &[u8])| {
        let mut part = vec![number, of];
        part.extend(sum);
        part.extend(bytes);
        part.extend(check(&part).to_be_bytes());
        PART.to_owned() + &signs_of(&part)
    };
    (1..=of).zip(whole.chunks(room)).map(part).collect()
}

/// How many bytes there are to carry for a text.
pub fn weight(text: &str) -> usize {
    packed(text).len()
}

fn packed(text: &str) -> Vec<u8> {
    let mut bytes = deflated(text.as_bytes());
    bytes.extend(check(text.as_bytes()).to_be_bytes());
    bytes
}

fn signs_of(bytes: &[u8]) -> String {
    let mut signs = String::new();
    for pair in bytes.chunks(2) {
        let mut rest = pair
            .iter()
            .fold(0, |sum, byte| sum * 256 + usize::from(*byte));
        for _ in 0..=pair.len() {
            signs.push(char::from(SIGNS[rest % SIGNS.len()]));
            rest /= SIGNS.len();
        }
    }
    signs.push(END);
    signs
}

/// Why a fragment holds no text that can be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unread {
    /// An earlier version made it, with a dictionary that is no longer kept: the link has to be made anew.
    Earlier,
    /// It holds no text that can be trusted: it is cut short, damaged, of a later version, or no link of a piece at all.
    Damaged,
}

/// A part of a link.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Which it is, from one.
    pub number: u8,
    /// How many there are.
    pub of: u8,
    /// The check sum of the whole.
    pub whole: u32,
    bytes: Vec<u8>,
}

/// What a fragment holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Held {
    /// The whole text.
    Text(String),
    /// A part of it.
    Part(Part),
}

/// What a fragment holds.
///
/// # Errors
/// A fragment of an earlier version, or one without a text or a part that can be trusted.
pub fn unpack(fragment: &str) -> Result<Held, Unread> {
    if fragment.starts_with(EARLIER) {
        return Err(Unread::Earlier);
    }
    let part = || part_of(&trusted(fragment.strip_prefix(PART)?)?).map(Held::Part);
    let text = || text_of(&trusted(fragment.strip_prefix(MARK)?)?).map(Held::Text);
    part().or_else(text).ok_or(Unread::Damaged)
}

/// The text of which these are the parts, in any order; `None` where one is missing or of another whole.
pub fn joined(mut parts: Vec<Part>) -> Option<String> {
    order::sort_by_key(&mut parts, |part| part.number);
    let Part { of, whole, .. } = *parts.first()?;
    let fits =
        |(number, part): (u8, &Part)| (part.number, part.of, part.whole) == (number, of, whole);
    if parts.len() != usize::from(of) || !(1..=of).zip(&parts).all(fits) {
        return None;
    }
    let bytes: Vec<u8> = parts.into_iter().flat_map(|part| part.bytes).collect();
    (check(&bytes) == whole).then(|| text_of(&bytes))?
}

fn part_of(bytes: &[u8]) -> Option<Part> {
    let (part, said) = bytes
        .split_last_chunk::<4>()
        .map(|(part, said)| (part, *said))?;
    let (&[number, of, ref whole @ ..], bytes) = part.split_first_chunk::<6>()?;
    let sound = check(part).to_be_bytes() == said
        && (1..=of).contains(&number)
        && !limits::CODES.passed_by(usize::from(of));
    let whole = u32::from_be_bytes(*whole);
    sound.then(|| Part {
        number,
        of,
        whole,
        bytes: bytes.to_vec(),
    })
}

fn text_of(bytes: &[u8]) -> Option<String> {
    let (packed, said) = bytes.split_at_checked(bytes.len().checked_sub(4)?)?;
    let text = String::from_utf8(inflated(packed)?).ok()?;
    (check(text.as_bytes()).to_be_bytes() == said).then_some(text)
}

/// The bytes behind the mark of a link.
fn trusted(signs: &str) -> Option<Vec<u8>> {
    // Two bytes are three characters, and incompressible text grows by a little only.
    if signs.len() > 2 * MOST_TEXT {
        return None;
    }
    // Text that a message put after the link is no part of it.
    let end = signs.find(|sign: char| !sign.is_ascii() || !SIGNS.contains(&(sign as u8)));
    let signs = signs[..end.unwrap_or(signs.len())].trim_end_matches(['-', '.', '/', ':', '+']);
    bytes_of(signs.strip_suffix(END)?)
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
fn check(bytes: &[u8]) -> u32 {
    const BASIS: u32 = 0x811c_9dc5;
    const PRIME: u32 = 0x0100_0193;
    let step = |check: u32, byte: &u8| (check ^ u32::from(*byte)).wrapping_mul(PRIME);
    bytes.iter().fold(BASIS, step)
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = include_str!("../../fixtures/jobs/bin_store.json");

    fn compact() -> String {
        let job: serde_json::Value = serde_json::from_str(JOB).expect("the example is JSON");
        job.to_string()
    }

    fn text_in(fragment: &str) -> Result<String, Unread> {
        match unpack(fragment)? {
            Held::Text(text) => Ok(text),
            Held::Part(part) => panic!("{part:?}"),
        }
    }

    fn part_in(fragment: &str) -> Part {
        match unpack(fragment) {
            Ok(Held::Part(part)) => part,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_text_comes_back_from_its_link_whatever_stands_behind_it() {
        for text in ["", "{}", "a mitred rail, 3′ 11¼″ – ½", JOB, &compact()] {
            let fragment = pack(text);
            for behind in ["", ".", ")", " and so on", "%20"] {
                assert_eq!(text_in(&format!("{fragment}{behind}")).as_deref(), Ok(text));
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
        assert_eq!(text_in(given_away).as_deref(), Ok(job));
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
        assert!(crate::io::qr::svg(&link).is_some(), "{} signs", link.len());
    }

    #[test]
    fn a_few_letters_cannot_fill_the_memory() {
        let long = "0".repeat(MOST_TEXT + 1);
        assert_eq!(unpack(&pack(&long)), Err(Unread::Damaged));
        assert!(text_in(&pack(&long[1..])).is_ok());
    }

    #[test]
    fn a_text_comes_back_from_its_parts_in_any_order_and_from_no_fewer() {
        for of in [2, 3, 7] {
            let mut parts: Vec<Part> = pack_in_parts(JOB, of)
                .iter()
                .map(|part| part_in(part))
                .collect();
            let told: Vec<(u8, u8)> = parts.iter().map(|part| (part.number, part.of)).collect();
            assert_eq!(
                told,
                (1..=of).map(|number| (number, of)).collect::<Vec<_>>()
            );
            parts.reverse();
            assert_eq!(joined(parts.clone()).as_deref(), Some(JOB), "{of}");
            let twice = parts.iter().map(|part| {
                if part.number == 2 {
                    &parts[parts.len() - 1]
                } else {
                    part
                }
            });
            assert_eq!(joined(twice.cloned().collect()), None, "{of}");
            parts.retain(|part| part.number != 2);
            assert_eq!(joined(parts), None, "{of}");
        }
    }

    #[test]
    fn a_part_of_another_piece_or_a_spoilt_one_never_mixes() {
        let [mine, other] = [JOB.to_owned(), JOB.replace("2.4", "2.6")].map(|job| {
            pack_in_parts(&job, 3)
                .iter()
                .map(|part| part_in(part))
                .collect::<Vec<_>>()
        });
        let mixed = vec![mine[0].clone(), other[1].clone(), mine[2].clone()];
        assert_eq!(joined(mixed), None);
        let other_number = vec![
            mine[0].clone(),
            Part {
                number: 2,
                ..mine[0].clone()
            },
            mine[2].clone(),
        ];
        assert_eq!(joined(other_number), None);
        let fragment = &pack_in_parts(JOB, 3)[1];
        for place in PART.len()..fragment.len() - 1 {
            let sign = if &fragment[place..=place] == "7" {
                "8"
            } else {
                "7"
            };
            let changed = format!("{}{sign}{}", &fragment[..place], &fragment[place + 1..]);
            assert_eq!(unpack(&changed), Err(Unread::Damaged), "changed at {place}");
            assert_eq!(
                unpack(&fragment[..place]),
                Err(Unread::Damaged),
                "cut at {place}"
            );
        }
    }
}
