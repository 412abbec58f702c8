//! A plan of our own that its check refuses: nobody can read it, and what was shown of it is removed.

use crate::harness::Browser;
use crate::page::{legs_beside_the_demo, place, planned};

/// Stands between the page and its Workers. Where `window.refuse` is set, the plan of a group is replaced by the engine's reply for a plan
/// that fails the check. Where `window.hold` is set, the plan is held back until that is unset. Progress passes in either case.
const BETWEEN: &str = "
    const Plain = window.Worker;
    window.Worker = class extends Plain {
        set onmessage(hear) {
            super.onmessage = (event) => {
                const { data } = event;
                const plan = data.reply !== undefined && JSON.parse(data.reply).part !== undefined;
                if (!plan || !window.refuse) return hear(event);
                const reply = JSON.stringify({ error: 'the planner made a plan that does not hold, which is our error', findings: ['board 1: part 1 is cut short'] });
                const answer = () => window.hold ? setTimeout(answer, 20) : hear({ data: { ...data, reply } });
                answer();
            };
        }
    };";

fn visible(browser: &Browser, id: &str) -> bool {
    let script = format!("return document.getElementById('{id}').checkVisibility();");
    browser.run(&script).as_bool().expect("yes or no")
}

#[test]
fn a_plan_that_its_check_refuses_is_taken_back_and_told_as_our_error() {
    let browser = Browser::phone();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        serde_json::json!({ "source": BETWEEN }),
    );
    legs_beside_the_demo(&browser);
    planned(&browser);
    place(&browser, "plan");
    assert_becomes!(browser.text(".buy .count"), "2 ×");

    // Eleven legs need three lengths, for none holds more than five. That is shown while better is looked for; then the check refuses what comes of it.
    browser.run("window.refuse = window.hold = true;");
    place(&browser, "piece");
    browser.write("#parts .row [name=quantity]", "11");
    place(&browser, "plan");
    browser.wait_for_text(".buy .count", "3 ×");
    browser.run("window.hold = false;");
    browser.wait_for_text("#headline", "No plan: our error");
    assert_soon!(!visible(&browser, "plan-body"));
    let told = browser.text("#explanation");
    assert!(told.contains("our error and not yours"), "{told}");
    assert!(told.contains("cut nothing from it"), "{told}");
    assert!(told.contains("Save this piece to a file"), "{told}");
    assert!(
        told.contains("What the check found: board 1: part 1 is cut short."),
        "{told}"
    );
    browser.screenshot("refused-plan");
    place(&browser, "saw");
    assert_soon!(!visible(&browser, "saw-body"));

    // Once it plans again, all is as before.
    browser.run("window.refuse = false;");
    place(&browser, "piece");
    browser.write("#parts .row [name=quantity]", "8");
    planned(&browser);
    place(&browser, "plan");
    assert_becomes!(browser.text(".buy .count"), "2 ×");
}
