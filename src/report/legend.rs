//! Which letter, colour and texture each part has in every drawing.
//!
//! Parts are never told apart by colour alone: each has its letter too, and in black and white its texture. The eight colours are our own.
//! They are alike in lightness, so that letters read on all of them, and differ in hue for the common kinds of colour blindness.

/// A part as the drawings show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LegendRow {
    /// Its letter.
    pub letter: String,
    /// The keys of the rows of the cutting list that come out of it, one for each strip in it.
    pub keys: Vec<String>,
    /// Its label.
    pub label: String,
    /// Its length.
    pub length: String,
    /// Its colour.
    pub colour: &'static str,
    /// Its texture in a word.
    pub texture: &'static str,
    /// Its colour, texture and letter, as they look in a drawing.
    pub swatch: String,
    /// How many are cut.
    pub count: u32,
}

/// Light, as the paper of every drawing is.
pub(super) const COLOURS: [&str; 8] = [
    "#a8c6ee", "#f3cd7a", "#9fd9c4", "#e3b4da", "#f4b09a", "#d3d99a", "#c9ced8", "#e8cdb0",
];

/// How a part is textured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Texture {
    Plain,
    Upright,
    Rising,
    Falling,
    Level,
    Squares,
    Diamonds,
}

const TEXTURES: [Texture; 7] = [
    Texture::Plain,
    Texture::Rising,
    Texture::Upright,
    Texture::Falling,
    Texture::Level,
    Texture::Squares,
    Texture::Diamonds,
];

impl Texture {
    pub(super) fn word(self) -> &'static str {
        match self {
            Texture::Plain => "plain",
            Texture::Upright => "upright lines",
            Texture::Rising => "rising lines",
            Texture::Falling => "falling lines",
            Texture::Level => "level lines",
            Texture::Squares => "squares",
            Texture::Diamonds => "diamonds",
        }
    }
}

/// Eight colours and seven textures (coprime numbers), each taken in turn, so the first 56 parts all differ.
pub(super) fn colour(part: usize) -> usize {
    part % COLOURS.len()
}

pub(super) fn texture(part: usize) -> Texture {
    TEXTURES[part % TEXTURES.len()]
}
