//! Cautions, shown where they apply and nowhere else.
//!
//! They rest on published guidance for saws, dust and treated timber (HSE cross-cut saw and wood dust pages, TDCA and NHBC on cut
//! ends) and say what to do in one line. None says anything about strength: that is for local codes and a qualified person.

use crate::job::Job;
use crate::length::{Length, Style};
use crate::section::{Section, Treated};
use crate::setout::{Hazard, SetOut};
use crate::usual::SHORT;

/// The cautions of a job, each once.
pub fn for_job(job: &Job) -> Vec<String> {
    let mut cautions = Vec::new();
    let short = SHORT.on(job.is_imperial());
    if job.parts.iter().any(|part| part.length < short) {
        cautions.push(short_parts(job.style(), short));
    }
    let used = |treated: Treated| {
        job.parts
            .iter()
            .flat_map(|part| &part.sections)
            .any(|&section| {
                let section = job.sections.get(section);
                section.is_some_and(|section| section.treated == treated)
            })
    };
    if used(Treated::Yes) {
        cautions.push(
            "Treated timber: cross-cut only, never rip or plane it; brush preservative on every cut end; never burn it, and keep its offcuts apart from firewood."
                .to_owned(),
        );
    }
    if used(Treated::Unknown) {
        cautions.push(
            "Timber of unknown treatment counts as treated: cross-cut only, brush every cut end, never burn it."
                .to_owned(),
        );
    }
    if !job.shed.is_empty() {
        cautions.push(
            "Reclaimed boards: look for nails, screws and old paint before you saw; what nobody knows to be untreated counts as treated."
                .to_owned(),
        );
    }
    cautions.extend(beside_the_plan(job));
    cautions
}

/// The cautions that hold whatever is bought and cut: saw and dust, and what the set-outs call for; each once.
pub fn beside_the_plan(job: &Job) -> Vec<String> {
    if job.parts.is_empty() {
        return Vec::new();
    }
    let mut cautions = vec![
        "Let the blade stop before you reach in or take a piece away.".to_owned(),
        "Dust: collect it at the saw and wear a mask; hardwood, and softwood mixed with it, has the lower limit."
            .to_owned(),
    ];
    for set_out in &job.set_outs {
        for caution in hazards(set_out, &job.sections) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    cautions
}

/// The cautions of one set-out.
pub fn for_set_out(set_out: &SetOut, sections: &[Section], style: Style) -> Vec<String> {
    let mut cautions = Vec::new();
    let short = SHORT.on(style.unit.is_imperial());
    if set_out.parts.iter().any(|part| part.length < short) {
        cautions.push(short_parts(style, short));
    }
    cautions.extend(hazards(set_out, sections));
    cautions
}

fn hazards(set_out: &SetOut, sections: &[Section]) -> Vec<String> {
    let mut cautions = Vec::new();
    for hazard in &set_out.hazards {
        match hazard {
            Hazard::Rip(ripped) => {
                let treated = ripped
                    .iter()
                    .filter_map(|&section| sections.get(section))
                    .find(|section| section.treated != Treated::No);
                if let Some(section) = treated {
                    cautions.push(format!(
                        "\"{}\" is treated, or nobody knows: do not rip it. Change the size or the gap until no board is ripped, or use untreated boards at the edges.",
                        section.name
                    ));
                }
            }
            Hazard::Load => cautions.push(
                "Whether it carries what sits, stands or lies on it is not worked out here; follow local codes and ask a qualified person."
                    .to_owned(),
            ),
        }
    }
    cautions
}

fn short_parts(style: Style, short: Length) -> String {
    format!(
        "Parts under {}: cut them from the long board while it is long, clamped or in a jig, never held by hand.",
        style.show(short).text
    )
}
