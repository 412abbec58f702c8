//! Other names for the parts of a set-out: `post = leg; top rail = ledge`.

use super::worked::{Misfit, Worked};
use crate::lower::lower;
use crate::shown;

/// The field they are written in.
pub const FIELD: &str = "called";

/// Usual names, each with the person's own.
pub struct Names(Vec<[String; 2]>);

impl Names {
    /// Reads them; an empty text has none.
    ///
    /// # Errors
    /// A name without its pair.
    pub fn read(text: &str) -> Result<Names, Misfit> {
        let pairs = text.split(';').filter(|pair| !pair.trim().is_empty());
        let read = |pair: &str| {
            let (usual, own) = pair.split_once('=')?;
            let [usual, own] = [usual, own].map(|name| shown::line(name).trim().to_owned());
            (!usual.is_empty() && !own.is_empty()).then(|| [lower(&usual), own])
        };
        let names: Option<Vec<[String; 2]>> = pairs.map(read).collect();
        names.map(Names).ok_or_else(|| {
            Misfit::new(
                FIELD,
                "write the usual name, an equals sign and yours, such as post = leg; rail = ledge",
            )
        })
    }

    /// What is called so by the person: whole words alone are another name's.
    pub fn called(&self, label: &str) -> String {
        let mut label = format!(" {label} ");
        for [usual, own] in &self.0 {
            label = label.replace(&format!(" {usual} "), &format!(" {own} "));
        }
        label.trim().to_owned()
    }

    /// Names the parts, marks and joints.
    ///
    /// # Errors
    /// A usual name that no part has.
    pub fn name(&self, worked: &mut Worked) -> Result<(), Misfit> {
        for [usual, _] in &self.0 {
            let has = |label: &str| format!(" {label} ").contains(&format!(" {usual} "));
            let mut labels: Vec<&str> = worked.parts.iter().map(|part| &*part.label).collect();
            if !labels.iter().any(|label| has(label)) {
                labels.dedup();
                let message = format!(
                    "no part here is called \"{usual}\"; there are {}",
                    labels.join(", ")
                );
                return Err(Misfit::new(FIELD, message));
            }
        }
        let parts = worked.parts.iter_mut().map(|part| &mut part.label);
        let joints = worked.joints.iter_mut().map(|joint| &mut joint.what);
        for text in parts.chain(joints) {
            *text = self.called(text);
        }
        for positions in &mut worked.positions {
            positions.title = self.called(&positions.title);
            positions.datum = self.called(&positions.datum);
            for mark in &mut positions.marks {
                mark.label = self.called(&mark.label);
            }
        }
        Ok(())
    }
}
