//! HiGHS on an arc-flow model: the general solver with which the engine is compared.

use crate::companion::Companion;
use crate::setup;
use crate::workshop::root;
use anyhow::{Context, Result};
use lengthwise::bench::{Answer, ArcFlow, Instance, mps};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Most arcs of a model that is written; beyond that a general solver has no chance, and the file is too large.
const MOST_ARCS: usize = 3_000_000;

/// HiGHS in a Python environment of its own.
pub struct Highs {
    companion: Companion,
    models: PathBuf,
    seconds: f64,
}

impl Highs {
    /// Starts it. Models are written into `models`; `seconds` is the time limit for one.
    pub fn start(folder: &Path, models: PathBuf, seconds: f64) -> Result<Highs> {
        let python = setup::highs(&folder.join("python"))?;
        fs::create_dir_all(&models)?;
        let runner = root().join("tests/bench/highs.py");
        Ok(Highs {
            companion: Companion::start(Command::new(python).arg(runner))?,
            models,
            seconds,
        })
    }

    /// Writes the model of a problem and has it solved.
    pub fn solve(&mut self, instance: &Instance) -> Result<Peer> {
        let levels = instance
            .problem
            .boards
            .first()
            .map_or(0, |board| board.cost.len());
        let mut peer = Peer {
            values: vec![],
            impossible: false,
            levels,
            seconds: 0.0,
            columns: 0,
            rows: 0,
            refused: None,
        };
        let graph = match ArcFlow::of(&instance.problem) {
            Ok(graph) if graph.arcs.len() > MOST_ARCS => {
                peer.columns = graph.arcs.len() as u64;
                peer.refused = Some("too large a model".to_owned());
                return Ok(peer);
            }
            Ok(graph) => graph,
            Err(why) => {
                peer.refused = Some(why);
                return Ok(peer);
            }
        };
        let model = self.models.join(format!("{}.mps", instance.name));
        fs::write(&model, mps(&instance.name, &instance.problem, &graph))?;
        let answer = self.companion.ask(&json!({
            "model": model, "levels": levels, "seconds": self.seconds,
        }))?;
        let values = answer["values"].as_array().context("no values")?;
        peer.values = values.iter().filter_map(Value::as_i64).collect();
        peer.impossible = answer["impossible"] == true;
        peer.seconds = answer["seconds"].as_f64().context("no time")?;
        peer.columns = answer["columns"].as_u64().unwrap_or(0);
        peer.rows = answer["rows"].as_u64().unwrap_or(0);
        Ok(peer)
    }
}

/// The result of HiGHS, or why it was not run.
pub struct Peer {
    /// The total of each level that was proven in time.
    pub values: Vec<i64>,
    /// Whether it has shown that there is no plan.
    pub impossible: bool,
    levels: usize,
    /// Seconds that solving took.
    pub seconds: f64,
    /// The size of the model.
    pub columns: u64,
    /// The size of the model.
    pub rows: u64,
    /// Why it was not run.
    pub refused: Option<String>,
}

impl Peer {
    /// Whether every level is proven.
    pub fn proven(&self) -> bool {
        self.refused.is_none() && (self.impossible || self.values.len() == self.levels)
    }

    /// Whether what one solver has found and what the other has proven can both be true.
    pub fn agrees(&self, answer: &Answer) -> bool {
        if self.impossible {
            return answer.levels.is_empty();
        }
        if answer.impossible && !self.values.is_empty() {
            return false;
        }
        for (level, &value) in answer.levels.iter().zip(&self.values) {
            if value > level.value || value < level.bound {
                return false;
            }
            // Where the engine did not reach this value, HiGHS' next level is about different plans.
            if value < level.value {
                break;
            }
        }
        true
    }
}
