//! A picture of the choices: lengths across, money up, or timber where a price is missing.
//!
//! A drawing has its own light background and its own ink, as those of the boards have. Each point can be touched, or reached with the keyboard: it is a
//! button with a name of its own. All coordinates are whole numbers.

use super::found::{Choice, Choices};
use super::words::{bought_text, choice_text};
use crate::bill::basis;
use crate::job::Job;
use crate::report::{INK, PAPER};
use crate::shown;
use crate::wording::long_length;

/// The room of the picture, and of the points in it.
const WIDTH: i64 = 320;
const HEIGHT: i64 = 190;
const LEFT: i64 = 74;
const RIGHT: i64 = 296;
const TOP: i64 = 26;
const BOTTOM: i64 = 140;
/// How far from a point a finger still touches it.
const REACH: i64 = 16;
/// Room that a number takes on the axis across.
const NUMBER: i64 = 26;

/// A picture of the choices with its axes, an SVG in which each can be touched: `data-choice` is its index. Empty where there is nothing to choose.
pub fn picture(job: &Job, choices: &Choices) -> String {
    let found = &choices.found;
    let (Some(first), priced) = (found.first(), found.iter().all(|one| one.money.is_some())) else {
        return String::new();
    };
    let up = |choice: &Choice| match choice.money.filter(|_| priced) {
        Some(money) => money.minor(),
        None => choice.timber.ticks(),
    };
    let range = |value: &dyn Fn(&Choice) -> i64| {
        let values = || found.iter().map(value);
        [values().min().unwrap_or(0), values().max().unwrap_or(0)]
    };
    let across = range(&|choice| choice.lengths);
    let upwards = range(&up);
    let x = |lengths: i64| placed(lengths, across, [LEFT + 14, RIGHT - 14]);
    let y = |value: i64| placed(value, upwards, [BOTTOM - 14, TOP + 8]);
    let mut markup = format!(
        "<path d=\"M{LEFT} {TOP}V{BOTTOM}H{RIGHT}\" fill=\"none\" stroke=\"{INK}\"/>\
         <text x=\"6\" y=\"16\">{}</text><text x=\"{RIGHT}\" y=\"{}\" text-anchor=\"end\">lengths</text>",
        match priced {
            true => format!("money{}", basis(job)),
            false => "timber".into(),
        },
        HEIGHT - 8,
    );
    for value in [upwards[0], upwards[1]] {
        let of = found
            .iter()
            .find(|choice| up(choice) == value)
            .unwrap_or(first);
        let money = of.money.filter(|_| priced);
        let text = money.map(|money| money.show(job.decimal()));
        let text = text.unwrap_or_else(|| long_length(job, of.timber));
        markup.push_str(&format!(
            "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}</text>",
            LEFT - 6,
            y(value) + 4,
            shown::markup(&text)
        ));
        if upwards[0] == upwards[1] {
            break;
        }
    }
    let mut free = 0;
    for choice in found.iter().filter(|choice| choice.lengths != across[1]) {
        let at = x(choice.lengths);
        if at - NUMBER / 2 >= free && at + NUMBER <= x(across[1]) {
            markup.push_str(&number(at, choice.lengths));
            free = at + NUMBER / 2;
        }
    }
    markup.push_str(&number(x(across[1]), across[1]));
    for (index, choice) in found.iter().enumerate() {
        markup.push_str(&point(
            job,
            choices,
            index,
            [x(choice.lengths), y(up(choice))],
        ));
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"lw-choices\" role=\"group\" aria-label=\"The choices\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" \
         font-family=\"system-ui, sans-serif\" font-size=\"13\" fill=\"{INK}\">\
         <rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"{PAPER}\"/>{markup}</svg>"
    )
}

/// A point that can be touched. In that of the plan as it is today the page shows a dot.
fn point(job: &Job, choices: &Choices, index: usize, [x, y]: [i64; 2]) -> String {
    let choice = &choices.found[index];
    let name = format!(
        "{}: {}",
        choice_text(choices, index),
        bought_text(job, choice)
    );
    let name = shown::markup(&name);
    format!(
        "<g class=\"lw-choice\" role=\"button\" tabindex=\"0\" data-choice=\"{index}\" aria-pressed=\"{}\" aria-label=\"{name}\"><title>{name}</title>\
         <circle cx=\"{x}\" cy=\"{y}\" r=\"{REACH}\" fill=\"{PAPER}\" fill-opacity=\"0\"/>\
         <circle cx=\"{x}\" cy=\"{y}\" r=\"7\" fill=\"{PAPER}\" stroke=\"{INK}\" stroke-width=\"2\"/>\
         <circle class=\"lw-now\" cx=\"{x}\" cy=\"{y}\" r=\"4\" fill=\"{INK}\"/></g>",
        choice.today,
    )
}

fn number(at: i64, lengths: i64) -> String {
    format!(
        "<text x=\"{at}\" y=\"{}\" text-anchor=\"middle\">{lengths}</text>",
        BOTTOM + 18
    )
}

/// Where a value lies between two places.
fn placed(value: i64, [least, most]: [i64; 2], [from, to]: [i64; 2]) -> i64 {
    if least == most {
        return (from + to) / 2;
    }
    let part = i128::from(value - least) * i128::from(to - from);
    let part = part / i128::from(most - least);
    // It lies between two whole numbers of the picture.
    from + i64::try_from(part).unwrap_or(0)
}
