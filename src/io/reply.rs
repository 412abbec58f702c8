//! A report as the page receives it.

use super::plan_file;
use crate::io::objects::object;
use crate::plan::Plan;
use crate::report::csv::kind_word;
use crate::report::{BoardReport, BoardSource, Outcome, Report, Setting, Side, Step};
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::Value;

/// The reply to planning: the report, and its plan as a file.
///
/// It is serialised piece by piece. As one value in memory, the boards of a large plan would take several times the memory of their text.
pub struct Told<'a> {
    report: &'a Report,
    plan: &'a Plan,
}

/// The reply to planning.
pub fn report<'a>(report: &'a Report, plan: &'a Plan) -> Told<'a> {
    Told { report, plan }
}

impl Serialize for Told<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        if let Value::Object(fields) = head(self.report) {
            for (name, value) in &fields {
                map.serialize_entry(name, value)?;
            }
        }
        map.serialize_entry("drawings", &self.report.drawings)?;
        map.serialize_entry("boards", &Boards(&self.report.boards))?;
        map.serialize_entry("plan", &plan_file::PlanFile::from(self.plan))?;
        map.end()
    }
}

/// The boards, serialised one at a time.
struct Boards<'a>(&'a [BoardReport]);

impl Serialize for Boards<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(board))
    }
}

/// All but the boards, their drawings and the plan.
fn head(report: &Report) -> Value {
    let totals = &report.buying.totals;
    object!({
        "outcome": match report.outcome { Outcome::Proven => "proven", Outcome::Found => "found" },
        "headline": report.headline,
        "explanation": report.explanation,
        "at_the_yard": report.at_the_yard,
        "faults": [],
        "why": report.why,
        "shares": report.prices.shares,
        "prices": report.prices.each,
        "spoiled": report.spoiled,
        "proof": report.proof.iter().map(|row| object!({
            "sections": row.sections, "measure": row.measure, "name": row.name, "value": row.value, "bound": row.bound,
            "proven": row.proven, "text": row.text,
        })).collect::<Vec<_>>(),
        "buying": {
            "rows": report.buying.rows.iter().map(|row| object!({
                "line": row.line, "section": row.section, "length": row.length, "count": row.count, "price": row.price, "pack": row.pack, "told": row.told,
                "cost": row.cost, "total_length": row.total_length, "yard_cuts": row.yard_cuts,
            })).collect::<Vec<_>>(),
            "totals": { "count": totals.count, "cost": totals.cost, "total_length": totals.total_length },
            "order_lines": report.buying.order_lines,
            "offers": report.buying.offers,
            "bill": report.buying.bill.iter().map(|row| object!({ "name": row.name, "value": row.value })).collect::<Vec<_>>(),
        },
        "alike": report.alike.iter().map(|one| object!({ "first": one.first, "count": one.count, "title": one.title })).collect::<Vec<_>>(),
        "settings": settings(&report.settings),
        "marking": report.marking,
        "legend": report.legend.iter().map(|row| object!({
            "letter": row.letter, "keys": row.keys, "label": row.label, "length": row.length, "colour": row.colour, "texture": row.texture,
            "swatch": row.swatch, "count": row.count,
        })).collect::<Vec<_>>(),
        "back_to_shed": report.back_to_shed.iter().map(|row| object!({
            "section": row.section, "length": row.length, "from": row.from, "mark": row.mark, "board": row.board,
            "flaws": row.flaws,
        })).collect::<Vec<_>>(),
        "left_alone": report.left_alone.iter().map(|row| object!({
            "shed": row.shed, "section": row.section, "length": row.length, "mark": row.mark, "short": row.short, "flaws": row.flaws,
        })).collect::<Vec<_>>(),
        "scrap": { "length": report.scrap.length, "share": report.scrap.share, "text": report.scrap.text },
        "cautions": report.cautions,
        "totals": report.totals.iter().map(|total| object!({ "name": total.name, "value": total.value })).collect::<Vec<_>>(),
    })
}

fn board(board: &BoardReport) -> Value {
    object!({
        "key": board.key,
        "title": board.title,
        "source": match board.source { BoardSource::Yard => "yard", BoardSource::Shed => "shed" },
        "mark": board.mark,
        "bought": board.bought,
        "section": board.section,
        "length": board.length,
        "yard_cut": board.yard_cut,
        "svg": board.svg,
        "summary": board.summary,
        "steps": board.steps.iter().map(step).collect::<Vec<_>>(),
        "settings": settings(&board.settings),
        "offcuts": board.offcuts.iter().map(|offcut| object!({
            "length": offcut.length, "kept": offcut.kept, "text": offcut.text,
        })).collect::<Vec<_>>(),
        "cautions": board.cautions,
    })
}

fn step(step: &Step) -> Value {
    object!({
        "order": step.order, "kind": kind_word(step.kind), "reading": step.reading, "rounded": step.rounded,
        "label": step.label, "letter": step.letter, "keys": step.keys, "part_length": step.part_length, "ends": step.ends,
        "long_edge": step.long_edge, "turn": step.turn, "side": step.side.text(), "usual_side": step.side != Side::Datum,
        "says": step.says(), "tape": step.tape, "hooked": step.hooked, "hint": step.hint, "rip": step.rip, "miss": step.miss, "caution": step.caution,
    })
}

fn settings(settings: &[Setting]) -> Value {
    settings
        .iter()
        .map(|setting| object!({ "length": setting.length, "count": setting.count, "labels": setting.labels }))
        .collect()
}
