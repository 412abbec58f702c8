//! A module of WebAssembly with other numbers of its functions, wherever one is named.

use anyhow::Result;
use std::convert::Infallible;
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{CodeSectionReader, FunctionSectionReader, Parser};

/// A module written again with some of its own functions, in this order.
pub struct Renumbered {
    /// The functions that the module imports; they have the first numbers and keep them.
    pub imported: u32,
    /// The functions that are kept, in their new order.
    pub kept: Vec<usize>,
    /// For each function the new place of the one that stands for it: its own, or that of an equal one.
    pub places: Vec<u32>,
}

impl Renumbered {
    /// The module, written so.
    ///
    /// # Errors
    /// The bytes are no module.
    pub fn written(mut self, module: &[u8]) -> Result<Vec<u8>> {
        let mut written = Module::new();
        self.parse_core_module(&mut written, Parser::new(0), module)?;
        Ok(written.finish())
    }
}

impl Reencode for Renumbered {
    type Error = Infallible;

    fn function_index(&mut self, function: u32) -> Result<u32, Error<Infallible>> {
        Ok(match function.checked_sub(self.imported) {
            Some(own) => self.imported + self.places[own as usize],
            None => function,
        })
    }

    fn parse_function_section(
        &mut self,
        functions: &mut FunctionSection,
        section: FunctionSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let types = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for function in &self.kept {
            functions.function(types[*function]);
        }
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        code: &mut CodeSection,
        section: CodeSectionReader<'_>,
    ) -> Result<(), Error<Infallible>> {
        let bodies = section.into_iter().collect::<Result<Vec<_>, _>>()?;
        for function in self.kept.clone() {
            utils::parse_function_body(self, code, bodies[function].clone())?;
        }
        Ok(())
    }
}
