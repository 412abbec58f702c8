//! The sizes used where a person gives none: one for a metric tape and one for an imperial one, so that an inch job has inch sizes.
//!
//! Where no source is named, the size is common practice.

use crate::length::Length;

/// A usual size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usual {
    /// In a metric job.
    pub metric: Length,
    /// In a job in inches or feet.
    pub imperial: Length,
}

impl Usual {
    /// The size for a tape.
    pub const fn on(self, imperial: bool) -> Length {
        if imperial { self.imperial } else { self.metric }
    }
}

const fn usual(metric_tenths: i64, imperial_64ths: i64) -> Usual {
    Usual {
        metric: Length::from_ticks(metric_tenths * 320),
        imperial: Length::from_inch_64ths(imperial_64ths),
    }
}

/// The finest marks on ordinary tapes: half a millimetre, or a sixteenth.
pub const STEP: Usual = usual(5, 4);
/// A gate higher than this has three hinges.
pub const HIGH_LEAF: Usual = usual(15_000, 60 * 64);
/// The saw's kerf: a thin blade of 2.4 mm, or 1/8 in.
pub const KERF: Usual = usual(24, 8);
/// The shortest offcut worth keeping: 300 mm, or a foot.
pub const KEEP: Usual = usual(3_000, 12 * 64);
/// The narrowest strip left from ripping that is worth keeping: 25 mm, or 1 in.
pub const KEEP_WIDTH: Usual = usual(250, 64);
/// What is trimmed off to square the end of a new length: 10 mm, or 1/2 in.
pub const TRIM: Usual = usual(100, 32);
/// How far off its reading a cut at the yard may come out: 10 mm, or 1/2 in.
pub const YARD_TOLERANCE: Usual = usual(100, 32);
/// Sizes are tried one by one in whole steps: a millimetre, or a sixteenth of an inch.
pub const TRIAL_STEP: Usual = usual(10, 4);
/// The readings that a yard saws at are whole ones: a centimetre, or half an inch.
pub const YARD_READING: Usual = usual(100, 32);
/// The least of a lapped board between its lap and its edge, for the nail that holds it: 25 mm, or 1 in, as a shiplap board is nailed that far
/// from its edges (RMIT University, teaching notes on timber weatherboards).
pub const HOLD: Usual = usual(250, 64);
/// What is trimmed off to clear grit and checks from the end of a board in the shed: 50 mm, or 2 in.
pub const SHED_TRIM: Usual = usual(500, 2 * 64);
/// Parts shorter than this are cut from a long board and never held by hand: 300 mm, or 12 in. HSE names a zone of 300 mm either side of a
/// cross-cut saw's blade; it is twice the distance that hands keep from a blade.
pub const SHORT: Usual = usual(3_000, 12 * 64);
