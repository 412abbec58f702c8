//! What set-outs may give: a size less, a wider gap, one fewer, the other lap.

use super::super::change::Change;
use super::{Asked, FEWER, Idea, Way, push, steps};
use crate::fault::Place;
use crate::length::{Length, read_length};
use crate::setout::{Field, Kind, Sort, Usual};

/// Sizes of set-outs that may be less than what is wanted. Depths in the ground, centres of what bears a load, and slopes are left as they are.
const SIZES: [&str; 14] = [
    "width",
    "depth",
    "height",
    "length",
    "span",
    "spread",
    "size",
    "opening",
    "back_height",
    "bottom_width",
    "overhang",
    "overhang_front",
    "overhang_back",
    "past",
];

/// Gaps of set-outs that may be wider.
const GAPS: [&str; 3] = ["gap", "most_gap", "across_gap"];

/// Numbers of set-outs that may be less: of what bears nothing.
const COUNTS: [&str; 2] = ["quantity", "count"];

/// Fields that say which members run past at a corner, where the words after the first two are other joints.
const LAPS: [&str; 3] = ["laps", "boards_past", "corner"];

impl<'a> Asked<'a> {
    pub(super) fn set_outs(self, all: &mut Vec<Idea<'a>>) {
        for (set_out, written) in self.draft.set_outs.iter().enumerate() {
            let kind = written.kind.as_deref().and_then(Kind::named);
            let Some(kind) = kind else { continue };
            for field in kind.about().fields {
                let text = written.fields.iter().find(|(name, _)| name == field.field);
                let typed = text.map_or("", |(_, text)| text.trim());
                let text = match typed.is_empty() {
                    true => field.usual.text(self.imperial()),
                    false => typed,
                };
                // A gap between boards that close a face is there for the wood to move in.
                if kind != Kind::Boarding || !GAPS.contains(&field.field) {
                    self.set_out_field(set_out, field, text, all);
                }
            }
        }
    }

    fn set_out_field(
        self,
        set_out: usize,
        field: &'static Field,
        text: &str,
        all: &mut Vec<Idea<'a>>,
    ) {
        let name = field.field;
        if self.is_settled(&Place::row("set_outs", set_out, name)) {
            return;
        }
        match field.sort {
            Sort::Size | Sort::Length => {
                // A sum of other sizes moves with those.
                let Ok(from) = read_length(text, self.job.reading) else {
                    return;
                };
                let step = self.job.trial_step();
                if SIZES.contains(&name) {
                    push(
                        all,
                        steps(self.given_up(from), step),
                        Way::OneByOne,
                        move |n| Change::Size {
                            set_out,
                            field,
                            from,
                            to: from.nth_below(step, n.into()),
                        },
                    );
                }
                if GAPS.contains(&name) && field.usual != Usual::Needed {
                    // One slat fewer widens a gap by less than a third, where there are four or more.
                    let most = Length::from_ticks(from.ticks() / 3).max(Length::from_mm(10));
                    push(all, steps(most, step), Way::OneByOne, move |n| {
                        Change::Size {
                            set_out,
                            field,
                            from,
                            to: from.nth_above(step, n.into()),
                        }
                    });
                }
            }
            Sort::Count { least, .. } if COUNTS.contains(&name) => {
                let Ok(from) = text.parse::<u32>() else {
                    return;
                };
                let most = (from / FEWER).min(from.saturating_sub(least));
                push(all, most, Way::OneByOne, move |n| Change::Count {
                    set_out,
                    field,
                    from,
                    to: from - n,
                });
            }
            Sort::Choice(words) if LAPS.contains(&name) => {
                let laps = &words[..words.len().min(2)];
                let other = laps.iter().copied().find(|word| *word != text);
                if let Some(to) = other.filter(|_| laps.contains(&text)) {
                    push(all, 1, Way::Halving, move |_| Change::Word {
                        set_out,
                        field,
                        to,
                    });
                }
            }
            Sort::Section | Sort::AnySection => {
                let place = Place::row("set_outs", set_out, name);
                let part = self
                    .job
                    .set_outs
                    .get(set_out)
                    .map_or("", |set_out| &set_out.name);
                self.also_of(place, (part, text), all);
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setout::kinds;

    #[test]
    fn every_field_named_here_is_one_of_a_set_out_and_holds_what_is_meant() {
        let holds = |name: &str, is_meant: fn(Sort) -> bool| {
            let mut fields = kinds().into_iter().flat_map(|kind| kind.fields);
            fields.any(|field| field.field == name && is_meant(field.sort))
        };
        let is_length = |sort| matches!(sort, Sort::Size | Sort::Length);
        for name in SIZES.iter().chain(&GAPS) {
            assert!(holds(name, is_length), "{name}");
        }
        for name in COUNTS {
            assert!(
                holds(name, |sort| matches!(sort, Sort::Count { .. })),
                "{name}"
            );
        }
        for name in LAPS {
            assert!(holds(name, |sort| sort.choices().is_some()), "{name}");
        }
    }
}
