//! How long the page keeps a person waiting at one go: the longest task of the browser's own observer, step by step. A measurement.
//!
//! `cargo test --features browser --test browser calm -- --ignored --nocapture` prints the table. The goal is no task over 50 ms, and none
//! over 200 ms on a device six times slower. Both are printed and decide nothing, since the time depends on the machine. `LENGTHWISE_SITE`
//! names another build of the page, to be measured by turns with this one.
//!
//! Each task is recorded by Chromium's tracing, with the time that passes and the time for which its thread is at work. On a machine that is
//! shared a thread is often set aside in the middle of a task, so what passes is too much. The work at full speed, times six, stands for the
//! slower device: Chromium's own brake counts the time for which the thread was set aside as work and multiplies it. It is printed all the
//! same.

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

/// After which the recording of a step has surely begun, and what came before it is over.
const BEGUN: Duration = Duration::from_millis(1_500);

/// How much longer a step takes for each time that the device is slower.
const SLOWER: Duration = Duration::from_millis(300);

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

/// The longest task while a step is taken and what follows from it is shown: by the time that passed, and by the work of its thread.
fn longest(browser: &Browser, slower: u32, step: impl FnOnce()) -> [f64; 2] {
    // The driver begins the next recording a while after it has told the last one, and after a long one the next may stay empty.
    for _ in 0..2 {
        browser.tasks();
        std::thread::sleep(BEGUN);
    }
    step();
    std::thread::sleep(STEP + SLOWER * (slower - 1));
    let tasks = browser.tasks();
    [0, 1].map(|at| tasks.iter().map(|task| task[at]).fold(0.0, f64::max))
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
            let browser = Browser::recorded(Screen {
                width,
                height,
                touch,
            });
            opened(&browser);
            browser.slow_down(slower);
            browser.reload();
            found(&browser);
            let mut seen = vec![Vec::new(); STEPS.len()];
            for _ in 0..ROUNDS {
                for (times, (name, step)) in seen.iter_mut().zip(STEPS) {
                    ready(&browser, name);
                    times.push(longest(&browser, slower, || step(&browser)));
                }
                // The work is taken back, so that the next length is typed into a piece of which nothing is bought.
                browser.run(
                    "const undo = document.getElementById('undo');
                     while (JSON.parse(localStorage['lengthwise/piece/sixty']).work && !undo.disabled) undo.click();",
                );
                found(&browser);
            }
            println!(
                "{width} px, {slower} times slower; longest task in ms, middle and worst of {ROUNDS}: passed, worked, six times that"
            );
            for ((name, _), times) in STEPS.iter().zip(seen) {
                let [passed, worked] = [0, 1].map(|at| {
                    // Where nothing was recorded nothing is known.
                    let recorded = times.iter().map(|time| time[at]).filter(|ms| *ms > 0.0);
                    let mut all: Vec<f64> = recorded.collect();
                    if all.is_empty() {
                        all.push(f64::NAN);
                    }
                    all.sort_by(f64::total_cmp);
                    [all[all.len() / 2], *all.last().unwrap()]
                });
                let slow = if slower == 1 {
                    worked.map(|ms| format!("{:>5.0}", 6.0 * ms)).join(" ")
                } else {
                    String::new()
                };
                println!(
                    "  {name:<22} {:>5.0} {:>5.0} {:>8.0} {:>5.0}    {slow}",
                    passed[0], passed[1], worked[0], worked[1]
                );
            }
            browser.slow_down(1);
        }
    }
}
