//! A saw that is set as the sheet says, and the board that is turned at it.

use lengthwise::job::Turnable;
use std::collections::HashMap;

/// The saw and the board as they are set for slanted cuts. The saw stays as it is set first; seen from the person, turning the board over makes the
/// same setting lean the other way.
#[derive(Default)]
pub struct Saw {
    /// Which way the setting leans, and the angle it is set to.
    set: Option<(bool, String)>,
    turned: bool,
}

impl Saw {
    /// Does what a step says of a slanted cut, and holds what comes out against what is wanted: the mark is on the edge of the long point.
    pub fn cut(&mut self, step: &HashMap<String, String>, turnable: Turnable) {
        if step["kind"] != "mitre" {
            return;
        }
        let (angle, way) = step["turn"].split_once(", ").expect("an angle and a way");
        let leans = (step["side"] == "saw on the far side of the mark")
            == (step["long edge"] == "long point on the far edge");
        match way {
            "this way first" => assert!(self.set.is_none(), "{way} again"),
            "as before, do not turn" => {
                let set = self.set.as_ref().map(|(_, angle)| angle.as_str());
                assert_eq!(set, Some(angle), "as before, at another angle");
            }
            "the same way, do not turn" => {}
            "turn the board over, datum end where it is, or swing the saw to the other side" => {
                assert_eq!(turnable, Turnable::Yes);
                self.turned = !self.turned;
            }
            "swing the saw to the other side, do not turn the board" => {
                let (set, _) = self.set.as_mut().expect("a saw that is set");
                *set = !*set;
            }
            other => panic!("{other}"),
        }
        let set = self.set.as_ref().map_or(leans, |(set, _)| *set);
        assert_eq!(
            set != self.turned,
            leans,
            "{angle}, {way}: the cut leans the wrong way"
        );
        self.set = Some((set, angle.to_owned()));
    }
}
