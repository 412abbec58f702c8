//! The job as written: every field is the text a person typed, or absent.
//!
//! Both the job file and a parts table become a [`JobDraft`], so there is one validation. Row `n` of a list here is row `n` of the
//! list the person sees, which is what makes a fault's place true.

/// A job as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobDraft {
    /// What the piece is called.
    pub piece: Option<String>,
    /// `mm`, `cm`, `m`, `in`, `ft`.
    pub unit: Option<String>,
    /// `point` or `comma`.
    pub decimal: Option<String>,
    /// The finest step readings are printed to, a length.
    pub step: Option<String>,
    /// `fewest`, `cheapest`, `shortest`.
    pub aim: Option<String>,
    /// The longest length the vehicle carries.
    pub carry: Option<String>,
    /// The mass the vehicle may carry.
    pub payload: Option<String>,
    /// The saw.
    pub saw: SawDraft,
    /// The sections.
    pub sections: Vec<SectionDraft>,
    /// The yard.
    pub yard: Vec<YardDraft>,
    /// The shed.
    pub shed: Vec<ShedDraft>,
    /// Parts written by hand.
    pub parts: Vec<PartDraft>,
    /// Set-outs.
    pub set_outs: Vec<SetOutDraft>,
    /// Rules of the quantities, by name, in the order written.
    pub quantities: Vec<(String, String)>,
    /// Lists that were left unread because they have more rows than a job may have, and how many.
    pub unread: Vec<(&'static str, usize)>,
}

/// The saw as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SawDraft {
    /// Width of a square cut.
    pub kerf: Option<String>,
    /// The shortest offcut worth keeping.
    pub keep: Option<String>,
}

/// A section as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SectionDraft {
    /// Its name.
    pub name: Option<String>,
    /// Thickness.
    pub thickness: Option<String>,
    /// Overall width.
    pub width: Option<String>,
    /// Cover width.
    pub cover: Option<String>,
    /// `yes`, `no`, `unknown`.
    pub treated: Option<String>,
    /// `yes`, `no`.
    pub turnable: Option<String>,
    /// Kilograms per cubic metre.
    pub density: Option<String>,
    /// End trim of a new length: one length for both ends, or two parted by a semicolon (datum end; far end).
    pub trim: Option<String>,
    /// The shortest offcut worth keeping.
    pub keep: Option<String>,
}

/// A length of the yard as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct YardDraft {
    /// Name of its section.
    pub section: Option<String>,
    /// Its length.
    pub length: Option<String>,
    /// What one costs.
    pub price: Option<String>,
    /// How many there are.
    pub count: Option<String>,
}

/// A board of the shed as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShedDraft {
    /// The mark on its end.
    pub mark: Option<String>,
    /// Name of its section.
    pub section: Option<String>,
    /// Measured length.
    pub length: Option<String>,
    /// Bad stretches: `400..460; 1200..1250`, from the datum end.
    pub bad: Option<String>,
    /// End trims, as in a section.
    pub trim: Option<String>,
    /// Anything worth remembering.
    pub note: Option<String>,
}

/// A part as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartDraft {
    /// What it is called.
    pub label: Option<String>,
    /// Name of its section, or several parted by semicolons.
    pub section: Option<String>,
    /// Long-point length.
    pub length: Option<String>,
    /// How many.
    pub quantity: Option<String>,
    /// `square`, an angle off square for both ends, or two parted by a semicolon (datum end; far end).
    pub ends: Option<String>,
    /// `free` or `between others`.
    pub goes: Option<String>,
}

/// A set-out as written: its name, its kind and its own fields by name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SetOutDraft {
    /// What it is called; other set-outs refer to its sizes by this name.
    pub name: Option<String>,
    /// Which calculation it is.
    pub kind: Option<String>,
    /// The other fields, in the order written.
    pub fields: Vec<(String, String)>,
}
