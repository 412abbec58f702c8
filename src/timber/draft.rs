//! The job as written: every field is the text a person typed, or absent.
//!
//! Both the job file and a parts table become a [`JobDraft`], so there is one validation. Row `n` of a list here is row `n` of the
//! list the person sees, which is what makes a fault's place true.
//!
//! The tables below are the fields of the job file, each once: reader, writer, limits, schema and the forms of the page follow from them. A
//! field is added by one line here, and the code that uses it.

use crate::fields::{Field, Holds, Row, Said, rows};
use crate::limits;
use crate::part::{FACES, Fitting, HANDS, Keeps, Leans, MadeFrom};
use crate::section::{EdgeJoint, Sides};

const YES: bool = true;
const NO: bool = false;

/// A job as written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobDraft {
    /// What is written of the job itself.
    pub own: OwnDraft,
    /// The saw.
    pub saw: SawDraft,
    /// The sections.
    pub sections: Vec<SectionDraft>,
    /// The yard.
    pub yard: Vec<YardDraft>,
    /// The yards and their terms.
    pub yards: Vec<TermsDraft>,
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

const UNITS: &[(&str, &str)] = &[
    ("mm", "millimetres"),
    ("cm", "centimetres"),
    ("m", "metres"),
    ("in", "inches"),
    ("ft", "feet"),
];
const DECIMALS: &[(&str, &str)] = &[("point", "point: 2.4"), ("comma", "comma: 2,4")];
const AIMS: &[(&str, &str)] = &[
    ("fewest", "Fewest lengths"),
    ("cheapest", "Least money"),
    ("shortest", "Metres bought"),
    ("offcuts", "Fewest lengths, long offcuts"),
    ("scrap", "Least scrap"),
];
const TREATED: &[(&str, &str)] = &[("no", "no"), ("yes", "yes"), ("unknown", "unknown")];
/// Nothing said is the first.
const BOARD_TREATED: &[(&str, &str)] = &[
    ("as its section", "as its section"),
    TREATED[0],
    TREATED[1],
    TREATED[2],
];
const SIDES: &[(&str, &str)] = &[
    (Sides::WORDS[0].0, "alike"),
    (Sides::WORDS[1].0, "different"),
];
const LEANS: &[(&str, &str)] = &[
    (Leans::WORDS[0].0, "opposite ways: a frame, a cap"),
    (Leans::WORDS[1].0, "the same way: a brace, a rafter"),
    (Leans::WORDS[2].0, "the same way, its mirror image"),
];
const JOINTS: &[(&str, &str)] = &[
    ("by cover", "as the cover says"),
    (EdgeJoint::WORDS[0].0, "square"),
    (EdgeJoint::WORDS[1].0, "tongued"),
    (EdgeJoint::WORDS[2].0, "rebated, as shiplap"),
    (EdgeJoint::WORDS[3].0, "lapped, as feather edge"),
];
const KEEPS: &[(&str, &str)] = &[
    (Keeps::WORDS[0].0, "either"),
    (Keeps::WORDS[1].0, "towards the next, as a first board"),
    (Keeps::WORDS[2].0, "towards the one before, as a last board"),
];
const GOES: &[(&str, &str)] = &[
    (Fitting::WORDS[0].0, "free"),
    (Fitting::WORDS[1].0, "between others"),
    (Fitting::WORDS[2].0, "in the ground, as a post"),
];
const FROM: &[(&str, &str)] = &[
    (MadeFrom::WORDS[0].0, "anything"),
    (MadeFrom::WORDS[1].0, "new timber only"),
    (MadeFrom::WORDS[2].0, "shed boards only"),
];
const HAND: &[(&str, &str)] = &[(HANDS[0].0, "as drawn"), (HANDS[1].0, "left and right")];
/// Nothing said is the first.
pub const RIPS_WORDS: [(&str, bool); 2] = [("yes", true), ("no", false)];
const RIPS: &[(&str, &str)] = &[
    (RIPS_WORDS[0].0, "yes"),
    (RIPS_WORDS[1].0, "no, it cuts across only"),
];
const FACE: &[(&str, &str)] = &[(FACES[0].0, "either"), (FACES[1].0, "good face out")];
/// Nothing said is the first. With each whether the datum end is a factory end, and whether the far end is.
pub const FACTORY_ENDS: [(&str, [bool; 2]); 4] = [
    ("none", [false, false]),
    ("datum end", [true, false]),
    ("far end", [false, true]),
    ("both", [true, true]),
];
const ENDS: &[(&str, &str)] = &[
    (FACTORY_ENDS[0].0, "none"),
    (FACTORY_ENDS[1].0, "the datum end"),
    (FACTORY_ENDS[2].0, "the far end"),
    (FACTORY_ENDS[3].0, "both"),
];
/// Nothing said is the first.
pub const COUNTS_AS: [&str; 2] = ["a shed board", "new timber"];
const PRICES: &[(&str, &str)] = &[
    (PRICES_WORDS[0].0, "with the tax in"),
    (PRICES_WORDS[1].0, "without it: it comes on top"),
];
/// Nothing said is the first. With each whether the tax comes on top.
pub const PRICES_WORDS: [(&str, bool); 2] = [("with tax", false), ("without tax", true)];
const COUNTS: &[(&str, &str)] = &[(COUNTS_AS[0], "a shed board"), (COUNTS_AS[1], "new timber")];

rows! {
    /// The job's own fields, as written.
    OwnDraft {
        piece: Holds::Text, NO, NAME, "Name of the piece", "", "What is being built.";
        unit: Holds::Word(UNITS), NO, FIELD, "Numbers without a unit are", "",
            "The unit of numbers without one, and of everything printed; mm where nothing is said.";
        decimal: Holds::Word(DECIMALS), NO, FIELD, "Decimal sign", "",
            "The decimal sign; a point where nothing is said.";
        step: Holds::Length, NO, FIELD, "Finest step of a tape reading", "such as 0.5, 1 or 1/16\"",
            "The finest step tape readings are printed to: 0.5 mm, or 1/16 in, where nothing is said.";
        aim: Holds::Word(AIMS), NO, FIELD, "What the plan makes smallest", "",
            "What the plan makes smallest first: lengths bought, money, or metres bought; fewest where nothing is said. With offcuts it buys as with fewest, and leaves an offcut as long as it can in place of the least scrap.";
        carry: Holds::Length, NO, FIELD, "Carry length", "longest your vehicle takes; longer ones are cut once at the yard",
            "The longest length the vehicle carries. Longer ones are planned with one cut at the yard.";
        yard_tolerance: Holds::Length, NO, FIELD, "Yard's cut within", "how far off its reading a cut at the yard may come out",
            "How far off its reading a cut at the yard may come out without a part being short; 10 mm, or 1/2 in, where nothing is said.";
        yard_trim: Holds::Length, NO, FIELD, "Trim of a yard-sawn end", "what squares an end that the yard sawed, saw cut included",
            "What is trimmed off each of the two ends that the yard's cut makes, saw cut included; the section's end trims where nothing is said.";
        buy_at: Holds::Text, NO, LIST, "Buy at", "names of yards, parted by semicolons; all of them where nothing is said",
            "The yards that timber is bought at, parted by semicolons; all of them where nothing is said.";
        payload: Holds::Mass, NO, FIELD, "Payload",
            "what your vehicle may carry besides its people: kilograms, or pounds where numbers without a unit are inches or feet",
            "What the vehicle may carry besides its people: kilograms, or pounds where the unit of the job is inches or feet.";
        door: Holds::Length, NO, FIELD, "Narrowest door on its way", "the quantities say whether the piece goes through",
            "The clear width of the narrowest door that the finished piece has to go through; the quantities then say whether it does.";
    }
}

rows! {
    /// The saw as written.
    SawDraft {
        kerf: Holds::Length, NO, FIELD, "Kerf", "width of the slot your saw leaves; cut a scrap and measure it",
            "Width of a square cut; 2.4 mm, or 1/8 in, where nothing is said. Measure your own blade's slot.";
        keep: Holds::Length, NO, FIELD, "Keep length", "shortest offcut worth keeping",
            "The shortest offcut worth keeping; 300 mm, or 12 in, where nothing is said. Less than a step of the tape is never kept.";
        rips: Holds::Word(RIPS), NO, FIELD, "Saw rips", "a mitre saw never does",
            "Whether narrow parts are ripped out of their boards here: yes, where nothing is said, or no, as where there is only a saw for cutting across. Then each narrow part takes a board's width to itself and is left as wide as that, to be ripped where there is a saw for it.";
        keep_width: Holds::Length, NO, FIELD, "Keep width", "narrowest strip left from ripping worth keeping",
            "The narrowest strip left from ripping that is worth keeping, where it is as long as an offcut has to be; 25 mm, or 1 in, where nothing is said.";
    }
}

rows! {
    /// A section as written.
    SectionDraft {
        name: Holds::Text, YES, NAME, "Section", "", "What parts, yard and shed call it. No semicolons.";
        thickness: Holds::Length, NO, FIELD, "Thickness", "", "Real thickness.";
        width: Holds::Length, NO, FIELD, "Width", "", "Real overall width; needed for mitres.";
        cover: Holds::Length, NO, FIELD, "Cover width", "what a tongued or lapped board covers",
            "Width a laid board covers, for tongued, rebated and lapped boards; for lapped ones their width less the least lap.";
        joint: Holds::Word(JOINTS), NO, FIELD, "Its edges meet", "tongued where the cover is under the width, unless you say otherwise",
            "How the edges of boards side by side meet: square; tongued and grooved; rebated, a rebate over a rebate; or lapped, feather-edged or plain boards over each other. Where nothing is said they are tongued where the cover width is under the width, and square otherwise.";
        measured: Holds::Length, NO, FIELD, "Width measured at the yard", "where its boards measure other than the width above",
            "Overall width as the boards in hand measure. Everything is planned with it in place of the width, and the cover width changes by as much.";
        treated: Holds::Word(TREATED), NO, FIELD, "Treated", "",
            "Preservative-treated; unknown counts as treated in every caution.";
        faces: Holds::Word(SIDES), NO, FIELD, "Its two faces", "different where only one is fit to be seen",
            "Whether the two faces are alike; different where only one is fit to be seen. A part is then never turned over.";
        edges: Holds::Word(SIDES), NO, FIELD, "Its two edges", "different for moulded, rounded or tongued boards",
            "Whether the two edges are alike; different for moulded, rounded or tongued sections. A part then keeps its edge.";
        density: Holds::Count, NO, FIELD, "Density, kg per cubic metre", "", "Kilograms per cubic metre.";
        trim: Holds::TwoLengths, NO, FIELD, "End trim of a new length", "one length, or datum end; far end",
            "End trim of new lengths, saw cut included; 10 mm, or 1/2 in, where nothing is said.";
        keep: Holds::Length, NO, FIELD, "Keep length", "shortest offcut worth keeping",
            "The shortest offcut of this section worth keeping; the saw's where nothing is said.";
        spares: Holds::Count, NO, FIELD, "Spare pieces", "each long enough for its longest part",
            "How many pieces in reserve are planned with the parts, each as long as the longest part of this section: none where nothing is said.";
        hidden_defects: Holds::Count, NO, FIELD, "Hidden defects, %", "the share of what you buy that usually turns out bad",
            "The share of the timber bought that usually turns out to be bad, in per cent; zero where nothing is said. So many spare pieces more are planned as make up for it: of a share w of what is bought, w / (1 - w) of what the parts take.";
        sold_as: Holds::Sides, NO, FIELD, "Sold as", "the size that prices per volume count, such as 50 x 100 or 2\" x 4\"",
            "Thickness and width by which it is sold, such as 50 x 100 or 2\" x 4\": prices per cubic metre or board foot count them. Its real size where nothing is said.";
        allowed: Holds::Count, NO, FIELD, "May buy, lengths", "more than the fewest, where that costs less",
            "How many lengths of it may be bought where more than the fewest cost less: of all plans that buy no more, the cheapest, or where scrap comes first the one of the least scrap. Where so few will not do, as few more as will. Of sections planned together all such numbers are added up. The aim alone decides where nothing is said.";
        allowed_timber: Holds::Length, NO, FIELD, "May buy, timber in all", "",
            "How much timber of it may be bought in all, in the same way.";
    }
}

rows! {
    /// A length of the yard as written.
    YardDraft {
        section: Holds::Section, YES, NAME, "Section", "", "Name of its section; may be left out where there is only one.";
        length: Holds::Length, YES, FIELD, "Length", "", "Its length.";
        price: Holds::Price, NO, FIELD, "Price", "of one, or as 4.20 per m, per ft, per m3, per MBF",
            "What one costs, at most 1 000 000.00; or a price per unit: 4.20 per m, 1.28 per ft, 500 per m3, 620 per MBF (a thousand board feet) or per BF. Such a price is rounded half up to a whole hundredth a length.";
        count: Holds::Count, NO, FIELD, "Stock", "", "How many there are; as many as wanted where nothing is said. Of what is sold in packs, how many packs.";
        pack: Holds::Count, NO, FIELD, "Sold in packs of", "the price is then of a pack", "How many come in a pack, where it is sold in whole packs; the price is then of a pack, or per unit of all the timber in it.";
        yard: Holds::Text, NO, NAME, "Yard", "", "Name of the yard that sells it; may be left out where there is one or none.";
    }
}

rows! {
    /// A yard and its terms as written.
    TermsDraft {
        name: Holds::Text, NO, NAME, "Yard", "", "What it is called; may be left out where there is only one.";
        tax: Holds::Money, NO, FIELD, "Tax, percent", "", "Tax on its prices in percent, with at most two decimals.";
        prices: Holds::Word(PRICES), NO, FIELD, "Its prices are", "",
            "Whether its prices, charges and fees are with the tax in, where nothing is said, or without it, so that it comes on top.";
        delivery: Holds::Money, NO, FIELD, "Delivery", "what it charges to deliver an order", "What it charges to deliver an order.";
        free_from: Holds::Money, NO, FIELD, "Delivery is free from", "an order of this much", "From which sum of an order on it delivers free of charge; the sum is as its prices are, with tax or without.";
        trip: Holds::Money, NO, FIELD, "Drive there", "what it costs you to fetch it", "What it costs to drive there, where anything is bought.";
        cut_fee: Holds::Money, NO, FIELD, "Fee per cut", "for lengths too long to carry", "What it charges for its one cut of a length that is too long to carry.";
    }
}

rows! {
    /// A board of the shed as written.
    ShedDraft {
        mark: Holds::Text, NO, NAME, "Mark", "", "The mark on its end; its row where nothing is said.";
        section: Holds::Section, YES, NAME, "Section", "", "Name of its section; may be left out where there is only one.";
        length: Holds::Length, YES, FIELD, "Length", "", "Its measured length.";
        bad: Holds::Stretches, NO, LIST, "Bad stretches", "", "Stretches nothing may be cut from, from the datum end.";
        trim: Holds::TwoLengths, NO, FIELD, "End trim", "",
            "End trim, saw cut included; 50 mm, or 2 in, where nothing is said.";
        note: Holds::Text, NO, NOTE, "Note", "", "Anything worth remembering.";
        treated: Holds::Word(BOARD_TREATED), NO, FIELD, "Treated", "unknown where nobody can say, as of reclaimed timber",
            "Whether this board is preservative-treated; unknown counts as treated in every caution. As its section where nothing is said.";
        counts_as: Holds::Word(COUNTS), NO, FIELD, "Counts as", "for parts of new timber only, or of shed boards only",
            "What it counts as for parts that are made from new timber only, or from shed boards only: a shed board where nothing is said, or new timber, as what is bought for a piece does while that is built.";
        factory_ends: Holds::Word(ENDS), NO, FIELD, "Factory ends", "ends never cut since it was treated: posts stand on them",
            "Which of its ends were never cut since it was treated: none where nothing is said. Where its section is treated a part that goes in the ground stands on such an end.";
    }
}

rows! {
    /// A part as written.
    PartDraft {
        label: Holds::Text, YES, LABEL, "Part", "", "What it is called.";
        section: Holds::Sections, YES, LIST, "Section", "",
            "The section it is made of, or several that will do; may be left out where there is only one.";
        length: Holds::Length, YES, FIELD, "Length", "", "Its length, long point to long point where it is mitred. How far it may be another is said beside it, as in 600, may be 585 to 620; 600, fixed is never offered for a change; 590, wanted 600 was chosen for it.";
        over: Holds::Length, NO, FIELD, "Left long by", "trimmed off where it goes",
            "What it is cut longer than its length, to be trimmed off where it goes; zero where nothing is said.";
        quantity: Holds::Count, NO, FIELD, "Quantity", "", "How many; one where nothing is said.";
        spares: Holds::Count, NO, FIELD, "Spares", "how many more are cut in case some are spoiled",
            "How many more are cut, in case some are spoiled: none where nothing is said; of left and right ones as many of each. They are bought and planned with the rest.";
        ends: Holds::Ends, NO, FIELD, "Ends", "",
            "How its ends are cut: square, or the angle off square in degrees, for both ends or for the datum end and the far end. With the blade tilted as well: 45 tilt 30, or tilt 30 alone; the long point of the first such end is on the upper face, as the part is written.";
        leans: Holds::Word(LEANS), NO, FIELD, "Ends lean", "where both are angled",
            "How the two ends lean where both are angled: opposite ways, as on a mitred frame, where nothing is said; or the same way, as on a brace, whose length is then overall, tip to tip; or the same way, mirrored, as on the brace across from it.";
        goes: Holds::Word(GOES), NO, FIELD, "Goes", "",
            "Where it goes: free, so that it may come out a little long but never short; between others, as a noggin does, so that it is measured first and never comes out long; or in the ground, as a post does, which is cut as one that is free, has cautions of its own and, where its section is said to be treated, stands on a factory end of its board that is left as it came: a new length has two of them, a board of the shed those that are said. Where nobody knows whether a section is treated, only the cautions are given.";
        from: Holds::Word(FROM), NO, FIELD, "Made from", "",
            "Which timber of its sections it may be made from: anything, where nothing is said; new timber only, that is lengths of the yard and boards of the shed that count as new; or shed boards only.";
        face: Holds::Word(FACE), NO, FIELD, "Face", "",
            "Which face is out where it goes: either, where nothing is said, or the good one. Then it is marked out with its good face up and never turned over; nor is any angled part of its section, where it is angled itself.";
        hand: Holds::Word(HAND), NO, FIELD, "Hand", "left and right: half of them are mirror images",
            "Whether all are as drawn, where nothing is said, or left and right: then half of them are the mirror image of the others. Where they may be turned over that is one piece; where a good face is out or faces are different it is two, marked L and R.";
        ripped: Holds::Length, NO, FIELD, "Ripped to", "where it is narrower than its section",
            "The width it is ripped to, overall, where it is narrower than its section. Narrow parts that fit side by side in one board are cut from it together.";
        keeps: Holds::Word(KEEPS), NO, FIELD, "Edge that stays", "where the edges of its boards differ",
            "Which edge of its board a ripped part keeps, where boards lie over each other: the one towards the next board, as the first of a face, or the one towards the board before, as the last.";
        bevel: Holds::Ends, NO, FIELD, "Long edges bevelled", "ripped with the blade tilted; the wider face keeps its width",
            "How its long edges are ripped: square, where nothing is said, or with the blade tilted by so many degrees, for both or for one and the other. The wider face is as wide as its boards or as it is ripped to.";
        letter: Holds::Text, NO, FIELD, "Letter", "where it has one already, as A",
            "Its letter on boards, sheets and drawings, A to Z, then AA to ZZ; where nothing is said, one after all that are given. Narrow parts side by side in one board have its letter.";
    }
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

/// Every list of rows of a job, with the fields of its rows.
pub const LISTS: [(&str, &[Field]); 5] = [
    ("sections", SectionDraft::FIELDS),
    ("yard", YardDraft::FIELDS),
    ("yards", TermsDraft::FIELDS),
    ("shed", ShedDraft::FIELDS),
    ("parts", PartDraft::FIELDS),
];
