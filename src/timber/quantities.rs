//! What a piece takes besides lengths: mass of timber, fixings, finish, preservative, fill; and its timber in metres and board feet.
//!
//! All of it follows from the job alone, in whole numbers of exact units: areas in square ticks, volumes in cubic ticks, mass in grams,
//! rounded once. Each figure is printed with its assumptions, and those that a person may know better are fields of the job (`rules`).
//! Spare timber is a separate figure; it never makes a part larger. Nothing here is about strength.

mod rows;

pub use crate::rules::{QuantityRules, RULES, Rule, read_rules};
pub use rows::{Row, SectionRow, load_rows, mass_text, rows, section_rows};

use crate::job::Job;
use crate::length::Length;
use crate::part::{Part, PartEnd, Spare};
use crate::section::{Section, Treated};
use crate::section_table;
use crate::setout::JointSort;

/// Density where a section gives none, in kg/m3: the mean of strength class C24 in EN 338.
pub const USUAL_DENSITY: u32 = 420;

/// Ticks in a metre.
const METRE: i128 = 3_200_000;
/// Ticks in an inch.
const INCH: i128 = 81_280;
/// Board width from which a crossing takes two fixings rather than one. TDCA guidance in the TRADA Yearbook 2022, page 117, gives one for
/// boards under 100 mm. That means the sawn width: a board sold as 100 mm is planed to 94 or 95 mm, and one of 4 in to 3 1/2 in, which is
/// 88.9 mm (PS 20).
const TWO_FIXINGS_FROM: Length = Length::from_mm(88);

/// The quantities of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Quantities {
    /// One for each section any part is made of, in the order of the sections.
    pub by_section: Vec<SectionQuantity>,
    /// Mass of the finished piece in grams; sections without sides are left out.
    pub mass: i64,
    /// Crossings of boards over supports, and the fixings they take.
    pub crossings: Fixings,
    /// Joints between framing members, and the fixings they take.
    pub frame_joints: Fixings,
    /// Surface of all parts, ends included, in square ticks.
    pub surface: i128,
    /// Finish for that surface, in hundredths of a litre (of a US gallon in an imperial job).
    pub finish: i64,
    /// Cut ends of treated or unknown timber.
    pub treated_ends: u64,
    /// The area of these ends, in square ticks.
    pub treated_end_area: i128,
    /// Fill of all boxes, in cubic ticks.
    pub fill: i128,
    /// Bags for that fill, with an allowance for settling.
    pub bags: i64,
}

/// The quantities of one section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SectionQuantity {
    /// Index of the section.
    pub section: usize,
    /// Parts made of it; a part that may be made of several counts with the first.
    pub parts: u64,
    /// Their length, end to end over long points.
    pub length: Length,
    /// Spare length at the job's percentage, rounded up to a tick; not part of `length`.
    pub spare: Length,
    /// Mass of the parts in grams; `None` where a side is unknown.
    pub mass: Option<i64>,
    /// Volume of its timber at nominal sizes in cubic ticks, from which [`board_feet_of`] computes board feet; `None` where a side is
    /// unknown.
    pub nominal: Option<i128>,
    /// Whether `nominal` uses a nominal size. Otherwise none is known for the size given, which is used itself.
    pub by_nominal: bool,
}

/// Places to be fixed, and the fixings they take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fixings {
    /// How many places.
    pub places: u64,
    /// How many fixings.
    pub count: u64,
    /// The same with the job's percentage of spare fixings, rounded up.
    pub with_spare: u64,
    /// Thickness of the thickest piece that a fixing goes through first.
    pub thickness: Length,
}

/// The mass of what was bought, and the longest piece of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Load {
    /// Pairs of a section and its mass in grams; `None` where a side is unknown.
    pub by_section: Vec<(usize, Option<i64>)>,
    /// Mass of all in grams; sections without sides are left out.
    pub mass: i64,
    /// The longest piece that is carried: no longer than the carry length, since longer ones are cut at the yard.
    pub longest: Length,
}

/// Works out the quantities that follow from the job alone.
pub fn work_out(job: &Job) -> Quantities {
    let rules = &job.quantities;
    let mut quantities = Quantities::default();
    for (index, section) in job.sections.iter().enumerate() {
        let parts: Vec<&Part> = job
            .list
            .iter()
            .filter(|part| part.sections.first() == Some(&index) && part.spare == Spare::No)
            .collect();
        if !parts.is_empty() {
            let quantity = of_section(job, index, section, &parts);
            quantities.mass += quantity.mass.unwrap_or(0);
            quantities.by_section.push(quantity);
        }
        for part in parts {
            let (surface, end) = surface(section, part);
            quantities.surface += surface;
            if section.treated != Treated::No {
                quantities.treated_ends += 2 * u64::from(part.quantity);
                quantities.treated_end_area += end;
                if job.stands_on_factory_end(part, index) {
                    // The end that it stands on is square, and is not cut.
                    let side = area(section).unwrap_or_default();
                    quantities.treated_ends -= u64::from(part.quantity);
                    quantities.treated_end_area -= side * i128::from(part.quantity);
                }
            }
        }
    }
    quantities.finish = finish(quantities.surface, rules, job.is_imperial());
    for joint in job.set_outs.iter().flat_map(|set_out| &set_out.joints) {
        let places = u64::from(joint.count);
        let (fixings, each) = match joint.sort {
            JointSort::Crossing(width) => (
                &mut quantities.crossings,
                rules
                    .fixings
                    .unwrap_or(1 + u32::from(width >= TWO_FIXINGS_FROM)),
            ),
            JointSort::Frame => (&mut quantities.frame_joints, rules.joint_fixings),
        };
        fixings.places += places;
        fixings.count += places * u64::from(each);
        fixings.thickness = fixings.thickness.max(joint.thickness);
    }
    for fixings in [&mut quantities.crossings, &mut quantities.frame_joints] {
        let share = 100 + u64::from(rules.spare_fixings);
        fixings.with_spare = (fixings.count * share).div_ceil(100);
    }
    for set_out in &job.set_outs {
        if let Some(fill) = set_out.fill {
            let side = |length: Length| i128::from(length.ticks());
            quantities.fill +=
                side(fill.width) * side(fill.depth) * side(fill.height) * i128::from(set_out.times);
        }
    }
    quantities.bags = bags(quantities.fill, rules, job.is_imperial());
    quantities
}

/// The load of what is bought: pairs of a line of the yard and how many of it.
pub fn load(job: &Job, bought: &[(usize, u64)]) -> Load {
    let mut load = Load::default();
    for (index, section) in job.sections.iter().enumerate() {
        let lines = bought
            .iter()
            .filter_map(|&(line, count)| Some((job.yard.get(line)?, count)))
            .filter(|(line, count)| line.section == index && *count > 0);
        let mut ticks = 0i128;
        let mut any = false;
        for (line, count) in lines {
            any = true;
            ticks += i128::from(line.length.ticks()) * i128::from(count);
            let carried = job
                .carry
                .map_or(line.length, |carry| line.length.min(carry));
            load.longest = load.longest.max(carried);
        }
        if any {
            let mass = mass(section, ticks);
            load.mass += mass.unwrap_or(0);
            load.by_section.push((index, mass));
        }
    }
    load
}

fn of_section(job: &Job, index: usize, section: &Section, parts: &[&Part]) -> SectionQuantity {
    let ticks: i128 = parts
        .iter()
        .map(|part| i128::from(part.length.ticks()) * i128::from(part.quantity))
        .sum();
    // Where the plan has spares there are no others to think of.
    let planned = job
        .list
        .iter()
        .any(|part| part.spare != Spare::No && part.sections.first() == Some(&index));
    let spare = match planned {
        true => 0,
        false => (ticks * i128::from(job.quantities.spare) + 99) / 100,
    };
    SectionQuantity {
        section: index,
        parts: parts.iter().map(|part| u64::from(part.quantity)).sum(),
        length: whole_length(ticks),
        spare: whole_length(spare),
        mass: mass(section, ticks),
        nominal: section
            .thickness
            .zip(section.width)
            .map(|(thickness, width)| nominal_volume(thickness, width, ticks)),
        by_nominal: section
            .thickness
            .zip(section.width)
            .is_some_and(|(thickness, width)| nominal_size(thickness, width).is_some()),
    }
}

/// Mass of `ticks` of a section in grams, rounded to the nearest; `None` where a side is unknown.
fn mass(section: &Section, ticks: i128) -> Option<i64> {
    let area = area(section)?;
    let density = i128::from(section.density.unwrap_or(USUAL_DENSITY)) * 1_000;
    // Cubic ticks are reduced to cubic tenths of a millimetre first; the grams of a lorry load would overflow otherwise.
    let tenth = METRE / 10_000;
    let volume = area * ticks / (tenth * tenth * tenth);
    nearest(volume * density, 10_000i128.pow(3))
}

/// Board feet in hundredths from nominal sizes: thickness (at least an inch) times width in inches times length in feet, divided by 12, the
/// rule of the American timber trade (Griffith, *Carpentry*, 1916, section 77).
pub fn board_feet(thickness: Length, width: Length, ticks: i128) -> i64 {
    board_feet_of(nominal_volume(thickness, width, ticks))
}

/// Board feet in hundredths, rounded to the nearest: a board foot is 144 cubic inches. Add volumes first, so that a sum is rounded once.
pub fn board_feet_of(nominal: i128) -> i64 {
    nearest(nominal * 100, 144 * INCH * INCH * INCH).unwrap_or(i64::MAX)
}

/// The volume of timber at its nominal size, in cubic ticks. A thickness under an inch counts as an inch.
fn nominal_volume(thickness: Length, width: Length, ticks: i128) -> i128 {
    let [thickness, width] = nominal_size(thickness, width).unwrap_or([thickness, width]);
    i128::from(thickness.ticks()).max(INCH) * i128::from(width.ticks()) * ticks
}

/// The nominal size of a section, where it has one: by the table of sections, else where both its sides are dressed sizes.
fn nominal_size(thickness: Length, width: Length) -> Option<[Length; 2]> {
    section_table::nominal_size(thickness, width)
        .or_else(|| Some([nominal(thickness)?, nominal(width)?]))
}

/// The nominal size of a dressed side, where the American softwood standard PS 20 has it. A section counts as dressed only if both sides
/// are dressed sizes; any other counts at its own size.
fn nominal(dressed: Length) -> Option<Length> {
    // Dry dressed size and nominal size, in sixteenths of an inch.
    const SIZES: &[(i64, i64)] = &[
        (12, 16),
        (16, 20),
        (24, 32),
        (40, 48),
        (56, 64),
        (72, 80),
        (88, 96),
        (116, 128),
        (148, 160),
        (180, 192),
    ];
    let sixteenths = |count: i64| Length::from_inch_64ths(4 * count);
    SIZES
        .iter()
        .find(|(size, _)| sixteenths(*size) == dressed)
        .map(|(_, nominal)| sixteenths(*nominal))
}

/// Surface of a line of parts, and of their ends alone, in square ticks. A mitred end is larger by 1 / cos.
fn surface(section: &Section, part: &Part) -> (i128, i128) {
    let (Some(thickness), Some(width)) = (section.thickness, section.width) else {
        return (0, 0);
    };
    let side = |length: Length| i128::from(length.ticks());
    let ends: i128 = part
        .ends
        .iter()
        .map(|end| match end {
            PartEnd::Square => side(width),
            PartEnd::Mitre(angle) => side(angle.kerf(width)),
        })
        .map(|across| across * side(thickness))
        .sum();
    let long = 2 * (side(thickness) + side(width)) * side(part.length);
    let count = i128::from(part.quantity);
    ((long + ends) * count, ends * count)
}

fn area(section: &Section) -> Option<i128> {
    Some(i128::from(section.thickness?.ticks()) * i128::from(section.width?.ticks()))
}

/// Finish in hundredths of a litre, or of a US gallon, for all coats; rounded up, so that it never falls short.
fn finish(surface: i128, rules: &QuantityRules, imperial: bool) -> i64 {
    // Coverage is in hundredths of a square metre to the litre, or of a square foot to the gallon.
    let unit = if imperial {
        (12 * INCH) * (12 * INCH)
    } else {
        METRE * METRE
    };
    let coats = i128::from(rules.coats);
    let under = unit * i128::from(rules.coverage.max(1));
    i64::try_from((surface * coats * 10_000 + under - 1) / under).unwrap_or(i64::MAX)
}

/// Bags for a fill, settling included, rounded up to whole bags.
fn bags(fill: i128, rules: &QuantityRules, imperial: bool) -> i64 {
    // The size of a bag is in hundredths of a litre, or of a cubic foot.
    let unit = if imperial {
        (12 * INCH).pow(3)
    } else {
        (METRE / 10).pow(3)
    };
    let wanted = fill * i128::from(100 + rules.settle);
    let bag = unit * i128::from(rules.bag.max(1));
    i64::try_from((wanted + bag - 1) / bag).unwrap_or(i64::MAX)
}

fn nearest(top: i128, bottom: i128) -> Option<i64> {
    i64::try_from((2 * top + bottom) / (2 * bottom)).ok()
}

fn whole_length(ticks: i128) -> Length {
    Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX))
}
