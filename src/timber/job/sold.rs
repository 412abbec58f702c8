//! What the yard sells and what it costs.

use super::field::{Reader, written, written_rows};
use super::{Aim, Job, JobDraft, Section, Terms, YardLength};
use crate::draft;
use crate::fault::{Fault, FaultKind, Place};
use crate::length::{Length, Style};
use crate::limits;
use crate::money::Money;
use crate::nearest::nearest_word;
use crate::price::Price;
use crate::section::split_sides;
use crate::shown;

/// Puts tax into the charges of yards where it comes on top, unless it comes on top alike at all.
fn put_tax_in(yards: &mut [Terms]) {
    let on_top = |terms: &Terms| if terms.on_top { terms.tax } else { 0 };
    let mut rates = yards.iter().map(on_top);
    let first = rates.next();
    if rates.all(|rate| Some(rate) == first) {
        return;
    }
    for terms in yards.iter_mut().filter(|terms| terms.on_top) {
        terms.delivery = terms.with_tax(terms.delivery);
        terms.free_from = terms.free_from.map(|free| terms.with_tax(free));
        terms.cut_fee = terms.with_tax(terms.cut_fee);
        (terms.on_top, terms.put_in) = (false, true);
    }
}

/// The lines sold in packs of which parts are made that stand on factory ends.
pub(super) fn packs_of_posts(job: &Job) -> Vec<Fault> {
    let stands = |section: usize| {
        let mut parts = job.list.iter();
        parts.any(|part| {
            part.sections.contains(&section) && job.stands_on_factory_end(part, section)
        })
    };
    let lines = job.yard.iter().enumerate();
    // The section of a line may be a stand-in that is not there.
    let faulty = lines.filter(|(_, line)| {
        line.pack > 1 && line.section < job.sections.len() && stands(line.section)
    });
    let places = faulty.map(|(row, _)| Place::row("yard", row, "pack"));
    places
        .map(|place| Fault::new(place, FaultKind::PackOfPosts))
        .collect()
}

impl Reader {
    pub(super) fn yard(
        &mut self,
        draft: &JobDraft,
        (aim, carry): (Aim, Option<Length>),
        (sections, yards): (&[Section], &[Terms]),
        names: &[String],
    ) -> Vec<YardLength> {
        let mut yard = Vec::new();
        let bought_at = self.bought_at(draft, yards);
        for (row, line) in written_rows(&draft.yard) {
            let place = |field| Place::row("yard", row, field);
            let section = self.section(place("section"), &line.section, names);
            let length = self.length(place("length"), &line.length, &limits::BOARD);
            let pack = written(&line.pack).map_or(1, |_| {
                self.count(place("pack"), &line.pack, 1, limits::PACK)
            });
            let whole = Length::from_ticks(length.ticks() * i64::from(pack));
            let (price, per) =
                self.price(place("price"), &line.price, whole, sections.get(section));
            if pack > 1 && carry.is_some_and(|carry| length > carry) {
                self.push(place("pack"), FaultKind::PackTooLong);
            }
            if pack > 1 && aim == Aim::Scrap {
                let kind = FaultKind::ScrapFirst("out of packs; leave the pack empty");
                self.push(place("pack"), kind);
            }
            let at = self.yard_of(place("yard"), &line.yard, yards);
            let (price, per) = self.with_tax(place("price"), (price, per), yards.get(at));
            let elsewhere = bought_at.as_ref().is_some_and(|here| !here.contains(&at));
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
                count: match elsewhere {
                    true => Some(0),
                    false => count,
                },
                pack,
                at,
                elsewhere,
            });
        }
        yard
    }

    pub(super) fn yards(&mut self, draft: &JobDraft) -> Vec<Terms> {
        let mut yards: Vec<Terms> = Vec::new();
        for (row, terms) in written_rows(&draft.yards) {
            let place = |field| Place::row("yards", row, field);
            let name = shown::line(written(&terms.name).unwrap_or_default());
            let known = yards.iter().any(|other| other.name == name);
            match name.is_empty() {
                // With one yard there is nothing to tell apart.
                true if draft.yards.len() > 1 => {
                    self.push(place("name"), FaultKind::Missing("the name of the yard"));
                }
                false if name.contains(';') => {
                    let kind = FaultKind::WrongShape("a name without a semicolon");
                    self.push(place("name"), kind);
                }
                false if known => self.push(place("name"), FaultKind::Duplicate(name.clone())),
                _ => {}
            }
            let tax = terms
                .tax
                .as_ref()
                .map(|tax| tax.trim_end_matches([' ', '%']).to_owned());
            let most = Money::from_minor(10_000);
            let read = Money::read(tax.as_deref().unwrap_or_default(), self.reading.decimal);
            if read.is_some_and(|tax| tax > most) {
                let kind = FaultKind::WrongShape("a tax of at most 100 percent");
                self.push(place("tax"), kind);
            }
            let mut money = |field, text| self.money(place(field), text);
            yards.push(Terms {
                tax: money("tax", &tax).map_or(0, Money::minor),
                delivery: money("delivery", &terms.delivery).unwrap_or_default(),
                free_from: money("free_from", &terms.free_from),
                trip: money("trip", &terms.trip).unwrap_or_default(),
                cut_fee: money("cut_fee", &terms.cut_fee).unwrap_or_default(),
                on_top: self.word(place("prices"), &terms.prices, &draft::PRICES_WORDS, false),
                put_in: false,
                name,
            });
        }
        put_tax_in(&mut yards);
        yards
    }

    fn money(&mut self, place: Place, text: &Option<String>) -> Option<Money> {
        let text = written(text)?;
        let money = Money::read(text, self.reading.decimal);
        match money {
            None => self.push(place, FaultKind::Money(text.to_owned())),
            Some(money) => self.not_too_dear(place, money),
        }
        money
    }

    fn not_too_dear(&mut self, place: Place, money: Money) {
        if money > limits::PRICE {
            let [price, most] =
                [money, limits::PRICE].map(|money| money.show(self.reading.decimal));
            self.push(place, FaultKind::TooDear { price, most });
        }
    }

    fn yard_of(&mut self, place: Place, text: &Option<String>, yards: &[Terms]) -> usize {
        match written(text) {
            Some(name) => self.yard_called(place, &shown::line(name), yards),
            None => {
                if yards.len() > 1 {
                    self.push(place, FaultKind::Missing("the yard"));
                }
                0
            }
        }
    }

    fn yard_called(&mut self, place: Place, name: &str, yards: &[Terms]) -> usize {
        let at = yards.iter().position(|yard| yard.name == name);
        at.unwrap_or_else(|| {
            let names = yards.iter().map(|yard| yard.name.as_str());
            let kind = FaultKind::UnknownYard {
                name: name.to_owned(),
                nearest: nearest_word(name, names),
            };
            self.push(place, kind);
            0
        })
    }

    /// The yards that timber is bought at, where that is said.
    fn bought_at(&mut self, draft: &JobDraft, yards: &[Terms]) -> Option<Vec<usize>> {
        let names = written(&draft.own.buy_at)?
            .split(';')
            .map(|name| shown::line(name.trim()));
        let names = names.filter(|name| !name.is_empty());
        let at = names.map(|name| self.yard_called(Place::job("buy_at"), &name, yards));
        Some(at.collect())
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
        self.not_too_dear(place, cost);
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

    /// The same with tax put in, where it is at the yard.
    fn with_tax(
        &mut self,
        place: Place,
        (price, per): (Option<Money>, Option<String>),
        terms: Option<&Terms>,
    ) -> (Option<Money>, Option<String>) {
        let (Some(terms), Some(net)) = (terms.filter(|terms| terms.put_in), price) else {
            return (price, per);
        };
        let price = terms.with_tax(net);
        self.not_too_dear(place, price);
        let typed = per.unwrap_or_else(|| net.show(self.reading.decimal));
        (Some(price), Some(format!("{typed} without tax")))
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
