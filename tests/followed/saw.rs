//! A saw that is set as the sheet says. The board lies with its marked edge towards the person and its face up throughout.

use std::collections::HashMap;

/// The saw as it is set for slanted cuts.
#[derive(Default)]
pub struct Saw {
    /// Whether the setting leans to the right as it goes away, and the angle it is set to.
    set: Option<(bool, String)>,
}

impl Saw {
    /// Sets the saw as a step of a slanted cut says, and compares the cut with the wanted end: the mark is on the edge of the long point.
    pub fn cut(&mut self, step: &HashMap<String, String>) {
        if step["kind"] != "mitre" {
            return;
        }
        let (way, setting) = step["turn"].split_once(": ").expect("a way and a setting");
        let (lean, angle) = setting.split_once(" at ").expect("a lean and an angle");
        // A part that lies before the cut is long on the edge away where the cut leans to the right, one behind it on the marked edge.
        let leans = (step["side"] == "saw on the far side of the mark")
            == (step["long edge"] == "long point on the unmarked edge");
        let set = match (way, self.set.take()) {
            ("swing the saw so", None) => lean == "/",
            ("leave the saw as it is", Some((set, before))) => {
                assert_eq!(before, angle, "as it is, at another angle");
                set
            }
            ("the same way, another angle", Some((set, before))) => {
                assert_ne!(before, angle, "another angle");
                set
            }
            ("swing the saw to the other side", Some((set, _))) => !set,
            (other, set) => panic!("{other} from {set:?}"),
        };
        assert_eq!(set, lean == "/", "{way}: drawn the other way");
        assert_eq!(set, leans, "{way}: the cut leans the wrong way");
        self.set = Some((set, angle.to_owned()));
    }
}
