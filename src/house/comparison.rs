//! The output of a comparison: a line of CSV for each problem, and a summary.

use crate::peer::Peer;
use lengthwise::bench::Answer;

/// The names of the columns.
pub const HEAD: &str = "instance,value,bound,proven,native_seconds,wasm_seconds,wasm_by_native,same,wasm_mebibytes,\
     highs_value,highs_proven,highs_seconds,highs_by_native,agree,model_columns,model_rows";

/// One problem, measured.
pub struct Row {
    /// The answer of the native build.
    pub answer: Answer,
    /// The median of the native runs, in seconds.
    pub native: f64,
    /// The median of the WebAssembly runs, in seconds.
    pub wasm: f64,
    /// Whether all runs of both gave the same values, bounds, plan and proof.
    pub same: bool,
    /// The greatest memory of the WebAssembly build, in bytes.
    pub bytes: u64,
    /// The result of HiGHS, where it was run.
    pub highs: Option<Peer>,
}

impl Row {
    /// Whether something that must be the same is not.
    pub fn is_wrong(&self) -> bool {
        let peer = self.highs.as_ref();
        !self.same || peer.is_some_and(|peer| !peer.agrees(&self.answer))
    }
}

impl std::fmt::Display for Row {
    fn fmt(&self, output: &mut std::fmt::Formatter) -> std::fmt::Result {
        let join = |figures: Vec<i64>| {
            let texts = figures.iter().map(i64::to_string);
            texts.collect::<Vec<_>>().join(" ")
        };
        let yes = |is: bool| if is { "yes" } else { "no" };
        let levels = &self.answer.levels;
        write!(
            output,
            "{},{},{},{:.4},{:.4},{:.2},{},{:.1}",
            join(levels.iter().map(|level| level.value).collect()),
            join(levels.iter().map(|level| level.bound).collect()),
            yes(self.answer.proven()),
            self.native,
            self.wasm,
            self.wasm / self.native,
            if self.same { "same" } else { "DIFFERENT" },
            self.bytes as f64 / 1_048_576.0,
        )?;
        match &self.highs {
            None => write!(output, ",,,,,,,"),
            Some(Peer {
                refused: Some(why),
                columns,
                ..
            }) => write!(output, ",{why},no,,,,{columns},"),
            Some(peer) => write!(
                output,
                ",{},{},{:.4},{:.1},{},{},{}",
                if peer.impossible {
                    "impossible".into()
                } else {
                    join(peer.values.clone())
                },
                yes(peer.proven()),
                peer.seconds,
                peer.seconds / self.native,
                if peer.agrees(&self.answer) {
                    "yes"
                } else {
                    "CONTRADICTS"
                },
                peer.columns,
                peer.rows,
            ),
        }
    }
}

/// Prints medians and the spread around them.
pub fn summary(rows: &[Row]) {
    let spread = |name: &str, mut figures: Vec<f64>| {
        figures.sort_by(f64::total_cmp);
        let at = |share: usize| figures[(figures.len() - 1) * share / 4];
        if !figures.is_empty() {
            println!(
                "# {name}: {} problems, least {:.3}, quarter {:.3}, median {:.3}, three quarters {:.3}, most {:.3}",
                figures.len(),
                at(0),
                at(1),
                at(2),
                at(3),
                at(4),
            );
        }
    };
    spread(
        "native seconds",
        rows.iter().map(|row| row.native).collect(),
    );
    spread("wasm seconds", rows.iter().map(|row| row.wasm).collect());
    spread(
        "wasm by native",
        rows.iter().map(|row| row.wasm / row.native).collect(),
    );
    println!(
        "# same values, bounds, plan and proof: {} of {}; proven {}; most memory {} MiB",
        rows.iter().filter(|row| row.same).count(),
        rows.len(),
        rows.iter().filter(|row| row.answer.proven()).count(),
        rows.iter().map(|row| row.bytes).max().unwrap_or(0) >> 20,
    );
    let peers: Vec<(&Row, &Peer)> = rows
        .iter()
        .filter_map(|row| Some((row, row.highs.as_ref()?)))
        .filter(|(_, peer)| peer.refused.is_none())
        .collect();
    spread(
        "HiGHS by native, a limit reached counted as if it were the time",
        peers
            .iter()
            .map(|(row, peer)| peer.seconds / row.native)
            .collect(),
    );
    if !peers.is_empty() {
        println!(
            "# HiGHS proven {} of {}; ahead of it natively on {}; contradictions {}",
            peers.iter().filter(|(_, peer)| peer.proven()).count(),
            peers.len(),
            peers
                .iter()
                .filter(|(row, peer)| row.native < peer.seconds)
                .count(),
            peers.iter().filter(|(row, _)| row.is_wrong()).count(),
        );
    }
}
