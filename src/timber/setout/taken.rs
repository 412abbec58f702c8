//! Which sizes of a set-out are those of the face it stands on.

use super::kinds::Kind;
use super::sizes::Sizes;

impl Kind {
    /// Whether a field holds a size that is taken from a face where it is empty.
    pub fn takes(self, field: &str) -> bool {
        sized(self, false).contains(&Some(field))
    }
}

/// The fields that hold a set-out's size along and up the face it stands on. `pales` says whether slats are such.
pub const fn sized(kind: Kind, pales: bool) -> [Option<&'static str>; 2] {
    match kind {
        Kind::Frame | Kind::Boarding | Kind::Brace | Kind::Lattice | Kind::Sheet => {
            [Some("width"), Some("height")]
        }
        Kind::Gate => [Some("opening"), Some("height")],
        Kind::Box | Kind::MitredFrame | Kind::Posts | Kind::Stand => [Some("width"), Some("depth")],
        Kind::TopFrame | Kind::Rafters => [Some("length"), Some("depth")],
        Kind::Slats if pales => [Some("span"), Some("length")],
        Kind::Slats => [Some("length"), Some("span")],
        Kind::Spaced => [Some("span"), Some("height")],
        Kind::FreeParts | Kind::Fence => [Some("length"), None],
        Kind::Trestle => [Some("length"), Some("spread")],
        Kind::Polygon | Kind::Staves | Kind::Hopper => [None, None],
    }
}

/// The same with the sizes it has over all, where they can be more.
pub const fn over_all(kind: Kind, pales: bool) -> [Option<&'static str>; 2] {
    match kind {
        Kind::Boarding => [None, Some("boarded height")],
        Kind::MitredFrame => [Some("long point width"), Some("long point depth")],
        Kind::Slats if pales => [Some("covered span"), Some("slat length")],
        Kind::Slats => [Some("slat length"), Some("covered span")],
        _ => [None, None],
    }
}

/// Whether slats are pales, which stand.
pub fn are_pales(sizes: &Sizes) -> bool {
    sizes.choice("use", [false, true])
}

/// Which of its sizes are those of the face it stands on and which are typed, to be added to what it makes.
pub fn told(kind: Kind, sizes: &Sizes) -> String {
    let fields = sized(kind, are_pales(sizes)).into_iter().flatten();
    let (typed, taken): (Vec<&str>, Vec<&str>) =
        fields.partition(|field| sizes.written.contains(field));
    let faces: Vec<&str> = sizes.text("on").split(';').map(str::trim).collect();
    let faces = faces.join(" and ");
    let mut told = match taken.is_empty() {
        true => format!("; on {faces}"),
        false => format!("; {} of {faces}", taken.join(" and ")),
    };
    if !typed.is_empty() {
        told += &format!(", {} typed", typed.join(" and "));
    }
    for (field, from) in [
        ("along", "from the left edge of the face".to_owned()),
        (
            "up",
            format!("from the {} of the face", sizes.stands.lower_edge()),
        ),
        ("off", "off the face".to_owned()),
    ] {
        let given = sizes.given(field).filter(|length| !length.is_none());
        if let Some(length) = given {
            told += &format!(", {} {from}", sizes.show(length));
        }
    }
    told
}

/// Whether a field holds a size that is taken from a face.
pub fn is_taken(kind: Kind, sizes: &Sizes, field: &str) -> bool {
    let fields = sized(kind, are_pales(sizes));
    !sizes.stands.on.is_empty() && fields.contains(&Some(field)) && !sizes.written.contains(field)
}
