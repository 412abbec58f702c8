//! The arguments of `lengthwise plan`.

use std::path::PathBuf;

/// The limit of planning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// Milliseconds for planning and the check of the plan together.
    Milliseconds(u64),
    /// How often the search of each group may check the clock; no limit in time.
    Looks(u64),
}

/// The limit where none is given: a minute.
impl Default for Allowed {
    fn default() -> Self {
        Allowed::Milliseconds(60_000)
    }
}

/// How a job is to be planned.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct PlanAsked {
    /// The job file.
    pub job: PathBuf,
    /// How long it may take.
    pub allowed: Allowed,
    /// A table of more parts.
    pub parts: Option<PathBuf>,
    /// A table of more lengths at the yard.
    pub prices: Option<PathBuf>,
    /// Where to write the plan.
    pub json: Option<PathBuf>,
    /// Where to write the drawing.
    pub svg: Option<PathBuf>,
    /// Where to write the saw sheet as a table.
    pub csv: Option<PathBuf>,
    /// Where to write the picture.
    pub picture: Option<PathBuf>,
}

impl PlanAsked {
    /// Whether any file is named but the job's.
    pub fn has_files(&self) -> bool {
        let named = [
            &self.parts,
            &self.prices,
            &self.json,
            &self.svg,
            &self.csv,
            &self.picture,
        ];
        named.into_iter().any(Option::is_some)
    }
}
