//! The engine without what writes fractions.
//!
//! All that people read is whole numbers, and JSON has a writer of its own for fractions. What the library of Rust has for them is linked all the same, for the
//! messages of a few panics name one. Here its functions stop the engine instead, which such a panic does anyway; then the binder leaves out
//! all that only they called.

use anyhow::Result;
use std::collections::HashSet;
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{CodeSection, Function, Module};
use wasmparser::{CodeSectionReader, KnownCustom, Name, Parser, Payload};

/// What the names of those functions of the library have in them.
const WRITERS: [&str; 2] = ["float_to_decimal_common", "float_to_exponential_common"];

/// The same module with nothing but a stop in each function that writes a fraction. It has to have the names of its functions.
///
/// # Errors
/// The bytes are no module.
pub fn without_writers(module: &[u8]) -> Result<Vec<u8>> {
    let (mut imported, mut writers) = (0, HashSet::new());
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::ImportSection(section) => imported = section.count(),
            Payload::CustomSection(section) => {
                if let KnownCustom::Name(names) = section.as_known() {
                    for names in names {
                        if let Name::Function(names) = names? {
                            for named in names {
                                let named = named?;
                                if WRITERS.iter().any(|writer| named.name.contains(writer)) {
                                    writers.insert(named.index);
                                }
                            }
                        }
                    }
                }
            }
            _ => {}
        }
    }
    let mut written = Module::new();
    let mut stopped = Stopped {
        next: imported,
        writers,
    };
    stopped.parse_core_module(&mut written, Parser::new(0), module)?;
    Ok(written.finish())
}

/// A module written again where some functions only stop it.
struct Stopped {
    /// The number of the function that is written next.
    next: u32,
    writers: HashSet<u32>,
}

impl Reencode for Stopped {
    type Error = Infallible;

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        for body in section {
            let body = body?;
            if self.writers.contains(&self.next) {
                let mut function = Function::new([]);
                function.instructions().unreachable().end();
                code.function(&function);
            } else {
                utils::parse_function_body(self, code, body)?;
            }
            self.next += 1;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{FunctionSection, NameMap, NameSection, TypeSection, ValType};

    #[test]
    fn a_function_that_writes_fractions_stops_the_engine_and_others_stay() {
        let names = ["core::fmt::float::float_to_decimal_common_exact", "float"];
        let (mut types, mut functions) = (TypeSection::new(), FunctionSection::new());
        types.ty().function([], [ValType::I32]);
        let (mut code, mut named) = (CodeSection::new(), NameMap::new());
        for (index, name) in (0..).zip(names) {
            functions.function(0);
            let mut body = Function::new([]);
            body.instructions().i32_const(7).end();
            code.function(&body);
            named.append(index, name);
        }
        let mut name_section = NameSection::new();
        name_section.functions(&named);
        let mut module = Module::new();
        module.section(&types).section(&functions).section(&code);
        module.section(&name_section);
        let after = without_writers(&module.finish()).expect("a module");
        let bodies = Parser::new(0).parse_all(&after).filter_map(|payload| {
            match payload.expect("a module") {
                Payload::CodeSectionEntry(body) => Some(body.as_bytes().to_vec()),
                _ => None,
            }
        });
        // No variables, `unreachable` and `end`; no variables, `i32.const 7` and `end`.
        let expected = [vec![0, 0x00, 0x0b], vec![0, 0x41, 7, 0x0b]];
        assert_eq!(bodies.collect::<Vec<_>>(), expected);
    }

    #[test]
    fn bytes_that_are_no_module_are_refused() {
        assert!(without_writers(b"engine").is_err());
    }
}
