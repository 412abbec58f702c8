//! The picture: every set-out that stands by itself, with all that stands on it, isometric from its four corners and in three views with its sizes over all, and a key
//! to the parts. One SVG, 1 000 units wide, on a light background of its own, with all colours in attributes.
//!
//! Letters and colours are those of the boards (`legend`). Coordinates are whole hundredths of a unit. Nothing here knows a plan, so a
//! picture can be had of a job that cannot be planned.

mod block;
mod drawings;
mod ids;
mod key;
mod labels;
mod names;
mod piece;
mod scene;
mod sheet;

pub use drawings::{Drawing, Look, drawings};
pub use names::{Name, key_by_hand, keys, names};

use super::drawing::{INK, PAPER};
use super::words::Words;
use crate::job::Job;
use crate::setout::wholes;
use crate::shown;
use piece::Piece;
use sheet::{Sheet, WIDTH};

/// The picture of a job. A set-out with a fault, of which no member is known, is left out.
pub fn picture(job: &Job) -> String {
    let words = &Words::of(job);
    let names = names(job);
    let mut sheet = Sheet::default();
    for whole in wholes(&job.set_outs, &job.sections) {
        if let Some(piece) = Piece::of(job, &whole, &names) {
            block::block(words, &piece, &mut sheet);
        }
    }
    if job.set_outs.is_empty() {
        sheet.line("There is no set-out, and nothing else says where parts go.");
    }
    key::key(words, &names, names::by_hand(job), &mut sheet);
    let title = match job.piece.is_empty() {
        true => "The piece".to_owned(),
        false => job.piece.clone(),
    };
    let about = "Each set-out that stands by itself, with all that stands on it, from its four corners, from the front, from the left and from above; the cutting list says the same in words.";
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"lw-picture\" role=\"img\" \
         width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"system-ui, sans-serif\" font-size=\"12\" \
         fill=\"{INK}\"><title>{}</title><desc>{about}</desc><rect width=\"100%\" height=\"100%\" fill=\"{PAPER}\"/>{}</svg>\n",
        shown::markup(&title),
        sheet.markup,
        width = WIDTH / 100,
        height = sheet.bottom / 100 + 10,
    )
}
