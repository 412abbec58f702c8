//! Mitre angles, and exact integer bounds on what a mitre saves and what its cut takes.
//!
//! An angle is a whole number of thousandths of a degree off square. Its tangent and secant are irrational at most angles, so they are
//! computed as fixed-point intervals in integers: the Taylor series of sine and cosine with every term rounded, and a bound on the sum of
//! the rounding errors (fewer than 40 of them, each below one unit in the last place). The planner's figures are then rounded to a tick on
//! the safe side: a saving down, a kerf up. No floats are used, so native and WebAssembly agree to the bit.
//!
//! The blade can be tilted as well. A saw swung by m and tilted by b cuts in a plane whose normal is (cos b cos m, cos b sin m, sin b) along, across
//! and through the board. So a cut of width k takes k / (cos m cos b) along it, and the end stands back by w tan m across the width and by
//! t tan b / cos m through the thickness. (A turn about the blade's own line, then one about the upright.)

use crate::length::{Decimal, Length};

/// How a saw is set: swung off square, and its blade tilted off upright, each in thousandths of a degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Angle {
    /// Off square, across the width; zero for a saw that is only tilted.
    swung: u32,
    /// Off upright; zero for most.
    tilted: u32,
}

/// Fixed-point ones: 2^60.
const ONE: i128 = 1 << 60;
/// pi * 2^60, rounded down (3.14159265358979323846...).
const PI: i128 = 3_622_009_729_038_561_421;
/// Bound on the accumulated rounding of one series, in units of the last place.
const ERROR: i128 = 64;

impl Angle {
    /// The steepest mitre that is read: 75 degrees.
    pub const MOST: u32 = 75_000;
    /// The flattest mitre that is read: 0.1 degree.
    pub const LEAST: u32 = 100;

    /// The most that a blade is tilted: 60 degrees.
    pub const MOST_TILT: u32 = 60_000;

    /// An angle of this many thousandths of a degree; `None` outside 0.1 to 75 degrees.
    pub const fn from_millidegrees(millidegrees: u32) -> Option<Angle> {
        if millidegrees < Angle::LEAST || millidegrees > Angle::MOST {
            None
        } else {
            Some(Angle {
                swung: millidegrees,
                tilted: 0,
            })
        }
    }

    /// The same with the blade tilted by so much, or a tilt alone; `None` outside 0.1 to 60 degrees of tilt.
    pub fn tilted(swung: Option<Angle>, tilted: u32) -> Option<Angle> {
        (Angle::LEAST..=Angle::MOST_TILT)
            .contains(&tilted)
            .then_some(Angle {
                swung: swung.map_or(0, |angle| angle.swung),
                tilted,
            })
    }

    /// Whether the blade is tilted.
    pub const fn is_tilted(self) -> bool {
        self.tilted > 0
    }

    /// Whether the saw is swung off square.
    pub const fn is_swung(self) -> bool {
        self.swung > 0
    }

    /// The angle whose tangent is `rise / run`, to the nearest thousandth of a degree; `None` outside what is read. Neither is below zero.
    ///
    /// By halves: below the tangent sought, `run * sine - rise * cosine` is negative, and it grows with the angle.
    pub fn of_slope(rise: Length, run: Length) -> Option<Angle> {
        let [rise, run] = [rise, run].map(|side| i128::from(side.ticks()));
        // Midway between this thousandth and the next.
        let is_less = |millidegrees: u32| {
            let (sine, cosine) = sine_cosine(PI * (2 * i128::from(millidegrees) + 1) / 360_000);
            run * sine < rise * cosine
        };
        let (mut low, mut high) = (0, 90_000);
        while low < high {
            let middle = (low + high) / 2;
            match is_less(middle) {
                true => low = middle + 1,
                false => high = middle,
            }
        }
        Angle::from_millidegrees(low)
    }

    /// Thousandths of a degree off square.
    pub const fn millidegrees(self) -> u32 {
        self.swung
    }

    /// Thousandths of a degree that the blade is tilted.
    pub const fn tilt(self) -> u32 {
        self.tilted
    }

    /// The angle in degrees without needless zeros, `22.5`, or `22.5 tilt 30`, with the decimal sign of the job.
    pub fn degrees(self, decimal: Decimal) -> String {
        let sign = decimal.sign();
        self.both(&|angle: u32| {
            let text = format!("{}{sign}{:03}", angle / 1_000, angle % 1_000);
            text.trim_end_matches('0').trim_end_matches(sign).to_owned()
        })
    }

    /// What is said of the swing and of the tilt, of each where there is any.
    fn both(self, told: &dyn Fn(u32) -> String) -> String {
        let tilt = || format!("tilt {}", told(self.tilted));
        match (self.swung, self.tilted) {
            (_, 0) => told(self.swung),
            (0, _) => tilt(),
            _ => format!("{} {}", told(self.swung), tilt()),
        }
    }

    /// The angle in degrees as a saw can be set to it, rounded to a tenth, with the degree sign: `25.7\u{b0}`.
    pub fn tenths(self, decimal: Decimal) -> String {
        self.both(&|angle: u32| {
            let tenths = (angle + 50) / 100;
            match tenths % 10 {
                0 => format!("{}\u{b0}", tenths / 10),
                tenth => format!("{}{}{tenth}\u{b0}", tenths / 10, decimal.sign()),
            }
        })
    }

    /// `width * tan(angle)`, rounded down to a tick: what a shared cut saves, and how far the short point stands back from the long one.
    pub fn saving(self, width: Length) -> Length {
        match self.swung {
            0 => return Length::ZERO,
            45_000 => return width,
            _ => {}
        }
        let (sine, cosine) = of_millidegrees(self.swung);
        let ticks = i128::from(width.ticks()) * (sine - ERROR) / (cosine + ERROR);
        Length::from_ticks(ticks as i64)
    }

    /// How far the end stands back through a board of this thickness, rounded up to a tick: zero where the blade is upright.
    pub fn through(self, thickness: Length) -> Length {
        if !self.is_tilted() {
            return Length::ZERO;
        }
        let (sine, cosine) = of_millidegrees(self.tilted);
        let divisor = self.cosines(cosine);
        let ticks = (i128::from(thickness.ticks()) * (sine + ERROR) + divisor - 1) / divisor;
        Length::from_ticks(ticks as i64)
    }

    /// `kerf / cos(angle)`, rounded up to a tick: what a cut at this angle takes along the board. With a tilt it is divided by the cosine of that too.
    pub fn kerf(self, kerf: Length) -> Length {
        let divisor = match (self.swung, self.tilted) {
            // The secant of 60 degrees is two. At no other mitre is it rational (Niven 1956).
            (60_000, 0) => return kerf + kerf,
            (swung, 0) => of_millidegrees(swung).1 - ERROR,
            (_, tilted) => self.cosines(of_millidegrees(tilted).1),
        };
        let ticks = (i128::from(kerf.ticks()) * ONE + divisor - 1) / divisor;
        Length::from_ticks(ticks as i64)
    }

    /// The cosine of the swing times one of a tilt, in units of 2^-60 and never above the truth.
    fn cosines(self, of_tilt: i128) -> i128 {
        let (_, cosine) = of_millidegrees(self.swung);
        match self.swung {
            0 => of_tilt - ERROR,
            _ => ((cosine - ERROR) * (of_tilt - ERROR)) >> 60,
        }
    }
}

/// Sine and cosine in units of 2^-60, each within [`ERROR`] of the truth.
fn of_millidegrees(millidegrees: u32) -> (i128, i128) {
    sine_cosine(PI * i128::from(millidegrees) / 180_000)
}

/// Sine and cosine of an angle up to a right one in units of 2^-60.
fn sine_cosine(radians: i128) -> (i128, i128) {
    let square = (radians * radians) >> 60;
    let (mut sine, mut cosine) = (0i128, 0i128);
    let (mut odd, mut even) = (radians, ONE);
    for step in 0..12i128 {
        let sign = if step % 2 == 0 { 1 } else { -1 };
        sine += sign * odd;
        cosine += sign * even;
        even = ((even * square) >> 60) / ((2 * step + 1) * (2 * step + 2));
        odd = ((odd * square) >> 60) / ((2 * step + 2) * (2 * step + 3));
    }
    (sine, cosine)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(millidegrees: u32, width: f64, kerf: f64) {
        // The reference is the platform's own floating tangent and cosine, good to about 1e-15.
        let angle = Angle::from_millidegrees(millidegrees).expect("in range");
        let radians = f64::from(millidegrees) / 1000.0_f64 * std::f64::consts::PI / 180.0;
        let saving = angle
            .saving(Length::from_ticks((width * 3200.0) as i64))
            .ticks() as f64;
        let taken = angle
            .kerf(Length::from_ticks((kerf * 3200.0) as i64))
            .ticks() as f64;
        let (true_saving, true_taken) = (
            (width * 3200.0).floor() * radians.tan(),
            (kerf * 3200.0).floor() / radians.cos(),
        );
        assert!(
            saving <= true_saving + 1e-6 && saving > true_saving - 1.001,
            "{saving} {true_saving}"
        );
        assert!(
            taken >= true_taken - 1e-6 && taken < true_taken + 1.001,
            "{taken} {true_taken}"
        );
    }

    #[test]
    fn savings_round_down_and_kerfs_round_up_by_less_than_a_tick() {
        for millidegrees in [
            100, 1_000, 15_000, 22_500, 30_000, 36_000, 45_000, 60_000, 67_500, 75_000,
        ] {
            case(millidegrees, 95.0, 2.4);
            case(millidegrees, 220.0, 3.2);
        }
    }

    #[test]
    fn a_tilted_blade_takes_more_and_its_end_stands_back_through_the_thickness() {
        // The platform's own sine and cosine are the reference.
        for (swung, tilt) in [
            (0, 30_000),
            (35_264, 30_000),
            (60_000, 45_000),
            (75_000, 60_000),
            (100, 100),
        ] {
            let angle = Angle::tilted(Angle::from_millidegrees(swung), tilt).expect("in range");
            let [swung, tilted] = [swung, tilt].map(|of| (f64::from(of) / 1_000.0).to_radians());
            let (kerf, thick) = (7_680.0, 70.0 * 3_200.0);
            let up = |told: Length, truth: f64| {
                let told = told.ticks() as f64;
                assert!(
                    told >= truth - 1e-6 && told < truth + 1.001,
                    "{told} {truth}"
                );
            };
            up(
                angle.kerf(Length::from_ticks(7_680)),
                kerf / (swung.cos() * tilted.cos()),
            );
            up(
                angle.through(Length::from_mm(70)),
                thick * tilted.tan() / swung.cos(),
            );
        }
        let alone = Angle::tilted(None, 30_000).expect("in range");
        assert_eq!(alone.saving(Length::from_mm(95)), Length::ZERO);
        assert_eq!(Angle::tilted(None, 60_001), None);
        assert_eq!(alone.degrees(Decimal::Comma), "tilt 30");
        assert_eq!(alone.tenths(Decimal::Comma), "tilt 30\u{b0}");
    }

    #[test]
    fn the_angle_of_a_slope_is_the_nearest_thousandth() {
        let of = |rise, run| {
            let [rise, run] = [rise, run].map(Length::from_mm);
            Angle::of_slope(rise, run).map(Angle::millidegrees)
        };
        // The platform's own arcus tangens is the reference.
        for (rise, run) in [(1, 5), (3, 4), (7, 12), (12, 7), (1, 40), (260, 100)] {
            let degrees = (rise as f64 / run as f64).atan().to_degrees();
            assert_eq!(of(rise, run), Some((degrees * 1_000.0).round() as u32));
        }
        assert_eq!(of(1, 1), Some(45_000));
        assert_eq!(of(0, 1), None);
        assert_eq!(of(4, 1), None);
    }

    #[test]
    fn trade_values_for_mitred_ends_hold() {
        // Own arithmetic from w tan t and k / cos t: w 95 at 22.5 is 39.35 mm; w 70 at 30 is 40.41; k 2.4 at 45 is 3.394.
        let round = |length: Length| (length.ticks() * 1_000 / 3_200 + 5) / 10;
        let angle = |millidegrees| Angle::from_millidegrees(millidegrees).expect("in range");
        assert_eq!(round(angle(22_500).saving(Length::from_mm(95))), 3_935);
        assert_eq!(round(angle(30_000).saving(Length::from_mm(70))), 4_041);
        assert_eq!(round(angle(45_000).kerf(Length::from_ticks(7_680))), 339);
        assert_eq!(
            angle(45_000).saving(Length::from_mm(95)),
            Length::from_mm(95)
        );
        assert_eq!(
            angle(60_000).kerf(Length::from_ticks(7_680)),
            Length::from_ticks(15_360)
        );
        assert_eq!(angle(22_500).degrees(Decimal::Point), "22.5");
        assert_eq!(angle(22_500).degrees(Decimal::Comma), "22,5");
        assert_eq!(angle(45_000).degrees(Decimal::Comma), "45");
    }
}
