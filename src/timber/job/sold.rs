//! What the yard sells and what it costs.

use super::field::{Reader, written};
use super::validate::written_rows;
use super::{Aim, JobDraft, Section, YardLength};
use crate::fault::{FaultKind, Place};
use crate::length::{Length, Style};
use crate::limits;
use crate::money::Money;
use crate::price::Price;
use crate::section::split_sides;
use crate::shown;

impl Reader {
    pub(super) fn yard(
        &mut self,
        draft: &JobDraft,
        aim: Aim,
        sections: &[Section],
        names: &[String],
    ) -> Vec<YardLength> {
        let mut yard = Vec::new();
        for (row, line) in written_rows(&draft.yard) {
            let place = |field| Place::row("yard", row, field);
            let section = self.section(place("section"), &line.section, names);
            let length = self.length(place("length"), &line.length, &limits::BOARD);
            let (price, per) =
                self.price(place("price"), &line.price, length, sections.get(section));
            let count = written(&line.count)
                .map(|_| self.count(place("count"), &line.count, 0, limits::COUNT));
            if let Some(section) = sections.get(section)
                && length <= section.trim.datum + section.trim.far
            {
                self.push(place("length"), FaultKind::NothingLeft);
            }
            if aim == Aim::Cheapest && written(&line.price).is_none() {
                self.push(
                    place("price"),
                    FaultKind::Missing("the price, which the aim \"cheapest\" compares,"),
                );
            }
            yard.push(YardLength {
                section,
                length,
                written: self
                    .with_unit(line.length.as_deref().unwrap_or_default())
                    .map(|text| shown::line(&text)),
                price,
                per,
                count,
            });
        }
        yard
    }

    /// What a length costs, and the price as typed where it is per unit.
    fn price(
        &mut self,
        place: Place,
        text: &Option<String>,
        length: Length,
        section: Option<&Section>,
    ) -> (Option<Money>, Option<String>) {
        let Some(text) = written(text) else {
            return (None, None);
        };
        let decimal = self.reading.decimal;
        let Some(price) = Price::read(text, decimal) else {
            let is_plain = !text.contains('/') && !text.contains("per");
            let kind = match is_plain {
                true => FaultKind::Money,
                false => FaultKind::Price,
            };
            self.push(place, kind(text.to_owned()));
            return (None, None);
        };
        let sides = section.and_then(Section::sides_sold);
        let Some(cost) = price.of(length, sides) else {
            let name = section.map(|section| section.name.clone());
            let kind = FaultKind::PriceWithoutSides(name.unwrap_or_default());
            self.push(place, kind);
            return (None, None);
        };
        if cost > limits::PRICE {
            let [price, most] = [cost, limits::PRICE].map(|money| money.show(decimal));
            self.push(place, FaultKind::TooDear { price, most });
        }
        let Price::Per(_, per) = price else {
            return (Some(cost), None);
        };
        let mut told = shown::line(text);
        if let Some(sides) = sides.filter(|_| per.is_volume()) {
            let style = Style::exact(self.reading.unit, decimal);
            let [thickness, width] = sides.map(|side| style.show(side).text);
            let as_sold = section.is_some_and(|section| section.sold_as.is_some());
            let size = match as_sold {
                true => "as it is sold",
                false => "its real size",
            };
            told.push_str(&format!(" of {thickness} x {width}, {size}"));
        }
        (Some(cost), Some(told))
    }

    pub(super) fn sold_as(&mut self, place: Place, text: &Option<String>) -> Option<[Length; 2]> {
        let text = written(text)?;
        let Some(sides) = split_sides(text) else {
            let kind = FaultKind::WrongShape("a thickness and a width, such as 50 x 100");
            self.push(place, kind);
            return None;
        };
        let read = |side: &str| self.length(place.clone(), &Some(side.to_owned()), &limits::SIDE);
        Some(sides.map(read))
    }
}
