//! Jobs at the limits: how much memory planning takes, and how much work it does between two checks of the clock.
//!
//! Nothing is timed. Counted are bytes allocated at once, and allocations between two checks. The number of allocations stands for work
//! here, because each board filled, each fill of a run and each pattern takes at least one. The jobs are made up from a seed; their sizes
//! are those of `limits`.

mod common;

use common::hand;
use common::random::Random;
use lengthwise::bench::Stopwatch;
use lengthwise::job::Job;
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::Plan;
use lengthwise::planner::{Listener, Planned, plan_job};
use lengthwise::progress::Marks;
use std::cell::Cell;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Instant;

#[allow(unsafe_code)] // The one way to count what is allocated.
mod counted {
    use super::{AtomicUsize, Relaxed};
    use std::alloc::{GlobalAlloc, Layout, System};

    pub static HELD: AtomicUsize = AtomicUsize::new(0);
    pub static PEAK: AtomicUsize = AtomicUsize::new(0);
    pub static CALLS: AtomicUsize = AtomicUsize::new(0);

    struct Counting;

    fn took(bytes: usize) {
        CALLS.fetch_add(1, Relaxed);
        let held = HELD.fetch_add(bytes, Relaxed) + bytes;
        PEAK.fetch_max(held, Relaxed);
    }

    unsafe impl GlobalAlloc for Counting {
        unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
            took(layout.size());
            unsafe { System.alloc(layout) }
        }

        unsafe fn dealloc(&self, place: *mut u8, layout: Layout) {
            HELD.fetch_sub(layout.size(), Relaxed);
            unsafe { System.dealloc(place, layout) }
        }

        /// The old and the new block count at once, since that is what WebAssembly needs.
        unsafe fn realloc(&self, place: *mut u8, layout: Layout, size: usize) -> *mut u8 {
            took(size);
            HELD.fetch_sub(layout.size(), Relaxed);
            unsafe { System.realloc(place, layout, size) }
        }
    }

    #[global_allocator]
    static COUNTING: Counting = Counting;
}

/// The memory that a browser tab on a phone is assumed to have.
const MEMORY: usize = 256 << 20;
/// Most allocations between two checks of the clock, which take some milliseconds.
const BETWEEN: usize = 150_000;
/// Most allocations of a first plan, during which the clock is not checked: a fill for each of 2 000 boards each time that parts of it have
/// run out.
const FIRST: usize = 1_000_000;

/// Tests run one at a time, since allocations of the whole process are counted.
fn alone() -> MutexGuard<'static, ()> {
    static ONE: Mutex<()> = Mutex::new(());
    ONE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A length to the hundredth of a millimetre.
fn length(random: &mut Random, low: u64, high: u64) -> String {
    let hundredths = random.between(low * 100, high * 100);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

/// The sizes of a job.
#[derive(Clone, Copy)]
struct Shape {
    sections: usize,
    /// Sections that each part may be made of.
    choices: usize,
    /// Lengths on sale in each section.
    yard: usize,
    carry: Option<&'static str>,
    shed: usize,
    /// Bad stretches of each board in the shed.
    bad: u64,
    rows: usize,
    parts: usize,
    /// The shortest part and the longest, in millimetres.
    length: (u64, u64),
    /// Mitre angles.
    angles: usize,
}

const USUAL: Shape = Shape {
    sections: 1,
    choices: 1,
    yard: 8,
    carry: None,
    shed: 0,
    bad: 0,
    rows: 200,
    parts: 2_000,
    length: (150, 1_200),
    angles: 0,
};

const SHED: Shape = Shape {
    shed: 2_000,
    bad: 2,
    ..USUAL
};
const EVERYTHING: Shape = Shape {
    rows: 2_000,
    parts: 10_000,
    yard: 60,
    carry: Some("3000"),
    ..SHED
};
const PROGRAM: Shape = Shape {
    shed: 500,
    rows: 2_000,
    parts: 10_000,
    ..USUAL
};
const CHOICES: Shape = Shape {
    sections: 200,
    choices: 5,
    yard: 3,
    rows: 2_000,
    parts: 10_000,
    ..SHED
};
const TINY: Shape = Shape {
    rows: 5,
    parts: 10_000,
    length: (1, 10),
    ..USUAL
};
const TINY_CARRIED: Shape = Shape {
    rows: 100,
    yard: 60,
    carry: Some("3000"),
    ..TINY
};
const MITRED: Shape = Shape {
    rows: 300,
    parts: 3_000,
    length: (700, 1_200),
    angles: 8,
    ..USUAL
};

fn job(shape: Shape) -> Job {
    let random = &mut Random(1);
    let section = |at: usize| format!("s{at}");
    hand::job(|draft| {
        draft.own.unit = Some("mm".into());
        draft.own.decimal = Some("point".into());
        draft.own.carry = shape.carry.map(str::to_owned);
        draft.saw.kerf = Some("3.2".into());
        draft.saw.keep = Some("300".into());
        for at in 0..shape.sections {
            draft.section(&section(at), |section| {
                section.thickness = Some("38".into());
                section.width = Some("89".into());
            });
            for line in 0..shape.yard as u64 {
                let sold = length(random, 1_500 + 80 * line, 1_579 + 80 * line);
                let price = format!("{}.{:02}", 4 + line / 5, line * 37 % 100);
                draft.yard(&section(at), &sold, Some(&price), None);
            }
        }
        for at in 0..shape.shed {
            let owned = random.between(500, 3_900);
            let bad = (1..=shape.bad).map(|stretch| {
                let from = 60 + (owned - 120) * stretch / (shape.bad + 1);
                format!("{from}..{}", from + 15)
            });
            let bad = bad.collect::<Vec<_>>().join("; ");
            let section = section(at % shape.sections);
            draft.shed(
                &format!("m{at}"),
                &section,
                &length(random, owned, owned),
                &bad,
            );
        }
        for at in 0..shape.rows {
            let choices = (0..shape.choices).map(|choice| section((at + choice) % shape.sections));
            let sections = choices.collect::<Vec<_>>().join("; ");
            let quantity = shape.parts / shape.rows + usize::from(at < shape.parts % shape.rows);
            let ends = match shape.angles {
                0 => "square".into(),
                angles => {
                    let angle = 15 + 5 * (at % angles);
                    format!("{angle}; {}", at % 2 * angle)
                }
            };
            let wanted = length(random, shape.length.0, shape.length.1);
            draft.part(
                &format!("p{at}"),
                &sections,
                &wanted,
                &quantity.to_string(),
                &ends,
            );
        }
    })
}

/// Stops after a number of clock checks, and counts the allocations from check to check.
struct Looks {
    most: usize,
    taken: usize,
    /// Allocations at the last check.
    last: usize,
    /// Allocations up to the first plan or the first check.
    first: Option<usize>,
    /// Most allocations from one check to the next.
    between: usize,
}

impl Looks {
    fn look(&mut self) -> usize {
        let now = counted::CALLS.load(Relaxed);
        let since = now - self.last;
        self.last = now;
        since
    }
}

impl Listener for Looks {
    fn expired(&mut self) -> bool {
        let since = self.look();
        self.taken += 1;
        self.between = self.between.max(since);
        self.taken >= self.most
    }

    /// Counting restarts here: reporting a plan is no work of the search.
    fn better(&mut self, _plan: &Plan) {
        let since = self.look();
        match self.first {
            None => self.first = Some(since),
            Some(_) => self.between = self.between.max(since),
        }
    }
}

/// Every shape with its name.
const SHAPES: [(&str, Shape); 7] = [
    ("200 rows, 2 000 boards in the shed", SHED),
    (
        "2 000 rows, 2 000 in the shed, 60 lengths cut at the yard",
        EVERYTHING,
    ),
    ("2 000 rows, 500 in the shed", PROGRAM),
    (
        "2 000 rows in 200 sections, 5 choices, 2 000 in the shed",
        CHOICES,
    ),
    ("5 rows of 2 000, 1 to 10 mm", TINY),
    (
        "100 rows of 100, 1 to 10 mm, 60 lengths cut at the yard",
        TINY_CARRIED,
    ),
    ("300 rows of 10, mitred at 8 angles", MITRED),
];

/// Prints the table in `fixtures/BENCHMARKS.md`.
#[test]
#[ignore = "measures; it says nothing of right or wrong"]
fn figures_of_jobs_at_the_limits() {
    let _alone = alone();
    println!("| job | seconds asked | wall, s | processor, s | first plan, s | most held, MiB |");
    for (name, shape) in SHAPES {
        let job = job(shape);
        for seconds in [0.0, 0.1, 1.0, 10.0] {
            let held = counted::HELD.load(Relaxed);
            counted::PEAK.store(held, Relaxed);
            let (began, busy) = (Instant::now(), Stopwatch::start());
            let clock = || began.elapsed().as_secs_f64() * 1e3;
            let first = Cell::new(0.0);
            let mut hear = |_: &Plan| {
                if first.get() == 0.0 {
                    first.set(clock());
                }
            };
            let limits = Limits::milliseconds(seconds * 1e3);
            plan_job(&job, &mut Patience::new(limits, &clock, &mut hear));
            let (wall, busy) = (clock() / 1e3, busy.seconds());
            let peak = counted::PEAK.load(Relaxed) - held;
            println!(
                "| {name} | {seconds} | {wall:.2} | {busy:.2} | {:.2} | {} |",
                first.get() / 1e3,
                peak >> 20
            );
        }
    }
}

/// Plans a job for this many checks of the clock; returns also the most bytes held meanwhile.
fn planned(shape: Shape, most: usize) -> (Plan, Looks, usize) {
    let job = job(shape);
    let held = counted::HELD.load(Relaxed);
    counted::PEAK.store(held, Relaxed);
    let mut looks = Looks {
        most,
        taken: 0,
        last: counted::CALLS.load(Relaxed),
        first: None,
        between: 0,
    };
    let Planned::Found(plan) = plan_job(&job, &mut looks) else {
        panic!("there are lengths enough");
    };
    let peak = counted::PEAK.load(Relaxed) - held;
    (plan, looks, peak)
}

#[test]
fn a_first_plan_is_made_where_there_is_no_time_and_little_follows_it() {
    let _alone = alone();
    for (name, shape) in [
        ("shed", SHED),
        ("everything", EVERYTHING),
        ("choices", CHOICES),
        ("tiny", TINY),
    ] {
        let (plan, looks, _) = planned(shape, 1);
        let cut: usize = plan
            .boards
            .iter()
            .flat_map(|board| &board.runs)
            .map(|run| run.cuts.len())
            .sum();
        assert_eq!(cut, shape.parts, "{name}");
        let first = looks.first.expect("a plan was told");
        let after = looks.look_after();
        println!(
            "{name}: {first} before the first plan, {} from look to look, {after} after the last",
            looks.between
        );
        assert!(
            first < FIRST,
            "{name}: {first} allocations before the first plan"
        );
        assert!(
            looks.between < BETWEEN,
            "{name}: {} allocations before a look",
            looks.between
        );
    }
}

impl Looks {
    fn look_after(&self) -> usize {
        counted::CALLS.load(Relaxed) - self.last
    }
}

#[test]
fn a_free_mark_is_searched_for_from_the_last_one_on() {
    let _alone = alone();
    let work = |count: usize, mark: fn(&mut Marks) -> String| {
        let before = counted::CALLS.load(Relaxed);
        let mut marks = Marks::default();
        for _ in 0..count {
            mark(&mut marks);
        }
        counted::CALLS.load(Relaxed) - before
    };
    // Twice the marks take twice the work, give or take; searched for from the first letter on they would take four times.
    for mark in [Marks::fresh, |marks: &mut Marks| marks.rest_of("K")] {
        let (once, twice) = (work(1_000, mark), work(2_000, mark));
        assert!(twice < 3 * once, "{once} and {twice}");
    }
}

#[test]
fn the_clock_is_looked_at_often_in_jobs_at_the_limits() {
    let _alone = alone();
    for (name, shape, most) in [
        ("shed", SHED, 60),
        ("program", PROGRAM, 40),
        ("choices", CHOICES, 40),
        ("tiny, carried", TINY_CARRIED, 2_000),
        ("mitred", MITRED, 60),
    ] {
        let (_, looks, _) = planned(shape, most);
        println!("{name}: {} from look to look", looks.between);
        assert!(
            looks.between < BETWEEN,
            "{name}: {} allocations between two looks",
            looks.between
        );
    }
}

#[test]
fn jobs_at_the_limits_are_planned_in_the_memory_of_a_browser_tab() {
    let _alone = alone();
    for (name, shape, most) in [
        ("everything", EVERYTHING, 40),
        ("program", PROGRAM, 60),
        ("choices", CHOICES, 40),
        ("tiny", TINY, 8_000),
        ("tiny, carried", TINY_CARRIED, 4_000),
        ("mitred", MITRED, 60),
    ] {
        let (_, _, peak) = planned(shape, most);
        println!("{name}: {} MiB", peak >> 20);
        assert!(peak < MEMORY, "{name}: {} MiB", peak >> 20);
    }
}
