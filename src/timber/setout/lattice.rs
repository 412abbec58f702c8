//! A lattice: laths one way, laid over laths the other way.
//!
//! Along each way there are as few laths as leave gaps no wider than asked: n = ceil((S + G) / (w + G)) laths of width w in a span S with gaps of at
//! most G, the first and the last at its edges, at equal gaps of (S - n w) / (n - 1). (The counting rule of slat fences.) Each two of different
//! ways cross once.

use super::built::Built;
use super::kind::{Field, KindInfo, Sort, Usual, section_field, size_field};
use super::panel::numbered;
use super::sizes::{Sizes, Timber};
use super::spacing::{EndGaps, EqualGaps, fewest_for_gap};
use super::worked::Misfit;
use crate::length::Length;
use crate::part::Part;
use crate::space::Solid;

/// The form.
pub static KIND: KindInfo = KindInfo {
    kind: "lattice",
    title: "Lattice",
    name: "Lattice",
    about: "Laths across, laid over upright ones behind them.",
    fields: &[
        size_field("width", "Width", "Outside, over the laths."),
        size_field("height", "Height", "Outside, over the laths."),
        section_field(
            "section",
            "Section",
            "The timber of the laths; their wide side is seen.",
        ),
        Field {
            field: "gap",
            label: "Gap, at most",
            hint: "Clear, between two laths of one way; the gaps come out equal.",
            sort: Sort::Length,
            usual: Usual::ByUnit("150 mm", "6\""),
            in_sight: true,
        },
        Field {
            field: "across_gap",
            label: "Gap between the laths across, at most",
            hint: "Leave empty for the same.",
            sort: Sort::Length,
            usual: Usual::Nothing,
            in_sight: false,
        },
    ],
};

/// The most laths of one way.
const MOST: i64 = 300;

/// Its members: it stands, the laths across in front.
///
/// # Errors
/// Sizes that do not go together.
pub fn build(sizes: &Sizes) -> Result<Built, Misfit> {
    let timber = sizes.timber("section")?;
    let (width, height) = (sizes.length("width")?, sizes.length("height")?);
    let gap = sizes.length("gap")?;
    let upright = laths(timber, width, ("width", gap))?;
    let across = laths(
        timber,
        height,
        ("height", sizes.given("across_gap").unwrap_or(gap)),
    )?;
    let [wide, thick] = [timber.width, timber.thickness].map(Length::ticks);
    let mut built = Built::default();
    for start in upright.starts() {
        let part = Part::square("upright lath", &timber.sections, height, 1);
        let corner = [start.ticks(), thick, 0];
        built.add(part, Solid::cuboid(corner, [wide, thick, height.ticks()]));
    }
    for start in across.starts() {
        let part = Part::square("lath across", &timber.sections, width, 1);
        let corner = [0, 0, start.ticks()];
        built.add(part, Solid::cuboid(corner, [width.ticks(), thick, wide]));
    }
    let worked = &mut built.worked;
    worked.number("upright laths", upright.count);
    worked.number("laths across", across.count);
    worked.fact("gap between uprights", upright.gap());
    worked.fact("gap between laths across", across.gap());
    let crossings = upright.count * across.count;
    worked.crossings(
        "laths over laths",
        crossings,
        timber.width,
        timber.thickness,
    );
    let zero = Length::ZERO;
    for (way, datum, laths) in [
        ("upright laths along the width", "left edge", &upright),
        ("laths across up the height", "lower edge", &across),
    ] {
        worked.marks(
            way,
            datum,
            numbered("near edge of lath", &laths.starts(), zero),
        );
    }
    worked.makes = format!(
        "outside {} as given, gaps of {} and {}",
        sizes.by(&[width, height]),
        sizes.show(upright.gap()),
        sizes.show(across.gap())
    );
    worked.description = format!(
        "{} laths across over {} upright ones, {} wide and {} high.",
        across.count,
        upright.count,
        sizes.show(width),
        sizes.show(height)
    );
    let (wide, high) = (sizes.show(width), sizes.show(height));
    worked.drawing.across(0, zero, width, wide);
    worked.drawing.up(0, -height, zero, high);
    Ok(built)
}

/// The laths of one way along a span.
fn laths(
    timber: &Timber,
    span: Length,
    (field, gap): (&'static str, Length),
) -> Result<EqualGaps, Misfit> {
    let member = timber.width;
    if span < member + member {
        return Err(Misfit::new(
            field,
            "two laths do not fit side by side; make it larger",
        ));
    }
    let count = fewest_for_gap(span, member, gap, EndGaps::None).max(2);
    if count > MOST {
        return Err(Misfit::new(
            "gap",
            "this takes more than 300 laths one way; make the gaps wider, and check the unit",
        ));
    }
    let laths = |count: i64| EqualGaps {
        span,
        member,
        count: count as u32,
        ends: EndGaps::None,
    };
    let fits = |laths: &EqualGaps| laths.left_over() >= Length::ZERO;
    Some(laths(count)).filter(fits).ok_or_else(|| {
        Misfit::new(
            "gap",
            "no number of laths leaves gaps as narrow as this; make the gaps wider",
        )
    })
}
