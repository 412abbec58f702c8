//! How long the page keeps a person waiting at one go: the longest task of the browser's own observer, step by step. A measurement.
//!
//! `cargo test --features browser --test browser calm -- --ignored --nocapture` prints the table. The goal is no task over 50 ms, and none
//! over 200 ms on a device six times slower. Both are printed and decide nothing, since the time depends on the machine; a task under 50 ms
//! is not observed. `LENGTHWISE_SITE` names another build of the page, to be measured by turns with this one.
//!
//! What passes is too much on a machine that is shared, where a thread is set aside in the middle of a task. So the work of the page's thread
//! is told as well, by the thread's own clock: of all tasks of the step together, which none of them exceeds, and of it that of scripts,
//! style and layout. Six times the work at full speed stands for the slower device: Chromium's own brake counts the time for which the thread
//! was set aside as work, and multiplies it.

use crate::harness::{Browser, Key, Screen, Touch};
use crate::page::{place, planned};
use crate::site;
use serde_json::{Value, json};
use std::time::Duration;

const PARTS: usize = 60;
const SECTIONS: [&str; 4] = [
    "frame 45 x 70",
    "slat 21 x 95",
    "board 18 x 120",
    "post 70 x 70",
];
const BOARDS: usize = 40;

/// How many times each step is taken; the middle of them is told, and the longest.
const ROUNDS: usize = 3;

/// After which a step is over, with all that follows from it on the page. Planning goes on in the background for longer.
const STEP: Duration = Duration::from_millis(1_800);

/// Gathers the tasks that are longer than the browser's own limit of 50 ms.
const WATCH: &str = "window.tasks = [];
    new PerformanceObserver((list) => window.tasks.push(...list.getEntries().map((task) => task.duration)))
        .observe({ type: 'longtask', buffered: true });";

/// Sixty parts typed in, of four sections, beside a box with a boarded back; forty boards in the shed, some with bad stretches.
fn piece() -> (Value, Value) {
    let parts = (0..PARTS).map(|row| {
        json!({ "label": format!("part {}", row + 1), "section": SECTIONS[row % 4], "length": (311 + row * 137 % 1_709).to_string(), "quantity": (1 + row % 3).to_string() })
    });
    let size = |name: &str| {
        let mut numbers = name.split(' ').filter(|word| word.parse::<u32>().is_ok());
        [numbers.next().unwrap(), numbers.next().unwrap()].map(str::to_owned)
    };
    let sections = SECTIONS.map(|name| {
        let [thickness, width] = size(name);
        json!({ "name": name, "thickness": thickness, "width": width })
    });
    let yard = SECTIONS.iter().flat_map(|name| {
        [("2.4 m", "6.40"), ("3.0 m", "8.10"), ("4.2 m", "11.90")]
            .map(|(length, price)| json!({ "section": name, "length": length, "price": price }))
    });
    let shed = (0..BOARDS).map(|row| {
        let length = 700 + row * 173 % 2_300;
        let bad = if row % 3 == 0 { format!("{}..{}", length / 3, length / 3 + 60) } else { String::new() };
        json!({ "id": format!("board-{row}"), "since": 1_700_000_000_000_u64, "decimal": "point",
            "row": { "mark": format!("A{row}"), "section": SECTIONS[row % 4], "length": format!("{length} mm"), "bad": bad } })
    });
    let frame = json!({ "kind": "box", "name": "Box", "width": "1200", "depth": "600", "height": "800", "section": SECTIONS[0] });
    let back = json!({ "kind": "boarding", "name": "Back", "on": "[Box] back", "section": SECTIONS[2], "run": "across", "gap": "4", "supports": "2" });
    let job = json!({
        "format": "lengthwise-job", "version": 1, "piece": "Sixty parts", "unit": "mm", "saw": { "kerf": "2.4", "keep": "300" },
        "sections": sections, "yard": yard.collect::<Vec<_>>(), "parts": parts.collect::<Vec<_>>(), "set_outs": [frame, back],
    });
    (json!({ "id": "sixty", "job": job }), shed.collect())
}

/// The page on that piece, planned.
fn opened(browser: &Browser) {
    browser.go(&site::address());
    planned(browser);
    let (piece, shed) = piece();
    browser.run_with(
        "localStorage.clear();
         const kept = { 'piece/sixty': arguments[0], shed: arguments[1], index: { pieces: ['sixty'], open: 'sixty' } };
         for (const [name, value] of Object.entries(kept)) localStorage['lengthwise/' + name] = JSON.stringify(value);",
        vec![piece, shed],
    );
    browser.reload();
    found(browser);
}

/// Waits for a plan, and stops the search where it goes on.
fn found(browser: &Browser) {
    browser.wait_until(
        "const outcome = document.getElementById('outcome');
         const found = document.getElementById('strip-text').textContent.includes('Buy');
         if (found && !document.getElementById('working').hidden) document.getElementById('stop').click();
         return ['proven', 'found'].includes(outcome.dataset.outcome) && outcome.getAttribute('aria-busy') === 'false';",
    );
}

/// What the thread of the page has worked so far, in ms: in all, and of it scripts, style and layout.
const WORK: [&str; 4] = [
    "TaskDuration",
    "ScriptDuration",
    "RecalcStyleDuration",
    "LayoutDuration",
];

fn worked(browser: &Browser) -> [f64; 4] {
    let told = browser.devtools("Performance.getMetrics", json!({}));
    WORK.map(|name| {
        let metrics = told["metrics"].as_array().expect("a list");
        let found = metrics.iter().find(|metric| metric["name"] == name);
        1e3 * found
            .and_then(|metric| metric["value"].as_f64())
            .expect("a number")
    })
}

/// The longest task while a step is taken and what follows from it is shown, zero where none was observed; then the work in that time.
fn longest(browser: &Browser, step: impl FnOnce()) -> [f64; 5] {
    std::thread::sleep(Duration::from_millis(700));
    browser.run("window.tasks.length = 0;");
    let before = worked(browser);
    step();
    std::thread::sleep(STEP);
    let after = worked(browser);
    let tasks = browser.run("return window.tasks;");
    let tasks = tasks.as_array().unwrap().iter().filter_map(Value::as_f64);
    let [all, scripts, style, layout] = [0, 1, 2, 3].map(|at| after[at] - before[at]);
    [tasks.fold(0.0, f64::max), all, scripts, style, layout]
}

type Step = (&'static str, fn(&Browser));

const STEPS: [Step; 9] = [
    ("open Plan", |browser| go(browser, "plan")),
    ("open Timber", |browser| go(browser, "timber")),
    ("the shed", |browser| browser.click("#place-timber > a")),
    ("open Saw", |browser| go(browser, "saw")),
    ("open Piece", |browser| go(browser, "piece")),
    ("the parts", |browser| {
        browser.run("document.querySelector('#parts .row:nth-child(30)').scrollIntoView();");
    }),
    ("type a length", |browser| {
        browser.run("const field = document.querySelector('#parts .row:nth-child(30) [name=length]'); field.focus(); field.select();");
        let figures =
            browser.run("window.typed = (window.typed ?? 870) + 7; return String(window.typed);");
        for figure in figures.as_str().unwrap().chars() {
            browser.type_on(&figure.to_string());
        }
        browser.press(Key::Tab);
    }),
    ("tick a length bought", |browser| {
        browser.click(".buy .tick:enabled")
    }),
    ("cut", |browser| {
        browser.run("for (const name of ['#bench-cut', '#bench-next']) if (document.querySelector(name).checkVisibility()) { document.querySelector(name).click(); break; }");
    }),
];

fn go(browser: &Browser, name: &str) {
    browser.run_with("location.hash = arguments[0];", vec![name.into()]);
}

/// What must be so before a step, and is not measured.
fn ready(browser: &Browser, step: &str) {
    match step {
        "tick a length bought" => {
            found(browser);
            place(browser, "plan");
        }
        "cut" => place(browser, "saw"),
        _ => {}
    }
}

#[test]
#[ignore = "a measurement"]
fn how_long_the_longest_task_is_at_each_step() {
    let screens = [(360, 740, Touch::Finger), (1_280, 800, Touch::Mouse)];
    for slower in [1, 6] {
        for (width, height, touch) in screens {
            let browser = Browser::open(Screen {
                width,
                height,
                touch,
            });
            browser.devtools(
                "Page.addScriptToEvaluateOnNewDocument",
                json!({ "source": WATCH }),
            );
            opened(&browser);
            browser.devtools("Performance.enable", json!({ "timeDomain": "threadTicks" }));
            browser.slow_down(slower);
            browser.reload();
            found(&browser);
            let mut seen = vec![Vec::new(); STEPS.len()];
            for _ in 0..ROUNDS {
                for (times, (name, step)) in seen.iter_mut().zip(STEPS) {
                    ready(&browser, name);
                    times.push(longest(&browser, || step(&browser)));
                }
                // The work is taken back, so that the next length is typed into a piece of which nothing is bought.
                browser.run(
                    "const undo = document.getElementById('undo');
                     while (JSON.parse(localStorage['lengthwise/piece/sixty']).work && !undo.disabled) undo.click();",
                );
                found(&browser);
            }
            println!(
                "{width} px, {slower} times slower; longest task in ms, middle and worst of {ROUNDS}; middle of the work in all, scripts, style, layout:"
            );
            for ((name, _), times) in STEPS.iter().zip(seen) {
                let sorted = [0, 1, 2, 3, 4].map(|at| {
                    let mut all: Vec<f64> = times.iter().map(|time| time[at]).collect();
                    all.sort_by(f64::total_cmp);
                    all
                });
                let [longest, work, scripts, style, layout] =
                    sorted.each_ref().map(|all| all[all.len() / 2]);
                println!(
                    "  {name:<22} {longest:>5.0} {:>5.0} {work:>8.0} {scripts:>5.0} {style:>5.0} {layout:>5.0}",
                    sorted[0][ROUNDS - 1]
                );
            }
            browser.slow_down(1);
        }
    }
}
