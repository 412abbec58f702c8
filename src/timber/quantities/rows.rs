//! The quantities in words: one row for each figure that is not zero, with its assumptions.

use super::{Fixings, Load, Quantities, SectionQuantity, USUAL_DENSITY, board_feet_of};
use crate::job::Job;
use crate::length::{Decimal, Length, Style};
use crate::money::Money;
use crate::setout::{Kind, SetOut, members, wholes};
use crate::space::bounds;

/// A figure, ready to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What it is.
    pub name: String,
    /// The figure with its unit.
    pub value: String,
    /// Its assumptions.
    pub basis: String,
}

/// The rows of a job's quantities.
pub fn rows(job: &Job, quantities: &Quantities) -> Vec<Row> {
    let rules = &job.quantities;
    let mut rows = Rows::of(job);
    if quantities.mass > 0 {
        let value = rows.mass(quantities.mass);
        rows.push(
            "Mass of the finished piece",
            value,
            densities(job, quantities),
        );
    }
    over_all(job, &mut rows);
    rows.fixings(
        job,
        "Fixings where boards cross supports",
        &quantities.crossings,
        match rules.fixings {
            Some(each) => format!("{each} at each crossing"),
            None => "two at each crossing, one in boards sold as under 100 mm or 4 in (TDCA, TRADA Yearbook 2022)"
                .into(),
        } + &nail_length(job, quantities.crossings.thickness),
    );
    bought(job, &mut rows);
    let each = rules.joint_fixings;
    rows.fixings(
        job,
        "Fixings at frame joints",
        &quantities.frame_joints,
        format!("{each} at each joint; NHBC 6.3 has two nails for a joint of studs"),
    );
    if quantities.surface > 0 {
        let value = rows.area(quantities.surface);
        rows.push(
            "Surface of all parts",
            value,
            "all four faces and both ends, before assembly".into(),
        );
        if rules.coats > 0 {
            let unit = if rows.imperial { "US gal" } else { "l" };
            let value = format!("{} {unit}", rows.hundredths(quantities.finish));
            let covers = rows.hundredths(i64::from(rules.coverage));
            let of = if rows.imperial {
                "sq ft to the US gallon"
            } else {
                "m\u{b2} to the litre"
            };
            rows.push(
                "Finish",
                value,
                format!(
                    "{} coats at {covers} {of}; read the tin, and end grain drinks more",
                    rules.coats
                ),
            );
        }
    }
    if quantities.treated_ends > 0 {
        let area = rows.area(quantities.treated_end_area);
        rows.push(
            "Cut ends to brush with preservative",
            format!("{} ends, {area}", quantities.treated_ends),
            "both ends of every part of treated or unknown timber, but the factory end that a post stands on; two generous coats".into(),
        );
    }
    if quantities.fill > 0 {
        let value = rows.volume(quantities.fill);
        rows.push(
            "Fill",
            value,
            "inside width by inside depth by height of the fill".into(),
        );
        let unit = if rows.imperial { "cu ft" } else { "l" };
        let bag = rows.hundredths(i64::from(rules.bag));
        rows.push(
            "Bags of fill",
            quantities.bags.to_string(),
            format!(
                "of {bag} {unit} each, with {} % more for settling",
                rules.settle
            ),
        );
    }
    if rows.imperial {
        let nominal = quantities.by_section.iter();
        let feet = board_feet_of(nominal.filter_map(|section| section.nominal).sum());
        if feet > 0 {
            let value = format!("{} BF", rows.hundredths(feet));
            rows.push(
                "Board feet in the parts",
                value,
                format!(
                    "{}; thickness by width by length over 12",
                    sizes(job, quantities)
                ),
            );
        }
    }
    let spare: Length = quantities
        .by_section
        .iter()
        .map(|section| section.spare)
        .sum();
    if spare > Length::ZERO {
        let value = rows.long(spare);
        rows.push(
            "Spare timber, apart from the parts",
            value,
            format!(
                "{} % of every section, for hidden defects and slips; not in the plan",
                rules.spare
            ),
        );
    }
    rows.rows
}

/// The size of each thing that stands by itself, with what stands on it, and the opening it goes through. Loose parts are none.
fn over_all(job: &Job, rows: &mut Rows) {
    for whole in wholes(&job.set_outs, &job.sections) {
        let solids = whole.put.iter().flat_map(|put| &put.members);
        let (Some(first), Some(ends)) = (
            whole.put.first().map(|put| &job.set_outs[put.row]),
            bounds(solids.flat_map(|member| &member.body)),
        ) else {
            continue;
        };
        if Kind::named(&first.kind) == Some(Kind::FreeParts) {
            continue;
        }
        let told = |ticks: i64| job.style().show(Length::from_ticks(ticks)).told();
        let mut sides = ends.map(|[from, to]| to - from);
        let value = sides.map(told).join(" \u{d7} ");
        order::sort(&mut sides);
        let [least, middle, _] = sides.map(told);
        let rests = if whole.put.len() > 1 {
            " with what stands on it"
        } else {
            ""
        };
        let door = job.door.map(|door| {
            let told = job.style().show(door).told();
            match sides[0] <= door.ticks() {
                true => format!(", so through a door {told} wide"),
                false => {
                    format!("; it is too large for a door {told} wide: put it together beyond it")
                }
            }
        });
        // What is flat, as a gate, goes through anything; only a door that is asked about is said.
        let through = match 4 * sides[0] >= sides[1] || door.is_some() {
            true => format!("; end on, it goes through an opening of {least} by {middle}"),
            false => String::new(),
        };
        rows.push(
            "Size over all",
            value,
            format!(
                "{}{rests}: across, from front to back, upright{through}{}",
                first.name,
                door.unwrap_or_default()
            ),
        );
    }
}

/// What is bought beside timber for single set-outs, and what covers them.
fn bought(job: &Job, rows: &mut Rows) {
    for set_out in &job.set_outs {
        for (count, name) in &set_out.bought {
            rows.push(name, count.to_string(), format!("for {}", set_out.name));
        }
    }
    // Known where each set-out of sheets has a price.
    let sheets = job.set_outs.iter();
    let sheets = sheets.filter(|set_out| Kind::named(&set_out.kind) == Some(Kind::Sheet));
    let costs: Option<Vec<i64>> = sheets
        .map(|set_out| set_out.sheets_cost.map(Money::minor))
        .collect();
    if let Some(costs) = costs.filter(|costs| !costs.is_empty()) {
        let cost = costs.into_iter().fold(0, i64::saturating_add);
        rows.push(
            "Cost of all sheets",
            Money::from_minor(cost).show(job.decimal()),
            "not in the money of the plan".into(),
        );
    }
    let (mut area, mut of) = (0, Vec::new());
    for set_out in job.set_outs.iter().filter(|set_out| set_out.covered) {
        area += covered(set_out, job);
        of.push(set_out.name.as_str());
    }
    if area > 0 {
        let value = rows.area(area + area / 10);
        let basis = format!(
            "for {}: its largest face, and 10 % for laps and turned edges (common practice, no source)",
            of.join(", ")
        );
        rows.push("Felt, or another sheet off the roll", value, basis);
    }
}

/// The largest face of all of a set-out, in square ticks.
fn covered(set_out: &SetOut, job: &Job) -> i128 {
    let members = members(set_out, &job.sections).unwrap_or_default();
    let ends = bounds(members.iter().flat_map(|member| &member.body)).unwrap_or_default();
    let mut sides = ends.map(|[from, to]| i128::from(to - from));
    order::sort(&mut sides);
    sides[1] * sides[2] * i128::from(set_out.times)
}

/// Name, length, mass and board feet of each section, ready to print; the spare length separately.
pub fn section_rows(job: &Job, quantities: &Quantities) -> Vec<SectionRow> {
    let texts = Rows::of(job);
    let row = |section: &SectionQuantity| SectionRow {
        section: job.sections[section.section].name.clone(),
        parts: section.parts,
        length: texts.long(section.length),
        spare: match section.spare.is_none() {
            true => "in the plan".to_owned(),
            false => texts.long(section.spare),
        },
        mass: section.mass.map(|mass| texts.mass(mass)),
        board_feet: section
            .nominal
            .filter(|_| texts.imperial)
            .map(|nominal| texts.hundredths(board_feet_of(nominal))),
    };
    quantities.by_section.iter().map(row).collect()
}

/// The quantities of one section, ready to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionRow {
    /// Its name.
    pub section: String,
    /// Number of its parts.
    pub parts: u64,
    /// Their length.
    pub length: String,
    /// Spare length, not part of `length`.
    pub spare: String,
    /// Their mass, where the sides are known.
    pub mass: Option<String>,
    /// Their board feet, in an imperial job.
    pub board_feet: Option<String>,
}

/// Rows on the mass of the bought timber. The longest piece is not among them: it depends on the cuts at the yard, which the plan decides.
pub fn load_rows(job: &Job, load: &Load) -> Vec<Row> {
    let mut rows = Rows::of(job);
    for &(section, mass) in &load.by_section {
        if let Some(mass) = mass {
            let name = format!("Mass of the load, {}", job.sections[section].name);
            let value = rows.mass(mass);
            rows.push(&name, value, density(job, section));
        }
    }
    if load.mass > 0 && load.by_section.len() > 1 {
        let value = rows.mass(load.mass);
        rows.push(
            "Mass of the load",
            value,
            "everything bought; wet timber weighs up to a quarter more".into(),
        );
    }
    rows.rows
}

/// A mass in grams, ready to print.
pub fn mass_text(job: &Job, grams: i64) -> String {
    Rows::of(job).mass(grams)
}

/// Which sizes board feet are counted by.
fn sizes(job: &Job, quantities: &Quantities) -> String {
    let counted = quantities
        .by_section
        .iter()
        .filter(|section| section.nominal.is_some_and(|timber| timber > 0));
    let (nominal, given): (Vec<_>, Vec<_>) = counted.partition(|section| section.by_nominal);
    let given: Vec<&str> = given
        .iter()
        .map(|section| job.sections[section.section].name.as_str())
        .collect();
    match (nominal.is_empty(), given.is_empty()) {
        (_, true) => "nominal sizes".into(),
        (true, false) => "at the sizes given".into(),
        (false, false) => format!("nominal sizes, {} at the size given", given.join(" and ")),
    }
}

/// Plain nails 2.5 times as long as the board is thick are a common rule (no source).
fn nail_length(job: &Job, thickness: Length) -> String {
    let style = job.style();
    let long = Length::from_ticks(thickness.ticks() * 5 / 2);
    format!(
        "; plain nails are often 2{}5 times as long as the board is thick, here {} for {}, but shorter than the board and what it lies \
         on together",
        job.decimal().sign(),
        style.show(long),
        style.show(thickness)
    )
}

struct Rows {
    decimal: Decimal,
    imperial: bool,
    /// How sums of lengths are shown.
    sums: Style,
    rows: Vec<Row>,
}

impl Rows {
    fn of(job: &Job) -> Rows {
        Rows {
            decimal: job.decimal(),
            imperial: job.is_imperial(),
            sums: job.style().for_sums(),
            rows: Vec::new(),
        }
    }

    fn push(&mut self, name: &str, value: String, basis: String) {
        self.rows.push(Row {
            name: name.to_owned(),
            value,
            basis,
        });
    }

    fn fixings(&mut self, job: &Job, name: &str, fixings: &Fixings, basis: String) {
        if fixings.count == 0 {
            return;
        }
        let spare = job.quantities.spare_fixings;
        self.push(
            name,
            format!(
                "{} ({} with {spare} % spare)",
                fixings.count, fixings.with_spare
            ),
            format!("{} places, {basis}", fixings.places),
        );
    }

    fn hundredths(&self, hundredths: i64) -> String {
        decimal(hundredths, 2, self.decimal)
    }

    /// Kilograms, or pounds in an imperial job, always to a tenth.
    fn mass(&self, grams: i64) -> String {
        let (tenths, unit) = if self.imperial {
            // 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959).
            let tenths = (i128::from(grams) * 1_000_000 + 22_679_618) / 45_359_237;
            (tenths as i64, "lb")
        } else {
            ((grams + 50) / 100, "kg")
        };
        let sign = self.decimal.sign();
        format!("{}{sign}{} {unit}", tenths / 10, tenths % 10)
    }

    fn area(&self, square_ticks: i128) -> String {
        let (unit, name) = if self.imperial {
            (975_360i128, "sq ft")
        } else {
            (3_200_000, "m\u{b2}")
        };
        let square = unit * unit;
        let hundredths = (square_ticks * 100 + square / 2) / square;
        format!("{} {name}", self.hundredths(hundredths as i64))
    }

    fn volume(&self, cubic_ticks: i128) -> String {
        let (unit, name) = if self.imperial {
            (975_360i128, "cu ft")
        } else {
            (320_000, "l")
        };
        let cube = unit * unit * unit;
        let tenths = (cubic_ticks * 10 + cube / 2) / cube;
        format!("{} {name}", decimal(tenths as i64, 1, self.decimal))
    }

    fn long(&self, length: Length) -> String {
        self.sums.show(length).text
    }
}

/// A whole number of tenths or hundredths as a decimal without trailing zeros.
fn decimal(number: i64, places: u32, sign: Decimal) -> String {
    let scale = 10i64.pow(places);
    let fraction = format!("{:0width$}", number % scale, width = places as usize);
    let fraction = fraction.trim_end_matches('0');
    if fraction.is_empty() {
        return (number / scale).to_string();
    }
    format!("{}{}{fraction}", number / scale, sign.sign())
}

/// The assumption behind the mass of a section.
fn density(job: &Job, section: usize) -> String {
    match job.sections[section].density {
        Some(density) => format!("{density} kg/m\u{b3}, the density given for the section"),
        None => format!(
            "{USUAL_DENSITY} kg/m\u{b3}, the mean of class C24 in EN 338, since the section has no density"
        ),
    }
}

/// The assumptions behind the mass of the piece: the densities given, the usual one where none is given, and what is left out.
fn densities(job: &Job, quantities: &Quantities) -> String {
    let known = |section: &&SectionQuantity| section.mass.is_some();
    let mut given: Vec<u32> = Vec::new();
    let mut usual = false;
    for section in quantities.by_section.iter().filter(known) {
        match job.sections[section.section].density {
            Some(density) if given.contains(&density) => {}
            Some(density) => given.push(density),
            None => usual = true,
        }
    }
    let mut texts = Vec::new();
    if !given.is_empty() {
        let given: Vec<String> = given.iter().map(u32::to_string).collect();
        texts.push(format!(
            "densities of the sections: {} kg/m\u{b3}",
            given.join(", ")
        ));
    }
    if usual {
        texts.push(format!(
            "{USUAL_DENSITY} kg/m\u{b3} where none is given, the mean of class C24 in EN 338"
        ));
    }
    for section in quantities
        .by_section
        .iter()
        .filter(|section| !known(section))
    {
        let name = &job.sections[section.section].name;
        texts.push(format!(
            "{name} is not counted, its sides are not filled in"
        ));
    }
    texts.push("a tenth more or less is usual within one kind of timber".into());
    texts.join("; ")
}
