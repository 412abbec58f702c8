//! The picture: every set-out that stands by itself, with all that stands on it, isometric from its four corners and in three views with its sizes over all, and a key
//! to the parts. One SVG, 1 000 units wide, on a light background of its own, with all colours in attributes.
//!
//! Letters and colours are those of the boards (`legend`). Coordinates are whole hundredths of a unit. Nothing here knows a plan, so a
//! picture can be had of a job that cannot be planned.

mod block;
mod ids;
mod key;
mod labels;
mod names;
mod scene;
mod sheet;

use super::drawing::{INK, PAPER};
use super::words::Words;
use crate::job::Job;
use crate::setout::wholes;
use crate::shown;
use sheet::{Sheet, WIDTH};

/// The picture of a job. A set-out with a fault, of which no member is known, is left out.
pub fn picture(job: &Job) -> String {
    let words = &Words::of(job);
    let names = names::names(words);
    let mut sheet = Sheet::default();
    let of_set_outs = job.set_outs.iter().map(|one| one.parts.len());
    let by_hand = job.list.len() - of_set_outs.clone().sum::<usize>();
    // The first row of each set-out's parts in the list.
    let first: Vec<usize> = of_set_outs
        .scan(by_hand, |next, rows| {
            *next += rows;
            Some(*next - rows)
        })
        .collect();
    for whole in wholes(&job.set_outs, &job.sections) {
        block::block(words, &whole, &names, &first, &mut sheet);
    }
    if job.set_outs.is_empty() {
        sheet.line("There is no set-out, and nothing else says where parts go.");
    }
    key::key(words, &names, by_hand, &mut sheet);
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
