//! The drawing of a boarding. Of a board under the next one, only the visible part is drawn.

use super::face::{Face, Run};
use super::laid::Laid;
use crate::length::Length;
use crate::setout::drawing::{Look, Point};
use crate::setout::sizes::Sizes;
use crate::setout::worked::Worked;

impl Face<'_> {
    pub(super) fn draw(&self, sizes: &Sizes, chosen: &Laid, worked: &mut Worked) {
        let zero = Length::ZERO;
        let turned = |along: Length, size: Length| -> (Point, Point) {
            match self.run {
                Run::Upright => ((along, zero), (size, self.length)),
                // Boards that run across are laid from the bottom up.
                Run::Across => ((zero, self.span - along - size), (self.length, size)),
            }
        };
        let (corner, size) = turned(zero, self.span);
        let drawing = &mut worked.drawing;
        drawing.rectangle(Look::Behind, corner, size);
        for (index, (&width, &start)) in chosen.widths.iter().zip(&chosen.starts).enumerate() {
            let look = if self.is_full(width) {
                Look::Part
            } else {
                Look::Ripped
            };
            let to_next = chosen.starts.get(index + 1).map(|&next| next - start);
            let (corner, size) = turned(start, to_next.map_or(width, |next| next.min(width)));
            drawing.rectangle(look, corner, size);
        }
        let (span, length) = (sizes.show(self.span), sizes.show(self.length));
        let edges = match (chosen.widths.first(), chosen.widths.last()) {
            (Some(&first), Some(&last)) if !self.is_full(first) || !self.is_full(last) => {
                format!("edges {} and {}", sizes.show(first), sizes.show(last))
            }
            _ => "nothing to rip".to_owned(),
        };
        let laid = chosen.starts.iter().zip(&chosen.widths);
        let covered = laid.map(|(&start, &width)| start + width).max();
        let bare = match covered {
            Some(covered) if covered < self.span => {
                format!(", {} bare at the end", sizes.show(self.span - covered))
            }
            _ => String::new(),
        };
        let words = format!("{} boards, {edges}{bare}", chosen.widths.len());
        let [across, up] = self.over_all();
        drawing.across(0, zero, across, sizes.show(across));
        drawing.caption(words.clone());
        drawing.up(0, zero, up, sizes.show(up));
        worked.description = format!("{words}, {length} long, over {span}.");
    }
}
