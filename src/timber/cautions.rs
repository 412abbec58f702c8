//! The words of the cautions, each in this one place, and which of them a job and a set-out call for.
//!
//! They rest on published guidance: HSE pages on cross-cut saws, rip saws and wood dust; TDCA and NHBC on cut ends; EN 62841 for the rule
//! that a mitre saw only cuts across. Each says in one line what to do. None says anything about strength, which is for local codes and a
//! qualified person.

use crate::job::Job;
use crate::length::Style;
use crate::part::{Fitting, Part};
use crate::section::{Section, Treated};
use crate::setout::{Hazard, SetOut};
use crate::usual::SHORT;

/// Boards out of the shed.
pub const FROM_THE_SHED: &str = "Boards from the shed: look for metal and old paint before sawing; one that \
     does not lie flat against fence and table binds at a mitre saw, so cut it with a jigsaw or by hand.";

/// Slanted cuts (common practice, no source).
pub const POINTED_OFFCUTS: &str = "Slanted cuts leave small pointed offcuts that a blade can throw: stand aside, let the blade stop, \
     and move them with a stick.";

/// A board of treated timber, at the saw.
pub const BRUSH_ENDS: &str = "Brush every cut end with preservative.";

/// Parts that go in the ground: the end (NHBC standards 3.3.5; TDCA on cut ends). Where the section is said to be treated the plan sees to it.
const POSTS: &str = "Posts: the factory end goes down, never a cut end; each is laid out with one, which the sheet leaves untrimmed. Local codes say how \
     deep it stands.";

/// The same where nobody knows whether the timber is treated, or it is not.
const POSTS_ELSEWHERE: &str = "Posts: a cut end never goes in the ground; the end that came treated does. Where the sheet cuts both ends of a post, buy \
     it at its own length. Local codes say how deep it stands.";

/// The same: digging the hole.
const DIGGING: &str = "Before you dig, look for buried services (power, gas, water, telephone): ask for their plans, search the ground, and follow \
     local rules.";

/// Boards that are ripped.
const RIPS: &str = "Never rip at a mitre saw, it cuts across only: rip at a bench saw with its riving knife on and a push stick, or have the \
     yard do it.";

/// Cuts with the blade tilted (saw manuals: a tilted blade comes nearer to fence, guard and hand; swing and tilt act on each other, so a scrap is tried).
const TILTED: &str = "A tilted blade: see that it clears fence and guard before it runs, clamp the timber, and try the setting on a scrap. Where it tilts to \
     one side alone, turn the board end for end with the same face up; the swing stays as it is.";

/// Long edges that are bevelled: the strip is pinched where the blade leans over it (bench saw manuals).
const BEVELS: &str = "Bevelled edges: set the fence so that the blade leans away from it, or the strip is pinched and thrown back; riving knife on, \
     push stick, and never at a mitre saw.";

/// A cut of which both sides are too short to be held, while there is more to cut of the timber in hand.
pub fn short_cut(short: &str) -> String {
    format!(
        "both sides of this cut are under {short}: make it while the board is still long, or clamp the timber or use a jig; never hold it \
         by hand"
    )
}

/// The last cut of the timber in hand, where both its sides are too short to be held: nothing is left that could be cut later.
pub fn last_short_cut(short: &str) -> String {
    format!(
        "both sides of this cut are under {short}: clamp the timber or use a jig; never hold it by hand"
    )
}

/// A cut that frees a part too short to be held.
pub fn short_part(short: &str) -> String {
    format!(
        "short part, under {short}: hold the long side only, and let the blade stop before reaching in"
    )
}

/// Timber whose treatment is not known.
pub const UNKNOWN_TREATMENT: &str = "Timber of unknown treatment counts as treated.";

/// Treated timber; `which` names the sections, in brackets, where others are used too.
pub fn treated(which: &str) -> String {
    format!(
        "Treated timber{which}: cross-cut only, never rip, plane or sand it; brush every cut end with preservative; keep its offcuts apart \
         from firewood and never burn them."
    )
}

/// Parts too short to be held; `which` are their labels.
pub fn short_parts(short: &str, which: &[String]) -> String {
    let which = match which {
        [] => String::new(),
        labels => format!(" ({})", labels.join(", ")),
    };
    format!(
        "Parts under {short}{which}: cut them off the long board while it is long, with a clamp or a jig, and never hold them by hand."
    )
}

/// The cautions that hold whatever is bought and cut: saw and dust, and what the set-outs call for; each once.
pub fn beside_the_plan(job: &Job) -> Vec<String> {
    if job.parts.is_empty() {
        return Vec::new();
    }
    let mut cautions = vec![
        // Common practice, no source.
        "Protect your eyes, and your ears beside a power saw.".to_owned(),
        "Let the blade stop before you reach in or take a piece away.".to_owned(),
        "Dust: collect it at the saw and wear a mask; hardwood, and softwood mixed with it, has the lower limit."
            .to_owned(),
    ];
    cautions.extend(in_the_ground(&job.parts, &job.sections));
    cautions.extend(tilted(&job.list));
    cautions.extend(measured(job));
    let by_hand = job.list.iter().filter(|part| part.row.is_some());
    let ripped = by_hand.filter(|part| part.rip.is_some());
    for caution in ripped.map(|part| rips(&part.sections, &job.sections)) {
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    for set_out in &job.set_outs {
        for caution in hazards(set_out, &job.sections) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    cautions
}

/// What is said where a blade is tilted.
fn tilted(parts: &[Part]) -> Vec<String> {
    let ends = parts.iter().any(Part::is_tilted);
    let edges = parts
        .iter()
        .any(|part| part.rip.is_some_and(|rip| rip.is_bevelled()));
    let said = [(ends, TILTED), (edges, BEVELS)].into_iter();
    said.filter(|(is_so, _)| *is_so)
        .map(|(_, text)| text.to_owned())
        .collect()
}

/// What is said of posts, where there are any.
fn in_the_ground(parts: &[Part], sections: &[Section]) -> Vec<String> {
    let mut posts = parts
        .iter()
        .filter(|part| part.fitting == Fitting::Ground)
        .peekable();
    if posts.peek().is_none() {
        return Vec::new();
    }
    let treated = |&section: &usize| {
        sections
            .get(section)
            .is_some_and(|section| section.treated == Treated::Yes)
    };
    let said = match posts.all(|post| post.sections.iter().all(treated)) {
        true => POSTS,
        false => POSTS_ELSEWHERE,
    };
    [said, DIGGING].map(str::to_owned).to_vec()
}

/// The sections that are planned with a width measured at the yard.
fn measured(job: &Job) -> Option<String> {
    let style = Style::exact(job.reading.unit, job.reading.decimal);
    let widths: Vec<String> = job
        .sections
        .iter()
        .filter_map(|section| {
            let [width, sold] = [section.width?, section.sold_width?].map(|one| style.show(one));
            Some(format!("\"{}\" is {width}, not {sold}", section.name))
        })
        .collect();
    (!widths.is_empty()).then(|| {
        format!(
            "Planned with widths measured at the yard: {}. The set-outs say what that changed.",
            widths.join("; ")
        )
    })
}

/// The cautions of one set-out.
pub fn for_set_out(set_out: &SetOut, sections: &[Section], style: Style) -> Vec<String> {
    let mut cautions = Vec::new();
    let short = SHORT.on(style.unit.is_imperial());
    if set_out.parts.iter().any(|part| part.length < short) {
        cautions.push(short_parts(&style.show(short).text, &[]));
    }
    cautions.extend(in_the_ground(&set_out.parts, sections));
    cautions.extend(tilted(&set_out.parts));
    cautions.extend(hazards(set_out, sections));
    cautions
}

fn hazards(set_out: &SetOut, sections: &[Section]) -> Vec<String> {
    let mut cautions = Vec::new();
    for hazard in &set_out.hazards {
        match hazard {
            Hazard::Rip(ripped) => cautions.push(rips(ripped, sections)),
            Hazard::Load => cautions.push(
                "Whether it carries what sits, stands or lies on it is not worked out here; follow local codes and ask a qualified person."
                    .to_owned(),
            ),
        }
    }
    cautions
}

/// What is said where boards of these sections are ripped.
fn rips(ripped: &[usize], sections: &[Section]) -> String {
    let treated = ripped
        .iter()
        .filter_map(|&section| sections.get(section))
        .find(|section| section.treated != Treated::No);
    match treated {
        None => RIPS.to_owned(),
        Some(section) => format!(
            "\"{}\" is {}: do not rip it. Change the size or the gap until no board is ripped, or use untreated boards at the edges.",
            section.name,
            section.treated.told()
        ),
    }
}
