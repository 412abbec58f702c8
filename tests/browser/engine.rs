//! The page's side of the engine: replies, plans side by side, and cancelling a plan.

use crate::harness::Browser;
use crate::site;
use serde_json::{Value, json};

/// Runs a script with an `engine` of its own, and the demo job as `demo`.
fn with_engine(browser: &Browser, script: &str) -> Value {
    browser.go(&site::address());
    let begin = "const { Engine, Cancelled } = await import('./engine.js');
        const engine = new Engine();
        const demo = JSON.parse(document.getElementById('example-job').textContent);";
    browser.run_to_end(&format!("{begin}\n{script}"), vec![])
}

#[test]
fn a_quick_question_is_answered_and_a_wrong_one_says_why() {
    let browser = Browser::desktop();
    let replies = with_engine(
        &browser,
        "return [(await engine.call('new')).job.format, await engine.call('saw off')];",
    );
    assert_eq!(replies[0], "lengthwise-job");
    assert_eq!(
        replies[1],
        json!({ "error": "there is no action \"saw off\"" })
    );
}

#[test]
fn plans_run_side_by_side_and_tell_their_progress() {
    let browser = Browser::desktop();
    let seen = with_engine(
        &browser,
        "const heard = [0, 0, 0];
         const plans = [0, 1, 2].map((number) => engine.plan({ job: demo, seconds: 20 }, () => heard[number]++));
         const replies = await Promise.all(plans.map(({ promise }) => promise));
         return { heard, same: replies.every((reply) => JSON.stringify(reply) === JSON.stringify(replies[0])) };",
    );
    assert_eq!(seen["same"], true);
    assert!(
        seen["heard"]
            .as_array()
            .unwrap()
            .iter()
            .all(|times| times.as_u64() > Some(0)),
        "{seen}"
    );
}

#[test]
fn a_plan_called_off_ends_at_once_and_leaves_the_engine_usable() {
    let browser = Browser::desktop();
    let seen = with_engine(
        &browser,
        "const called = engine.plan({ job: demo, seconds: 20 });
         called.cancel();
         const name = await called.promise.then(() => 'planned', (error) => error.name);
         const begun = engine.plan({ job: demo, seconds: 20 });
         await new Promise((resolve) => setTimeout(resolve, 0));
         begun.cancel();
         const waiting = await begun.promise.then(() => 'planned', (error) => error instanceof Cancelled);
         const after = await engine.plan({ job: demo, seconds: 20 }).promise;
         return { name, waiting, after: after.error ?? 'planned', call: (await engine.call('new')).job.aim };",
    );
    assert_eq!(
        seen,
        json!({ "name": "Cancelled", "waiting": true, "after": "planned", "call": "fewest" })
    );
}

#[test]
fn a_change_is_read_once() {
    let browser = Browser::phone();
    crate::page::demo(&browser);
    crate::page::place(&browser, "timber");
    browser.run(
        "window.reads = 0;
         const post = Worker.prototype.postMessage;
         Worker.prototype.postMessage = function (message, ...more) {
           if (message.call === 'read') window.reads += 1;
           return post.call(this, message, ...more);
         };",
    );
    browser.run(
        "const kerf = document.querySelector('#saw-fields [name=kerf]');
         kerf.value = '3 mm';
         kerf.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    browser.wait_until("return window.reads > 0;");
    crate::page::planned(&browser);
    // The list beside the form and the planner want to know the same.
    assert_becomes!(browser.run("return window.reads;"), 1);
}
