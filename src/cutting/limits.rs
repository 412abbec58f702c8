//! Every tuning constant of the solver.
//!
//! Each says its unit, the values it may take, why it has the value it has, and what breaks if it is changed, as far as that is more than that
//! a search becomes longer or finds less. None of them decides whether
//! a bound is true: bounds are integers that hold for any value in range. They decide how far a search goes, how much memory it takes, and
//! where floats are believed to be whole. "Measured" is: on the made-up jobs of `lengthwise bench --jobs` and the published classes named in
//! the developers' notes. What the values must be to each other is asserted at the foot, when the crate is compiled.

// Sharing out the time.

/// Thousandths of the time left that one level may take while others are to come; 1 to [`ALL_TIME`]. A level that is not proven in three
/// quarters seldom is in all of it, and the next needs some. More starves the later levels.
pub(crate) const LEVEL_SHARE: u32 = 750;
/// All the time that is left, in thousandths; by definition.
pub(crate) const ALL_TIME: u32 = 1000;
/// Work between two looks at the clock, in steps of some nanoseconds (a part looked at for a board, a partial pattern, an entry of a
/// matrix); above zero. A look comes every few milliseconds. More answers a stop late; less asks the caller without need, and runs that are
/// ended by counted looks end elsewhere.
pub(crate) const WORK_PER_LOOK: usize = 1 << 19;

// What of a proof is written down.

/// Places of a tree that is kept for the certificate; above zero. A plan file is read on a phone. Beyond it the root's bound alone is told.
pub(crate) const CERTIFICATE_PLACES: usize = 20_000;
/// Prices in such a tree, all places together; above zero. Some 10 MB of a plan file. Beyond it as above.
pub(crate) const CERTIFICATE_PRICES: usize = 1_000_000;
/// Bytes that searches over enumerated patterns take in a plan file, in all of a level; zero or more. The checker goes through each of their places.
/// Beyond it a bound is told as searched, not shown. Measured: 210 bytes a place, so the half second of the page writes 300 KB, and the checker takes
/// 5 ms for a thousand places over a list of 400.
pub(crate) const WRITTEN_SEARCH_BYTES: usize = 3 << 20;

// The restricted master program.

/// Price units in the largest cost of one board; a power of two below [`LARGEST_PRICE`]. Prices are rounded down to these units, so a finer
/// unit loses less of a bound; a coarser one misses the next attainable total.
pub(crate) const PRICE_UNITS: i64 = 1 << 36;
/// The same where a search over enumerated patterns needs it finer; above [`PRICE_UNITS`], below [`SEARCH_PRICE`]. Measured: the scrap of small jobs,
/// of three patterns even, stays unproven without it.
pub(crate) const FINE_PRICE_UNITS: i64 = 1 << 46;
/// A price of an earlier level this little above an integer is that integer, in price units; above the program's noise of some 1e-6, far below one.
pub(crate) const PRICE_NOISE: f64 = 1e-3;
/// Price units that a leaf of a search over enumerated patterns is told in where they prove it, the coarsest first; below [`PRICE_UNITS`]. Finer ones make
/// plan files longer.
pub(crate) const COARSE_PRICE_UNITS: [i64; 3] = [1 << 10, 1 << 18, 1 << 26];
/// The greatest price or charge that pricing is given, in price units; up to 2^38. Sums of prices over all parts of a job then stay below
/// 2^62. More overflows: a test stops at it, and in a release the checker refuses what came of it.
pub(crate) const LARGEST_PRICE: i64 = 1 << 38;
/// What a unit of an artificial variable costs at first, in the largest cost of a board; above one. It keeps the program feasible. Less
/// leaves parts uncut in programs that could cut them, more makes the first prices wild.
pub(crate) const ARTIFICIAL_COST: f64 = 20.0;
/// What that cost is multiplied by where artificial variables stay in a solution; above one. Three raises reach 2 * 10^7, where floats still
/// tell costs apart.
pub(crate) const ARTIFICIAL_RAISE: f64 = 100.0;
/// How often the cost is raised; zero or more. See [`ARTIFICIAL_RAISE`].
pub(crate) const ARTIFICIAL_RAISES: usize = 3;
/// The part of the best prices so far in the prices asked for; from 0 to below 1. Measured: 0.6 took the fewest rounds. Zero is no
/// smoothing, near one moves too slowly.
pub(crate) const SMOOTHING: f64 = 0.6;
/// A column enters a program where its reduced cost is below zero by more than this, in the largest cost; above zero. Rounding errors of
/// the program are about a tenth of it. Less lets columns in for ever, more ends early with a weaker bound.
pub(crate) const ENTERING_GAIN: f64 = 1e-9;
/// A value this near to an integer is one; above [`ACTIVITY_TOLERANCE`], far below a half. Rows are loosened by [`BOUND_PERTURBATION`], so
/// values are off by some of those. Less splits on noise, more takes fractions for plans, which then fail to add up.
pub(crate) const INTEGRAL: f64 = 1e-5;
/// Ten times the tolerance for sums of many values, a tenth of it for single ones of which nothing may be lost; above one.
pub(crate) const INTEGRAL_MARGIN: f64 = 10.0;
/// The program's objective is taken for this share of itself too high, so that rounding errors raise no bound; above 10^-12.
pub(crate) const OBJECTIVE_TOLERANCE: f64 = 1e-6;
/// Columns that enter in one round; above zero. With thousands of boards as many patterns are found each round. More makes rounds dear.
pub(crate) const COLUMNS_PER_ROUND: usize = 600;
/// Entries of all columns of one program; above zero. With its patterns a program of so many takes some 40 MB of the page's memory. Beyond
/// it no column is added and the bound is the one of the prices by then.
pub(crate) const MASTER_ENTRIES: usize = 750_000;
/// Rows of a program; above zero. Larger jobs have first plans and the bound of the material. Set when the basis was inverted whole, in 54 MB for so
/// many; sparse factors may bear more, which was not measured.
pub(crate) const MASTER_ROWS: usize = 2_600;
/// Rows up to which a second program is made beside the first; below [`MASTER_ROWS`]. Dives and the like solve dozens; with more rows none
/// ends in a practical time.
pub(crate) const ROWS_BESIDE: usize = 1_000;
/// States of a run up to which a section is priced; above zero. Each has a list of partial patterns of its own. Jobs that pass it have mitres of
/// many angles.
pub(crate) const RUN_STATES: usize = 1 << 18;
/// Counts of parts that are told apart in one nest of parts that share cuts; above zero. One angle has nine at most; sections whose parts
/// lie as written and have many angles may have more, and are not priced.
pub(crate) const NEST_STATES: usize = 4_000;
/// Price units are made coarser where a price is more than so many times the largest cost; above one. Prices stay below four units of it then.
pub(crate) const STEEP_PRICE: f64 = 4.0;
/// Boards that no plan uses more of, for no parts and for each part; at least (1, 1), with room for what rounding adds.
pub(crate) const MOST_BOARDS: (f64, f64) = (4.0, 4.0);
/// Rows of a program with sets to decide on: a tenth of [`ROWS_BESIDE`] more than at first, or this many; above zero. No further set is made.
pub(crate) const ROWS_WITH_SETS: usize = 2 * ROWS_BESIDE;
/// Rounds of column generation at a node; above zero. A fuse: practical nodes take some dozens.
pub(crate) const NODE_ROUNDS: usize = 10_000;
/// Prices that are averaged for prices from the interior; above zero. Measured: from ten on the enumerated lists hardly get shorter.
pub(crate) const INTERIOR_SAMPLES: usize = 10;
/// How far demands are moved for each of them, in parts; above zero, well below a half. More leaves the face of optimal prices, less stays at
/// its corner.
pub(crate) const INTERIOR_TILT: f64 = 1e-4;

// The simplex method.

/// A reduced cost this near to zero is zero; costs are about one. Range 1e-12 to 1e-6. Less cycles on noise, more ends above the optimum.
pub(crate) const REDUCED_COST_TOLERANCE: f64 = 1e-9;
/// An activity may miss its bound by this; 1e-12 to 1e-6, below [`BOUND_PERTURBATION`].
pub(crate) const ACTIVITY_TOLERANCE: f64 = 1e-9;
/// What the dual method takes for a missed bound, in tolerances; above one, so that the primal method does not undo it.
pub(crate) const MISSED: f64 = 10.0;
/// Pivots smaller than this are not taken; 1e-9 to 1e-5. Less ruins the factors, more calls feasible programs infeasible.
pub(crate) const PIVOT_TOLERANCE: f64 = 1e-7;
/// The basis is singular where no pivot of it is larger than this; above the rounding errors of some 10^-13.
pub(crate) const SINGULAR: f64 = 1e-10;
/// A pivot of the factors is at least this share of the largest entry of its column; 0.01 to 0.5. Less is unsound, more fills in.
pub(crate) const PIVOT_SHARE: f64 = 0.1;
/// Pivots until the basis is factored afresh; above zero. Errors and entries grow with each.
pub(crate) const PIVOTS_BEFORE_FACTORING: usize = 64;
/// Row bounds are loosened by up to this, in parts; above [`ACTIVITY_TOLERANCE`], below [`INTEGRAL`]. It breaks ties. More passes for a part.
pub(crate) const BOUND_PERTURBATION: f64 = 1e-6;
/// Costs are set apart by up to this in the dual method; above [`REDUCED_COST_TOLERANCE`], far below [`INTEGRAL`]. Measured on 400 parts: without it five
/// times the pivots; a hundred times more leaves the primal method to mend as much.
pub(crate) const TRACE_OF_COST: f64 = 1e-7;
/// Costs are set apart by up to this where the dual method stalls, in the largest cost; a thousandth of what one board in ten tells.
pub(crate) const COST_PERTURBATION: f64 = 1e-4;
/// Iterations of the dual method before that, for no rows and for each row; any. Measured: practical programs need a third of it.
pub(crate) const FIRST_TRY: (usize, usize) = (300, 8);
/// Iterations of any run of the method, for no rows and for each row; more than [`FIRST_TRY`]. A fuse against cycling.
pub(crate) const ITERATIONS: (usize, usize) = (5_000, 40);
/// Columns that the primal method looks at from pivot to pivot, for each row; above one. Measured: instances of 201 items take 0.5 s in the median,
/// and 0.9 where all columns are looked at.
pub(crate) const NEAR_COLUMNS_PER_ROW: usize = 2;
/// It looks at all of so many columns; any. Fewer are gone through as fast as some of them are chosen. The laws have it low, so that small programs get there.
pub(crate) const MANY_COLUMNS: usize = if cfg!(test) { 20 } else { 1_000 };
/// Iterations between two looks at the clock at most; above zero. One takes up to some milliseconds.
pub(crate) const ITERATIONS_PER_LOOK: usize = 16;

// Pricing.

/// Patterns returned for one board of one run; above zero. Measured: more columns a round, fewer rounds; beyond three the rounds get dearer.
pub(crate) const ALTERNATIVES: usize = 3;
/// Partial patterns in the list of one state; above two. At 32 bytes each a few such lists fit a browser's tab. Longer lists are halved, which
/// weakens bounds.
pub(crate) const LIST: usize = 200_000;
/// The same in the lists of all states of a section together.
pub(crate) const LISTS: usize = 4 * LIST;
/// A value that no sum of worths comes near: below it is worth less than anything. A quarter of the range of 64 bits leaves room for adding two.
pub(crate) const WORTHLESS: i64 = i64::MIN / 4;
/// A charge that no worth reaches, an eighth of the range, so that sums with it do not overflow.
pub(crate) const UNAFFORDABLE: i64 = i64::MAX / 8;
/// Fills looked at for a length cut at the yard, for each fill; and for a board of one run; any. They only space the looks at the clock.
pub(crate) const YARD_CUT_WORK: usize = 8;
/// See [`YARD_CUT_WORK`].
pub(crate) const ONE_RUN_WORK: usize = 16;
/// Links of the traceback up to which lists may be long; below [`TRACEBACK_LINKS`]. Every new partial pattern takes one.
pub(crate) const LINKS_BEFORE_THINNING: usize = 6_000_000;
/// Partial patterns in a list beyond that many links; above two.
pub(crate) const THINNED_LIST: usize = 2_000;
/// Links of the traceback, 8 bytes each: 52 MB; below 2^30, where the numbers of table places begin. What is reached beyond is told without
/// a pattern.
pub(crate) const TRACEBACK_LINKS: usize = 6_500_000;
/// Links in one chunk of the traceback, as a power of two; any. Chunks do not move, so millions never lie in memory twice.
pub(crate) const TRACEBACK_CHUNK: u32 = 16;
/// Fraction bits of a price per tick in pricing; up to 12, so that a price times a length stays below 2^63 in practical jobs.
pub(crate) const DENSITY_BITS: u32 = 8;
/// Places of a knapsack table; above zero. Half a megabyte a row.
pub(crate) const TABLE_PLACES: usize = 1 << 16;
/// Bytes that a table may remember of its choices: places times bundles; above zero.
pub(crate) const TABLE_CHOICES: usize = 24 << 20;
/// A table takes over where a list has more than one partial pattern for so many places; above zero. Measured: large jobs four times as fast.
pub(crate) const TABLE_PLACES_PER_PATTERN: usize = 10;

// Enumeration, and the search over enumerated patterns.

/// Patterns of a list that is searched; above zero. Longer ones make programs that no search ends with.
pub(crate) const ENUMERATED_PATTERNS: usize = 20_000;
/// Steps of an enumeration; above zero. About a second.
pub(crate) const ENUMERATION_STEPS: usize = 4_000_000;
/// Steps between two looks at the clock; above zero.
pub(crate) const ENUMERATION_STEPS_PER_LOOK: usize = 1024;
/// Setting up the enumeration of a board is so much work for each part; any. It only spaces the looks at the clock.
pub(crate) const ENUMERATION_WORK: usize = 16;
/// Depth of an enumeration: one step for each part in each run; above zero. Each takes of the stack, which is small in the page.
pub(crate) const ENUMERATION_DEPTH: usize = 1_000;
/// Fraction bits of a price per tick there, where sums have 128 bits; up to 60.
pub(crate) const ENUMERATION_DENSITY_BITS: u32 = 20;
/// Columns with which a search's program starts in full; any. Of longer lists most columns never matter and are activated when priced in.
pub(crate) const ACTIVE_COLUMNS: usize = 300;
/// Columns activated at a time; above zero.
pub(crate) const ACTIVATIONS: usize = 60;
/// Nodes of a search that is split by single patterns; above zero.
pub(crate) const PATTERN_NODES: usize = 300;
/// Nodes of a search split by pairs of parts, where nothing else can settle the node; above zero.
pub(crate) const PAIR_NODES: usize = 20_000;
/// What a part not cut costs in a search where there is no plan to compare with, in the largest cost; above any plan's cost.
pub(crate) const UNCUT_COST: f64 = 1e6;
/// Prices of a search's program are cut off here, in price units; below 2^53, where floats are whole.
pub(crate) const SEARCH_PRICE: f64 = 1e15;

// Search over pairs of blocks.

/// Nodes of the search before plans are looked for in other ways; above zero. Measured: most of the hard published problems need no more.
pub(crate) const FIRST_PAIR_NODES: usize = 240;
/// Nodes of the search after that; above zero.
pub(crate) const MOST_PAIR_NODES: usize = 20_000;
/// Nodes until it starts over the first time; above zero.
pub(crate) const NODES_OF_FIRST_START: usize = 60;
/// How many times as many there are until the next; above one.
pub(crate) const NODES_OF_NEXT_START: usize = 3;
/// How much worse a pair is that one board holds for sure, in boards; more than the other terms of a choice together.
pub(crate) const WHOLE_PAIR: f64 = 4.0;
/// How much worse a pair is of which both are left when it is joined, in boards; zero or more. It takes a row.
pub(crate) const FREE_PAIR: f64 = 0.1;
/// By how much choices among pairs are changed at most when it starts over; zero or more, small beside a half.
pub(crate) const PAIR_JITTER: f64 = 0.1;
/// Places of a table of pricing, 4 bytes each; above zero. 64 MB.
pub(crate) const PAIR_TABLE_PLACES: i64 = 16 << 20;
/// Steps of pricing once; above zero. What is not searched by then is bounded by the table.
pub(crate) const PAIR_PRICING_STEPS: usize = 1 << 20;
/// The most that all blocks of a board are worth, in price units; at most 2^30, so that sums fit 32 bits.
pub(crate) const PAIR_WORTH: f64 = (1 << 29) as f64;
/// The scale that the prices of a leaf are rounded down to first, in price units of a board; above zero. Coarser ones seldom prove a leaf; ten times
/// as fine ones are tried after it, and each takes a character more for a price.
pub(crate) const COARSEST_SCALE: i64 = 100;
/// What a part left uncut costs at first, in its share of a board's length; above one. Measured: half the time of a constant of several boards.
pub(crate) const UNCUT_SHARE: f64 = 1.1;
/// What that is multiplied by where parts stay uncut; above one.
pub(crate) const UNCUT_RAISE: f64 = 2.0;
/// Where it is dear enough, in boards; above one.
pub(crate) const DEAREST_UNCUT: f64 = 64.0;

// Branch and price.

/// Places of a tree; above zero. A tree of more grows no further, so that memory is bounded.
pub(crate) const TREE_PLACES: usize = 400_000;
/// Splits above all nodes that wait, together; above zero. As above.
pub(crate) const WAITING_SPLITS: usize = 1_000_000;
/// Splits above one node; above zero. It bounds the depth of a certificate.
pub(crate) const NODE_DEPTH: usize = 200;
/// More than this much of the demand left uncut, in parts, makes a node hopeless; above [`INTEGRAL`], at most a half.
pub(crate) const NODE_SHORTFALL: f64 = 0.1;
/// A bound is reported while the search goes on when the gap is down to this many quarters of the one reported last; 1 to 3.
pub(crate) const REPORTED_QUARTERS: i64 = 3;
/// Reported gaps start from here; the largest number there is.
pub(crate) const NO_GAP: i64 = i64::MAX;

// Heuristics.

/// Dives from the root; zero or more. Measured, as all numbers of tries here: more seldom finds more.
pub(crate) const ROOT_DIVES: usize = 6;
/// Dives from the root end after so many in a row that found nothing; above zero.
pub(crate) const VAIN_DIVES: usize = 2;
/// One node in so many is dived from; above zero.
pub(crate) const NODES_PER_DIVE: u64 = 12;
/// Patterns a dive knows at first, for no parts and for each part; any. The rest of a dive's programs is generated.
pub(crate) const DIVE_COLUMNS: (usize, usize) = (50, 8);
/// Patterns of a program after each fixing, for no parts and for each part; any.
pub(crate) const DIVE_RESIDUAL_COLUMNS: (usize, usize) = (20, 4);
/// Rounds of column generation after each fixing; above zero.
pub(crate) const DIVE_ROUNDS: usize = 25;
/// A pattern used this often, once integers are fixed, is fixed together with the first choice; above a half, at most one.
pub(crate) const NEARLY_WHOLE: f64 = 0.8;
/// More than this much of the demand left uncut ends a dive, in parts; above [`NODE_SHORTFALL`], below one.
pub(crate) const DIVE_SHORTFALL: f64 = 0.5;
/// Depths and ranks at which a dive departs from its first choice in the last tries; above zero. So many by so many tries.
pub(crate) const DISCREPANCIES: usize = 12;
/// Tries for plans where nothing is left to split; above [`EARLY_TRIES`]. They end a search that proves nothing more.
pub(crate) const LAST_TRIES: usize = 5_000;
/// Tries before the first search among boards of fixed numbers; zero or more. A plan of one length less is often found sooner than its
/// absence is shown.
pub(crate) const EARLY_TRIES: usize = 6;
/// Neighbourhoods searched at a node of the used-length objective; zero or more.
pub(crate) const NODE_NEIGHBOURHOODS: usize = 8;
/// The fewest boards of a neighbourhood; above one.
pub(crate) const SMALLEST_NEIGHBOURHOOD: usize = 2;
/// The most; at least as many. Branch and price is exact for so few within [`NEIGHBOURHOOD_NODES`].
pub(crate) const LARGEST_NEIGHBOURHOOD: usize = 9;
/// Tries in vain before a neighbourhood grows by one board; above zero.
pub(crate) const NEIGHBOURHOOD_TRIES: usize = 12;
/// Nodes of the search of a neighbourhood; above zero.
pub(crate) const NEIGHBOURHOOD_NODES: usize = 25;
/// Weight of a board without waste in the choice of a neighbourhood, in boards; above zero, or full boards would never be taken.
pub(crate) const NEIGHBOURHOOD_WEIGHT: f64 = 0.02;
/// Target totals tried between the bound and the incumbent; above zero.
pub(crate) const TARGETS: i64 = 6;
/// Nodes with only free boards to split on until targets are tried again; above zero. Measured: a week's jobs are all proven in 5 s with 4, four in five
/// with 16.
pub(crate) const NODES_PER_TARGETS: u64 = 4;
/// Dives for each; above zero.
pub(crate) const TARGET_DIVES: usize = 3;
/// Rounds of column generation for each; above zero.
pub(crate) const TARGET_ROUNDS: usize = 300;
/// Patterns of the small integer program; above zero. Measured over small jobs: half a millisecond in the median and 36 ms at worst with 24,
/// up to 2 s with 40.
pub(crate) const INTEGER_COLUMNS: usize = 24;
/// Boards of a plan up to which it is made; above zero. Its solver branches on each number.
pub(crate) const INTEGER_BOARDS: f64 = 200.0;
/// Parts and boards up to which it is made; above zero.
pub(crate) const INTEGER_ROWS: usize = 500;
/// Seconds that its solver may take, by a clock of its own; above zero. A fuse: no practical job that was measured burns it.
pub(crate) const INTEGER_FUSE: f64 = 0.2;
/// Filling a board greedily is as much work as looking at so many parts; any. It only spaces the looks at the clock.
pub(crate) const GREEDY_WORK: usize = 32;

// Totals and plans.

/// Attainable totals that are listed one by one; above zero. A byte each. Beyond it every multiple of the divisor counts, which weakens
/// rounding up.
pub(crate) const LISTED_TOTALS: i64 = 1 << 20;
/// Steps of listing them, one for each total and kind of board; above zero. Some tenths of a second.
pub(crate) const TOTALS_STEPS: i64 = 1 << 26;
/// Patterns of a plan that are compared one by one; beyond it by digest; any.
pub(crate) const COMPARED_PATTERNS: usize = 64;

// What the values must be to each other.
const _: () = {
    assert!(LEVEL_SHARE >= 1 && LEVEL_SHARE <= ALL_TIME);
    assert!(PRICE_UNITS < LARGEST_PRICE && LARGEST_PRICE <= 1 << 38);
    assert!(ARTIFICIAL_COST > 1.0 && ARTIFICIAL_RAISE > 1.0);
    assert!(SMOOTHING >= 0.0 && SMOOTHING < 1.0);
    assert!(ACTIVITY_TOLERANCE < BOUND_PERTURBATION && BOUND_PERTURBATION < INTEGRAL);
    assert!(INTEGRAL * INTEGRAL_MARGIN < NODE_SHORTFALL && NODE_SHORTFALL <= DIVE_SHORTFALL);
    assert!(STEEP_PRICE > 1.0 && MOST_BOARDS.0 >= 1.0 && MOST_BOARDS.1 >= 1.0);
    assert!(WORTHLESS < -LARGEST_PRICE && UNAFFORDABLE > LARGEST_PRICE);
    assert!(MISSED > 1.0 && INTEGRAL_MARGIN > 1.0);
    assert!(ROWS_BESIDE < MASTER_ROWS);
    assert!(FIRST_TRY.0 < ITERATIONS.0 && FIRST_TRY.1 < ITERATIONS.1);
    assert!(LIST > 2 && THINNED_LIST > 2 && LISTS >= LIST);
    assert!(LINKS_BEFORE_THINNING < TRACEBACK_LINKS && TRACEBACK_LINKS < 1 << 30);
    assert!(DENSITY_BITS <= 12 && ENUMERATION_DENSITY_BITS <= 60);
    assert!(SEARCH_PRICE < (1u64 << 53) as f64);
    assert!(PRICE_UNITS < FINE_PRICE_UNITS && (FINE_PRICE_UNITS as f64) < SEARCH_PRICE);
    assert!(NEARLY_WHOLE > 0.5 && NEARLY_WHOLE <= 1.0);
    assert!(EARLY_TRIES < LAST_TRIES && DISCREPANCIES * DISCREPANCIES <= LAST_TRIES);
    assert!(1 < SMALLEST_NEIGHBOURHOOD && SMALLEST_NEIGHBOURHOOD <= LARGEST_NEIGHBOURHOOD);
    assert!(REPORTED_QUARTERS >= 1 && REPORTED_QUARTERS <= 3);
};
