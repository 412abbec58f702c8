//! Common sizes of sawn and finished timber to start from: the size a board is sold as, and its real size.
//!
//! Sizes differ from yard to yard, so each row names its source and every size stays editable. What was measured on the board in hand
//! always takes precedence. Only boards that lap or have a tongue have a cover width.

use crate::length::Length;
use crate::section::EdgeJoint;

/// A size of timber.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TableRow {
    /// What it is sold as.
    pub name: &'static str,
    /// Real thickness; `None` where it has to be measured.
    pub thickness: Option<Length>,
    /// Real width, overall.
    pub width: Length,
    /// The width a laid board covers, for boards that lap or have a tongue.
    pub cover: Option<Length>,
    /// How its edges meet.
    pub joint: EdgeJoint,
    /// The nominal thickness and width by which board feet are counted; `None` where they follow from the dressed size.
    pub nominal: Option<[Length; 2]>,
    /// Where it is sold.
    pub region: Region,
    /// Where the size was read.
    pub source: &'static str,
}

/// Where a size is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    /// United Kingdom and Europe.
    Europe,
    /// United States and Canada.
    NorthAmerica,
    /// Australia and New Zealand.
    Australasia,
}

impl Region {
    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Region::Europe => "UK and Europe",
            Region::NorthAmerica => "North America",
            Region::Australasia => "Australia and New Zealand",
        }
    }
}

/// Every size, by region.
pub static SECTIONS: &[TableRow] = &[
    metric("45 x 45 planed", 45, 45, MILL),
    metric("45 x 70 planed", 45, 70, MILL),
    metric("45 x 95 planed", 45, 95, MILL),
    metric("45 x 220 planed", 45, 220, MILL),
    metric("45 x 70 (sold as 47 x 75)", 45, 70, MERCHANT),
    metric("45 x 95 (sold as 47 x 100)", 45, 95, MERCHANT),
    metric("70 x 145 (sold as 75 x 150)", 70, 145, MERCHANT),
    metric("47 x 220 (sold as 50 x 225)", 47, 220, MERCHANT),
    metric("47 x 97 (sold as 50 x 100)", 47, 97, HANDBOOK),
    metric("50 x 75 sawn", 50, 75, HANDBOOK),
    metric("50 x 100 sawn", 50, 100, HANDBOOK),
    metric("50 x 150 sawn", 50, 150, HANDBOOK),
    metric("75 x 75 sawn", 75, 75, HANDBOOK),
    metric("100 x 100 sawn", 100, 100, HANDBOOK),
    metric("35 x 96 planed (sold as 38 x 100)", 35, 96, WORKSHOP),
    covering(
        "23 x 95 tongued board",
        Some(23),
        [95, 85],
        EdgeJoint::Tongued,
        SWEDISH,
    ),
    covering(
        "feather edge 150",
        None,
        [150, 125],
        EdgeJoint::Lapped,
        FEATHER,
    ),
    covering(
        "feather edge 200",
        None,
        [200, 175],
        EdgeJoint::Lapped,
        FEATHER,
    ),
    inches("1 x 2", 48, 96),
    inches("1 x 3", 48, 160),
    inches("1 x 4", 48, 224),
    inches("1 x 6", 48, 352),
    inches("1 x 8", 48, 464),
    inches("5/4 x 4", 64, 224),
    inches("5/4 x 6", 64, 352),
    inches("2 x 2", 96, 96),
    inches("2 x 3", 96, 160),
    inches("2 x 4", 96, 224),
    inches("2 x 6", 96, 352),
    inches("2 x 8", 96, 464),
    inches("2 x 10", 96, 592),
    inches("2 x 12", 96, 720),
    inches("4 x 4", 224, 224),
    inches("4 x 6", 224, 352),
    tongued("1 x 4 tongued board", 4, 216, 200),
    tongued("1 x 6 tongued board", 6, 344, 328),
    tongued("1 x 8 tongued board", 8, 456, 440),
    tongued("1 x 10 tongued board", 10, 584, 568),
    dressed("20 x 65 dressed", 20, 65),
    dressed("20 x 90 dressed", 20, 90),
    dressed("20 x 140 dressed", 20, 140),
    dressed("35 x 65 dressed", 35, 65),
    dressed("35 x 90 dressed", 35, 90),
    dressed("45 x 90 dressed", 45, 90),
    dressed("45 x 140 dressed", 45, 140),
    dressed("45 x 190 dressed", 45, 190),
];

const MILL: &str = "a Nordic mill's list, 45 mm planed softwood";
const MERCHANT: &str = "UK merchants' tables of sold and finished sizes";
const HANDBOOK: &str =
    "Building Construction Handbook, 8th edition (Chudley and Greeno), timber sizes";
const WORKSHOP: &str = "a UK workshop's measured planed timber";
const SWEDISH: &str = "Swedish Wood, sawn timber range: 95 overall is named by its 85 cover";
const FEATHER: &str =
    "a UK sawmill's table, 25 mm overlap; measure the thickness at the thick edge";
const PS_20: &str = "PS 20 American Softwood Lumber Standard, dry dressed sizes";
const WWPA: &str = "Western Wood Products Association coverage table: dressed and exposed face";
const AUSTRALIAN: &str =
    "an Australian hardwood trade guide, dressed sizes; 1 to 2 mm under is usual";

const fn metric(name: &'static str, thickness: i64, width: i64, source: &'static str) -> TableRow {
    TableRow {
        name,
        thickness: Some(Length::from_mm(thickness)),
        width: Length::from_mm(width),
        cover: None,
        joint: EdgeJoint::Square,
        nominal: None,
        region: Region::Europe,
        source,
    }
}

const fn covering(
    name: &'static str,
    thickness: Option<i64>,
    [width, cover]: [i64; 2],
    joint: EdgeJoint,
    source: &'static str,
) -> TableRow {
    TableRow {
        name,
        thickness: match thickness {
            Some(thickness) => Some(Length::from_mm(thickness)),
            None => None,
        },
        width: Length::from_mm(width),
        cover: Some(Length::from_mm(cover)),
        joint,
        nominal: None,
        region: Region::Europe,
        source,
    }
}

/// Sizes in sixty-fourths of an inch.
const fn inches(name: &'static str, thickness: i64, width: i64) -> TableRow {
    TableRow {
        name,
        thickness: Some(Length::from_inch_64ths(thickness)),
        width: Length::from_inch_64ths(width),
        cover: None,
        joint: EdgeJoint::Square,
        nominal: None,
        region: Region::NorthAmerica,
        source: PS_20,
    }
}

/// A board of nominal one inch with a tongue; it is 3/4 in thick. Its nominal width is in inches, the other sizes in sixty-fourths of an
/// inch.
const fn tongued(name: &'static str, inches_wide: i64, width: i64, cover: i64) -> TableRow {
    TableRow {
        name,
        thickness: Some(Length::from_inch_64ths(48)),
        width: Length::from_inch_64ths(width),
        cover: Some(Length::from_inch_64ths(cover)),
        joint: EdgeJoint::Tongued,
        nominal: Some([
            Length::from_inch_64ths(64),
            Length::from_inch_64ths(64 * inches_wide),
        ]),
        region: Region::NorthAmerica,
        source: WWPA,
    }
}

/// The nominal size for a dressed size, where a row of the table has one.
pub fn nominal_size(thickness: Length, width: Length) -> Option<[Length; 2]> {
    let mut same = SECTIONS
        .iter()
        .filter(|row| (row.thickness, row.width) == (Some(thickness), width));
    same.find_map(|row| row.nominal)
}

const fn dressed(name: &'static str, thickness: i64, width: i64) -> TableRow {
    TableRow {
        name,
        thickness: Some(Length::from_mm(thickness)),
        width: Length::from_mm(width),
        cover: None,
        joint: EdgeJoint::Square,
        nominal: None,
        region: Region::Australasia,
        source: AUSTRALIAN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_there_once_and_every_cover_is_narrower_than_its_board() {
        for (index, row) in SECTIONS.iter().enumerate() {
            let twin = SECTIONS[..index]
                .iter()
                .find(|other| other.name == row.name);
            assert_eq!(twin, None, "{}", row.name);
            assert!(
                row.cover.is_none_or(|cover| cover < row.width),
                "{}",
                row.name
            );
            assert_eq!(row.cover.is_some(), row.joint != EdgeJoint::Square);
            assert!(row.thickness.is_none_or(|thickness| thickness <= row.width));
            assert!(!row.name.contains([';', '[', ']']));
        }
    }

    #[test]
    fn inch_sizes_agree_with_their_published_metric_ones() {
        // 38 x 89, 38 x 140, 38 x 184, 38 x 235, 38 x 286 mm are the metric names of 2 x 4 to 2 x 12 (Canadian practice).
        for (name, width) in [
            ("2 x 4", 89),
            ("2 x 6", 140),
            ("2 x 8", 184),
            ("2 x 10", 235),
            ("2 x 12", 286),
        ] {
            let row = SECTIONS
                .iter()
                .find(|row| row.name == name)
                .expect("listed");
            assert_eq!(
                row.width.nearest(Length::from_mm(1)),
                Length::from_mm(width)
            );
            let thickness = row.thickness.map(|side| side.nearest(Length::from_mm(1)));
            assert_eq!(thickness, Some(Length::from_mm(38)));
        }
    }
}
