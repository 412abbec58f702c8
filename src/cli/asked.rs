//! What is asked of a plan.

use std::path::PathBuf;

/// How long a plan may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// So many milliseconds, the check of the plan in them.
    Milliseconds(u64),
    /// So many looks of the search of each group, and no clock.
    Looks(u64),
}

/// What a plan may take where nothing is said: a minute.
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
    /// Where to write the plan.
    pub json: Option<PathBuf>,
    /// Where to write the drawing.
    pub svg: Option<PathBuf>,
    /// Where to write the saw sheet as a table.
    pub csv: Option<PathBuf>,
}
