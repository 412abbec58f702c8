//! The functions of the engine in an order that gzip packs well.
//!
//! gzip finds repetitions no more than 32 KB back, and the binder sorts functions by their size. Code that was made from the same source for
//! several types is then often too far apart. Here each function is followed by the one that has most in common with what stands before it:
//! of all that are left, the one whose runs of a few bytes occur there most often, for its size. That is the usual nearest-neighbour walk; it
//! ends because each step takes one function. Only the order and the numbers of functions change, nothing that they do.

use crate::renumbered::Renumbered;
use anyhow::Result;
use std::collections::{HashMap, HashSet};
use wasmparser::{Parser, Payload};

/// The bytes of a run that counts as something in common. With 4, chance finds too many, and with 8 too few: 1 % more in both cases.
const RUN: usize = 6;

/// How many bytes before its place a function is compared with. Half of what gzip sees, since a function is compared before those that
/// come between are known: 8 to 28 KB make no difference of half a percent.
const SEEN: usize = 16 << 10;

/// Added to a function's runs before their share is taken, so that tiny functions do not go first for a few common bytes.
const TINY: usize = 30;

/// The same module with its functions beside others like them.
///
/// # Errors
/// The bytes are no module.
pub fn beside_their_like(module: &[u8]) -> Result<Vec<u8>> {
    let mut imported = 0;
    let mut bodies = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::ImportSection(section) => imported = section.count(),
            Payload::CodeSectionEntry(body) => bodies.push(body.as_bytes()),
            _ => {}
        }
    }
    let order = walk(&bodies);
    let mut places = vec![0; order.len()];
    for (place, function) in (0..).zip(&order) {
        places[*function] = place;
    }
    Renumbered {
        imported,
        kept: order,
        places,
    }
    .written(module)
}

/// The functions' numbers in their new order, the largest first.
fn walk(bodies: &[&[u8]]) -> Vec<usize> {
    let (runs, holders) = runs(bodies);
    // How often a run occurs in what is seen, and how many of a function's runs occur there.
    let mut seen = vec![0_u32; holders.len()];
    let mut common = vec![0_u64; bodies.len()];
    let mut left: Vec<usize> = (0..bodies.len()).collect();
    let mut order: Vec<usize> = Vec::new();
    let (mut first_seen, mut bytes_seen) = (0, 0);
    let share = |function: usize, common: &[u64]| {
        (1_000_000 * common[function]) / (runs[function].len() + TINY) as u64
    };
    while let Some(at) = (0..left.len()).max_by_key(|at| {
        let function = left[*at];
        (
            share(function, &common),
            bodies[function].len(),
            usize::MAX - function,
        )
    }) {
        let next = left.swap_remove(at);
        order.push(next);
        bytes_seen += bodies[next].len();
        for run in &runs[next] {
            seen[*run] += 1;
            if seen[*run] == 1 {
                holders[*run].iter().for_each(|holder| common[*holder] += 1);
            }
        }
        while bytes_seen > SEEN && order[first_seen] != next {
            let last = order[first_seen];
            first_seen += 1;
            bytes_seen -= bodies[last].len();
            for run in &runs[last] {
                seen[*run] -= 1;
                if seen[*run] == 0 {
                    holders[*run].iter().for_each(|holder| common[*holder] -= 1);
                }
            }
        }
    }
    order
}

/// The numbers of each function's runs, and of each run's functions.
fn runs(bodies: &[&[u8]]) -> (Vec<Vec<usize>>, Vec<Vec<usize>>) {
    let mut numbers = HashMap::new();
    let mut holders: Vec<Vec<usize>> = Vec::new();
    let runs = bodies.iter().enumerate().map(|(function, body)| {
        let own: HashSet<&[u8]> = body.windows(RUN).collect();
        let own = own.into_iter().map(|run| {
            let number = *numbers.entry(run).or_insert_with(|| {
                holders.push(Vec::new());
                holders.len() - 1
            });
            holders[number].push(function);
            number
        });
        own.collect()
    });
    (runs.collect(), holders)
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{
        CodeSection, ConstExpr, ElementSection, Elements, EntityType, ExportKind, ExportSection,
        Function, FunctionSection, ImportSection, Module, StartSection, TableSection, TableType,
        TypeSection,
    };
    use wasmparser::{ElementItems, Operator};

    /// What a function does: an import calls nothing, `i32.const` tells functions apart, and each calls the one given.
    const CALLS: [(i32, u32); 5] = [
        (1_000_007, 3),
        (5, 0),
        (1_000_007, 1),
        (77_777, 5),
        (1_000_007, 4),
    ];

    /// A module that imports one function and has those of [`CALLS`], all exported; the fourth is the start and the second in a table.
    fn module() -> Vec<u8> {
        let (mut types, mut imports) = (TypeSection::new(), ImportSection::new());
        types.ty().function([], []);
        types.ty().function([], []);
        imports.import("page", "told", EntityType::Function(0));
        let (mut functions, mut code) = (FunctionSection::new(), CodeSection::new());
        let mut exports = ExportSection::new();
        for (index, (number, calls)) in (0..).zip(CALLS) {
            functions.function(index % 2);
            exports.export(&format!("f{index}"), ExportKind::Func, 1 + index);
            let mut body = Function::new([]);
            let mut says = body.instructions();
            for _ in 0..if number > 1_000_000 { 9 } else { 3 } {
                says.i32_const(number).drop();
            }
            says.call(calls).end();
            code.function(&body);
        }
        let mut tables = TableSection::new();
        tables.table(TableType {
            element_type: wasm_encoder::RefType::FUNCREF,
            table64: false,
            minimum: 1,
            maximum: None,
            shared: false,
        });
        let mut elements = ElementSection::new();
        let listed = Elements::Functions(vec![2].into());
        elements.active(None, &ConstExpr::i32_const(0), listed);
        let mut module = Module::new();
        module.section(&types).section(&imports).section(&functions);
        module.section(&tables).section(&exports);
        module.section(&StartSection { function_index: 4 });
        module.section(&elements).section(&code);
        module.finish()
    }

    /// What a module says of its functions: type, number and callee of each by its exported name, start and table by such names, and the
    /// names in the order of the functions.
    #[derive(Debug, Default, PartialEq)]
    struct Said {
        functions: Vec<(String, u32, i32, String)>,
        start: String,
        table: Vec<String>,
    }

    fn said(module: &[u8]) -> (Said, Vec<String>) {
        let mut names = vec!["told".to_owned(); 1 + CALLS.len()];
        let (mut types, mut read, mut said) = (Vec::new(), Vec::new(), Said::default());
        for payload in Parser::new(0).parse_all(module) {
            match payload.expect("a module") {
                Payload::FunctionSection(all) => types = all.into_iter().flatten().collect(),
                Payload::ExportSection(all) => all
                    .into_iter()
                    .flatten()
                    .for_each(|export| names[export.index as usize] = export.name.to_owned()),
                Payload::StartSection { func, .. } => said.start = names[func as usize].clone(),
                Payload::ElementSection(all) => {
                    for element in all.into_iter().flatten() {
                        if let ElementItems::Functions(listed) = element.items {
                            let named = listed
                                .into_iter()
                                .flatten()
                                .map(|f| names[f as usize].clone());
                            said.table.extend(named);
                        }
                    }
                }
                Payload::CodeSectionEntry(body) => {
                    let (mut number, mut calls) = (0, 0);
                    for operator in body
                        .get_operators_reader()
                        .expect("code")
                        .into_iter()
                        .flatten()
                    {
                        match operator {
                            Operator::I32Const { value } => number = value,
                            Operator::Call { function_index } => calls = function_index,
                            _ => {}
                        }
                    }
                    read.push((number, names[calls as usize].clone()));
                }
                _ => {}
            }
        }
        let order = names.split_off(1);
        let all = order.iter().zip(types).zip(read);
        said.functions = all
            .map(|((name, ty), (number, calls))| (name.clone(), ty, number, calls))
            .collect();
        said.functions.sort();
        (said, order)
    }

    #[test]
    fn functions_alike_stand_together_and_each_still_calls_what_it_called() {
        let before = module();
        let after = beside_their_like(&before).expect("a module");
        let (told_before, order_before) = said(&before);
        let (told_after, order_after) = said(&after);
        assert_eq!(told_before, told_after);
        assert_eq!(told_after.start, "f3");
        assert_eq!(told_after.table, ["f1"]);
        assert_eq!(order_before, ["f0", "f1", "f2", "f3", "f4"]);
        // The three with the same numbers, then those that have nothing in common with others, the longer one first.
        assert_eq!(order_after, ["f0", "f2", "f4", "f3", "f1"]);
    }

    #[test]
    fn bytes_that_are_no_module_are_refused() {
        assert!(beside_their_like(b"engine").is_err());
    }
}
