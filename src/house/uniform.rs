//! The functions of the engine written in one way, where it makes no difference to what they do.
//!
//! gzip packs what it has seen before. The compiler gives a function's variables numbers in the order in which it met them, and notes with every
//! read and write of memory how well it knows the address to be aligned. Neither changes what an instruction does. Here a
//! function's variables of a type are numbered by how often they are used, so that the same few numbers are everywhere, and every address is
//! noted as aligned as well as it can be; that is a hint, and WebAssembly allows it to be wrong. And of functions with the same type and the same
//! instructions one is kept, which is called for all: again and again, for those that called different ones of them may then be the same themselves.

use crate::renumbered::Renumbered;
use anyhow::Result;
use std::cmp::Reverse;
use std::collections::HashMap;
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{CodeSection, Function, Instruction, MemArg, Module};
use wasmparser::{CodeSectionReader, FunctionBody, Operator, Parser, Payload, ValType};

/// The same module with its functions written in one way, and each of them once.
///
/// # Errors
/// The bytes are no module.
pub fn written_alike(module: &[u8]) -> Result<Vec<u8>> {
    let mut written = Module::new();
    let mut plain = Plain {
        taken: taken(module)?,
        next: 0,
    };
    plain.parse_core_module(&mut written, Parser::new(0), module)?;
    let mut module = written.finish();
    while let Some(fewer) = once(&module)? {
        module = fewer;
    }
    Ok(module)
}

/// How many values each function of the module takes; those have the first numbers of its variables.
fn taken(module: &[u8]) -> Result<Vec<u32>> {
    let (mut types, mut taken) = (Vec::new(), Vec::new());
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::TypeSection(section) => {
                for of in section.into_iter_err_on_gc_types() {
                    types.push(of?.params().len() as u32);
                }
            }
            Payload::FunctionSection(section) => {
                for of in section {
                    taken.push(types[of? as usize]);
                }
            }
            _ => {}
        }
    }
    Ok(taken)
}

/// A module written again with other numbers of variables and other hints.
struct Plain {
    /// How many values each function takes.
    taken: Vec<u32>,
    /// The function that is written next.
    next: usize,
}

impl Reencode for Plain {
    type Error = Infallible;

    fn mem_arg(&mut self, argument: wasmparser::MemArg) -> Result<MemArg, Error<Infallible>> {
        let best = u32::from(argument.max_align);
        let argument = utils::mem_arg(self, argument)?;
        Ok(MemArg {
            align: best,
            ..argument
        })
    }

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        for body in section {
            let taken = self.taken[self.next];
            self.next += 1;
            code.function(&self.renumbered(taken, &body?)?);
        }
        Ok(())
    }
}

impl Plain {
    /// A function with its variables by type, those most used first.
    fn renumbered(
        &mut self,
        taken: u32,
        body: &FunctionBody,
    ) -> Result<Function, Error<Infallible>> {
        let mut variables = Vec::new();
        for group in body.get_locals_reader()? {
            let (count, of) = group?;
            variables.extend((0..count).map(|_| Variable {
                of,
                uses: 0,
                first: 0,
            }));
        }
        let operators = body.get_operators_reader()?.into_iter();
        let operators = operators.collect::<wasmparser::Result<Vec<_>>>()?;
        for (at, operator) in operators.iter().enumerate() {
            if let Operator::LocalGet { local_index }
            | Operator::LocalSet { local_index }
            | Operator::LocalTee { local_index } = operator
                && let Some(own) = local_index.checked_sub(taken)
            {
                let variable = &mut variables[own as usize];
                if variable.uses == 0 {
                    variable.first = at;
                }
                variable.uses += 1;
            }
        }
        let mut order: Vec<usize> = (0..variables.len()).collect();
        order.retain(|own| variables[*own].uses > 0);
        order.sort_by_key(|own| {
            let variable = &variables[*own];
            (rank(variable.of), Reverse(variable.uses), variable.first)
        });
        let mut numbers = vec![0; variables.len()];
        let mut types = Vec::new();
        for (number, own) in (taken..).zip(order) {
            numbers[own] = number;
            types.push(self.val_type(variables[own].of)?);
        }
        let mut function = Function::new_with_locals_types(types);
        for operator in operators {
            let mut instruction = self.instruction(operator)?;
            if let Instruction::LocalGet(number)
            | Instruction::LocalSet(number)
            | Instruction::LocalTee(number) = &mut instruction
                && let Some(own) = number.checked_sub(taken)
            {
                *number = numbers[own as usize];
            }
            function.instruction(&instruction);
        }
        Ok(function)
    }
}

/// A variable of a function that is not passed to it.
struct Variable {
    of: ValType,
    uses: usize,
    /// The instruction that uses it first.
    first: usize,
}

/// The place of a type of variables among all.
fn rank(of: ValType) -> u8 {
    match of {
        ValType::I32 => 0,
        ValType::I64 => 1,
        ValType::F64 => 2,
        ValType::F32 => 3,
        ValType::V128 => 4,
        ValType::Ref(_) => 5,
    }
}

/// The same module with the first of equal functions for all of them; `None` where no two are equal.
fn once(module: &[u8]) -> Result<Option<Vec<u8>>> {
    let (mut imported, mut types, mut bodies) = (0, Vec::new(), Vec::new());
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::ImportSection(section) => imported = section.count(),
            Payload::FunctionSection(section) => {
                types = section
                    .into_iter()
                    .collect::<wasmparser::Result<Vec<_>>>()?;
            }
            Payload::CodeSectionEntry(body) => bodies.push(body.as_bytes()),
            _ => {}
        }
    }
    let (mut places, mut kept) = (Vec::new(), Vec::new());
    let mut known: HashMap<(u32, &[u8]), u32> = HashMap::new();
    for (function, body) in bodies.iter().enumerate() {
        let place = *known.entry((types[function], body)).or_insert_with(|| {
            kept.push(function);
            kept.len() as u32 - 1
        });
        places.push(place);
    }
    if kept.len() == bodies.len() {
        return Ok(None);
    }
    let one = Renumbered {
        imported,
        kept,
        places,
    };
    one.written(module).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{ExportKind, ExportSection, FunctionSection, TypeSection};

    /// What is exported as `f0`, `f1` and so on: reads of memory with a hint, and calls of functions by number.
    enum Does {
        Read { align: u32 },
        Call(u32),
    }

    /// A module of functions that take nothing, all exported.
    fn module(all: &[Does]) -> Vec<u8> {
        let (mut types, mut functions) = (TypeSection::new(), FunctionSection::new());
        types.ty().function([], []);
        let (mut exports, mut code) = (ExportSection::new(), CodeSection::new());
        for (index, does) in (0..).zip(all) {
            functions.function(0);
            exports.export(&format!("f{index}"), ExportKind::Func, index);
            let mut body = Function::new([]);
            let mut says = body.instructions();
            match does {
                Does::Read { align } => {
                    let from = MemArg {
                        offset: 8,
                        align: *align,
                        memory_index: 0,
                    };
                    says.i32_const(0).i64_load(from).drop();
                }
                Does::Call(function) => {
                    says.call(*function);
                }
            }
            says.end();
            code.function(&body);
        }
        let mut memories = wasm_encoder::MemorySection::new();
        memories.memory(wasm_encoder::MemoryType {
            minimum: 1,
            maximum: None,
            memory64: false,
            shared: false,
            page_size_log2: None,
        });
        let mut module = Module::new();
        module.section(&types).section(&functions);
        module.section(&memories).section(&exports).section(&code);
        module.finish()
    }

    /// The numbers of the exported functions, and the instructions of each function.
    fn said(module: &[u8]) -> (Vec<u32>, Vec<Vec<String>>) {
        let (mut exported, mut bodies) = (Vec::new(), Vec::new());
        for payload in Parser::new(0).parse_all(module) {
            match payload.expect("a module") {
                Payload::ExportSection(all) => {
                    exported = all.into_iter().flatten().map(|one| one.index).collect();
                }
                Payload::CodeSectionEntry(body) => {
                    let operators = body.get_operators_reader().expect("code");
                    let shown = |operator: Operator| match operator {
                        Operator::I64Load { memarg } => format!("load {}", memarg.align),
                        Operator::Call { function_index } => format!("call {function_index}"),
                        Operator::LocalGet { local_index } => format!("get {local_index}"),
                        Operator::LocalSet { local_index } => format!("set {local_index}"),
                        other => format!("{other:?}"),
                    };
                    bodies.push(operators.into_iter().flatten().map(shown).collect());
                }
                _ => {}
            }
        }
        (exported, bodies)
    }

    #[test]
    fn functions_that_are_equal_once_their_hints_and_calls_are_stand_once() {
        // The reads differ in their hints; then the first two calls are the same, and then the two that call those.
        let before = module(&[
            Does::Read { align: 0 },
            Does::Call(0),
            Does::Read { align: 3 },
            Does::Call(2),
            Does::Call(1),
            Does::Call(3),
            Does::Call(4),
        ]);
        let after = written_alike(&before).expect("a module");
        let (exported, bodies) = said(&after);
        assert_eq!(exported, [0, 1, 0, 1, 2, 2, 3]);
        let calls: Vec<&str> = bodies.iter().map(|body| body[0].as_str()).collect();
        assert_eq!(calls[1..], ["call 0", "call 1", "call 2"]);
        assert_eq!(bodies[0][1], "load 3");
        assert_eq!(written_alike(&after).expect("a module"), after);
    }

    #[test]
    fn variables_are_numbered_by_use_behind_what_a_function_is_passed() {
        use wasm_encoder::ValType::{F64, I32};
        let (mut types, mut functions) = (TypeSection::new(), FunctionSection::new());
        types.ty().function([F64], []);
        functions.function(0);
        let mut body = Function::new([(1, F64), (3, I32)]);
        let mut says = body.instructions();
        // 1 holds a fraction; of 2, 3 and 4 the first is never used, and the last most.
        says.local_get(0).local_set(1);
        says.local_get(4).local_set(3).local_get(4).local_set(4);
        says.end();
        let mut code = CodeSection::new();
        code.function(&body);
        let mut module = Module::new();
        module.section(&types).section(&functions).section(&code);
        let after = written_alike(&module.finish()).expect("a module");
        let (_, bodies) = said(&after);
        let expected = ["get 0", "set 3", "get 1", "set 2", "get 1", "set 1", "End"];
        assert_eq!(bodies, [expected]);
        let groups = Parser::new(0)
            .parse_all(&after)
            .find_map(|payload| match payload {
                Ok(Payload::CodeSectionEntry(body)) => body.get_locals_reader().ok(),
                _ => None,
            });
        let groups = groups.expect("a function").into_iter().flatten();
        assert_eq!(
            groups.collect::<Vec<_>>(),
            [(2, ValType::I32), (1, ValType::F64)]
        );
    }

    #[test]
    fn bytes_that_are_no_module_are_refused() {
        assert!(written_alike(b"engine").is_err());
    }
}
