//! Boards on whose ends parts may stand: every choice of those, and beside each every choice of parts for the timber that it leaves.
//!
//! A part on the datum end begins at the end of the board, and behind it is its cut. One on the far end is measured from there to the next step of the tape, and
//! the widest cut of the section is before it. What is shorter than an end's trim does not stand there.

use super::contents::{Column, Content, Lister, MOST_CUTTINGS, pairs, used};
use super::ground::{Board, Sound, Timber, widest_cut};
use super::lay::{Post, Ticks};
use std::collections::HashMap;

/// All cuttings of a board with what each uses up beyond what is lost anyway, and the length that is not lost anyway.
pub(super) fn columns(
    board: &Board,
    keep: Ticks,
    wanted: &[u32],
    lister: &mut Lister,
) -> Option<(Vec<Column>, Ticks)> {
    let held = match &board.timber {
        Timber::Whole(sound) => sound.iter().map(|sound| sound.length + sound.beyond).sum(),
        Timber::Cut { of, .. } => *of,
    };
    let posts = lister.layer.posts.clone();
    let choices = || posts.iter().map(Some).chain([None]);
    let mut best: HashMap<Vec<u8>, Ticks> = HashMap::new();
    for near in choices() {
        for far in choices() {
            let mut counts = vec![0u8; wanted.len()];
            for post in [near, far].into_iter().flatten() {
                counts[lister.own.iter().position(|own| *own == post.part)?] += 1;
            }
            let too_many = |(&count, &wanted): (&u8, &u32)| u32::from(count) > wanted;
            if counts.iter().zip(wanted).any(too_many) {
                continue;
            }
            let left: Vec<u32> = wanted
                .iter()
                .zip(&counts)
                .map(|(wanted, count)| wanted - u32::from(*count))
                .collect();
            let Some(rest) = beside(lister, board, [near, far]) else {
                continue;
            };
            for (others, kept) in fills(lister, &rest, keep, &left)? {
                let all = others.iter().zip(&counts).map(|(one, other)| one + other);
                let used = held - kept;
                let known = best.entry(all.collect()).or_insert(used);
                *known = (*known).min(used);
                if best.len() > MOST_CUTTINGS {
                    return None;
                }
            }
        }
    }
    let columns = best.into_iter();
    let columns = columns.map(|(counts, used)| Column { counts, used });
    Some((columns.collect(), held))
}

/// The timber that parts on the ends leave; `None` where they do not fit.
fn beside(lister: &Lister, board: &Board, [near, far]: [Option<&Post>; 2]) -> Option<Timber> {
    let step = lister.job.step.ticks();
    let first_post = match near {
        Some(post) => {
            let trim = board.stands[0]?;
            let behind = post.length + post.near?;
            (post.length >= trim).then_some(Some((post.length, behind, trim)))?
        }
        None => None,
    };
    let last = match far {
        Some(post) => {
            let trim = board.stands[1].filter(|_| post.far)?;
            let told = (post.length + step - 1) / step * step;
            (told >= trim).then_some(Some(board.length - told))?
        }
        None => None,
    };
    match &board.timber {
        Timber::Whole(sound) => {
            let mut sound = sound.clone();
            if let Some(begins) = last {
                let rest = sound.last_mut()?;
                if begins < rest.from {
                    return None;
                }
                rest.length = begins - widest_cut(lister.job, board.section) - rest.from;
                rest.beyond = 0;
            }
            if let Some((length, behind, _)) = first_post {
                let rest = sound.first_mut()?;
                if length == board.length && board.stands[1].is_some() && last.is_none() {
                    // The board as it came, which has no bad stretch.
                    let whole = board.stands.iter().flatten().sum::<Ticks>() + rest.length;
                    return (whole == board.length).then(|| {
                        Timber::Whole(vec![Sound {
                            length: 0,
                            beyond: 0,
                            from: length,
                        }])
                    });
                }
                if length > rest.from + rest.length {
                    return None;
                }
                rest.length -= behind - rest.from;
                rest.from = behind;
            }
            for rest in &mut sound {
                rest.length = rest.length.max(0);
            }
            Some(Timber::Whole(sound))
        }
        &Timber::Cut {
            of,
            first: (least, most),
        } => {
            let taken = first_post.map_or(0, |(_, behind, trim)| behind - trim);
            let away = last.map_or(0, |begins| {
                let trim = board.stands[1].unwrap_or(0);
                board.length - begins + widest_cut(lister.job, board.section) - trim
            });
            let (of, least, most) = (of - taken - away, (least - taken).max(0), most - taken);
            let most = most.min(of);
            (of >= 0 && least <= most).then_some(Timber::Cut {
                of,
                first: (least, most),
            })
        }
    }
}

/// Every choice of parts for some timber, with the length of the offcuts that it leaves to keep.
fn fills(
    lister: &mut Lister,
    timber: &Timber,
    keep: Ticks,
    wanted: &[u32],
) -> Option<Vec<(Vec<u8>, Ticks)>> {
    match timber {
        Timber::Whole(sound) => {
            let mut all = vec![(vec![0u8; wanted.len()], 0)];
            for sound in sound {
                let contents = lister.contents(wanted, sound.length)?;
                all = product(&all, &contents, (*sound, keep), wanted)?;
            }
            Some(all)
        }
        &Timber::Cut { of, first } => {
            let longest = first.1.max(of - first.0);
            let contents = lister.contents(wanted, longest)?;
            let pairs = pairs(&contents, of, first, keep, wanted)?;
            let fill = |column: Column| (column.counts, of - column.used);
            Some(pairs.into_iter().map(fill).collect())
        }
    }
}

fn product(
    before: &[(Vec<u8>, Ticks)],
    contents: &[Content],
    (sound, keep): (Sound, Ticks),
    wanted: &[u32],
) -> Option<Vec<(Vec<u8>, Ticks)>> {
    let mut all: HashMap<Vec<u8>, Ticks> = HashMap::new();
    for (counts, kept) in before {
        for content in contents {
            let both: Vec<u8> = counts
                .iter()
                .zip(&content.counts)
                .map(|(one, other)| one + other)
                .collect();
            if both
                .iter()
                .zip(wanted)
                .any(|(&count, &wanted)| u32::from(count) > wanted)
            {
                continue;
            }
            let here = sound.length + sound.beyond - used(sound, content, keep);
            let most = all.entry(both).or_insert(kept + here);
            *most = (*most).max(kept + here);
            if all.len() > MOST_CUTTINGS {
                return None;
            }
        }
    }
    Some(all.into_iter().collect())
}
