//! A saw that is set as the sheet says. The board lies with its marked edge towards the person and its face up throughout.

use std::collections::HashMap;

/// How the saw is set for a slanted cut.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Set {
    /// Whether it leans to the right as it goes away; nothing where the saw stands square across.
    right: Option<bool>,
    /// Whether a tilted blade leans away from the datum at the top; nothing where it is upright.
    tips: Option<bool>,
    /// The angles as the sheet has them.
    angle: String,
}

/// The saw as it is set for slanted cuts.
#[derive(Default)]
pub struct Saw {
    set: Option<Set>,
}

impl Saw {
    /// Sets the saw as a step of a slanted cut says, and compares the cut with the wanted end: the mark is on the edge of the long point.
    pub fn cut(&mut self, step: &HashMap<String, String>) {
        if step["kind"] != "mitre" {
            return;
        }
        let (way, setting) = step["turn"].split_once(": ").expect("a way and a setting");
        let (lean, angle) = match setting.split_once(" at ") {
            Some((lean, angle)) => (Some(lean == "/"), angle),
            None => (None, setting),
        };
        let beyond = step["side"] == "saw on the far side of the mark";
        let point = &step["long edge"];
        // A part that lies before the cut is long on the edge away where the cut leans to the right, one behind it on the marked edge; and on the
        // upper face where the blade leans away at the top, or towards the datum.
        let edges = ["marked edge", "unmarked edge"].map(|edge| {
            let told = point.strip_prefix("long point on the ").expect("an edge");
            told.split(", ").any(|word| word == edge)
        });
        let faces = ["upper face", "lower face"].map(|face| point.ends_with(face));
        let wanted = Set {
            right: (edges != [false; 2]).then_some(beyond == edges[1]),
            tips: (faces != [false; 2]).then_some(beyond == faces[0]),
            angle: angle.to_owned(),
        };
        assert_eq!(lean, wanted.right, "{way}: drawn the other way");
        assert_eq!(angle.contains("tilt"), wanted.tips.is_some(), "{point}");
        assert_eq!(angle.starts_with("tilt"), lean.is_none(), "{point}");
        let set = match (way, self.set.take()) {
            ("swing the saw off square so", None | Some(Set { right: None, .. })) => wanted.clone(),
            ("saw square across", before) => {
                assert_eq!(wanted.right, None, "square across");
                assert_ne!(before.as_ref(), Some(&wanted), "it is set so");
                wanted.clone()
            }
            ("leave the saw as it is", Some(before)) => before,
            ("the same way, another angle", Some(before)) => {
                assert_ne!(before.angle, angle, "another angle");
                let right = before.right;
                Set {
                    right,
                    ..wanted.clone()
                }
            }
            ("the same way, the blade tilted to the other side", Some(before)) => Set {
                tips: before.tips.map(|tips| !tips),
                ..before
            },
            ("swing the saw to the other side", Some(before)) => {
                let right = before.right.map(|right| !right);
                Set {
                    right,
                    ..wanted.clone()
                }
            }
            (other, set) => panic!("{other} from {set:?}"),
        };
        assert_eq!(set, wanted, "{way}: the cut leans the wrong way");
        self.set = Some(set);
    }
}
