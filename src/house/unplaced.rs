//! The engine without the places of its panics.
//!
//! Every sum, index and slice of the engine may panic, and the compiler passes each the file, line and column of its own: some thousand records
//! and as many addresses in the code, all different, so nothing of it packs well. In the page nobody reads them: a panic is told by its
//! message, and the same job makes it again in the native program, which says where. Here all of them get one empty place.
//!
//! What is taken for a place: an address that is passed last in a call that never returns, and at which a text that ends in `.rs`, a line and
//! a column are recorded. The record is emptied where nothing else of the module refers to it, and then the file's name in the same way: the
//! compiler keeps every text apart from all others. No instruction moves, and none but these addresses changes.

use anyhow::{Context, Result};
use std::collections::{BTreeSet, HashSet};
use std::convert::Infallible;
use std::ops::Range;
use wasm_encoder::Encode;
use wasm_encoder::reencode::{Error, Reencode, utils};
use wasmparser::{DataKind, FunctionBody, MemArg, Operator, Parser, Payload};

/// Bytes of a record: where the file's name starts and its length, line and column, 32 bits each.
const RECORD: u32 = 16;
/// No source has more lines, nor a line more columns.
const LONGEST: u32 = 100_000;

/// The same module with one place, without file, line or column, for all panics.
///
/// # Errors
/// The bytes are no module.
pub fn without_places(module: &[u8]) -> Result<Vec<u8>> {
    let (memory, bodies) = read(module)?;
    let mut told = Vec::new();
    let mut used = HashSet::new();
    for body in &bodies {
        look_through(body, &memory, (&mut told, &mut used))?;
    }
    let in_code = used.clone();
    used.extend(memory.words());
    let is_free =
        |record: &u32| (*record..*record + RECORD).all(|address| !used.contains(&address));
    let free: BTreeSet<u32> = told
        .iter()
        .map(|place| place.record)
        .filter(is_free)
        .collect();
    let names: BTreeSet<(u32, u32)> = free.iter().filter_map(|at| memory.name_of(*at)).collect();
    let mut module = module.to_vec();
    let Some(&one) = free.first() else {
        return Ok(module);
    };
    for place in told {
        let bytes = signed(one);
        if bytes.len() == place.bytes.len() {
            module[place.bytes].copy_from_slice(&bytes);
        }
    }
    for &record in &free {
        let bytes = memory
            .bytes_of(record)
            .context("a record without its bytes")?;
        module[bytes].fill(0);
    }
    // A text without a letter still has an address.
    let bytes = memory.bytes_of(one).context("a record without its bytes")?;
    module[bytes.start..bytes.start + 4].copy_from_slice(&one.to_le_bytes());
    let mut used = in_code;
    used.extend(memory.of(&module).words());
    for (start, length) in names {
        if (start..start + length).all(|address| !used.contains(&address))
            && let Some(bytes) = memory.range(start, length)
        {
            module[bytes].fill(0);
        }
    }
    Ok(module)
}

/// An address in the code that is the place of a panic.
struct Place {
    /// The address.
    record: u32,
    /// Where it stands in the module, without the instruction.
    bytes: Range<usize>,
}

/// What of the memory is set when the engine starts.
struct Memory<'a> {
    module: &'a [u8],
    /// Addresses, and the bytes of the module that are put there.
    parts: Vec<(u32, Range<usize>)>,
}

impl Memory<'_> {
    /// What the same module sets after bytes of it have changed.
    fn of<'a>(&self, module: &'a [u8]) -> Memory<'a> {
        Memory {
            module,
            parts: self.parts.clone(),
        }
    }

    /// The bytes of the module that are put at so many addresses from one on.
    fn range(&self, address: u32, length: u32) -> Option<Range<usize>> {
        self.parts.iter().find_map(|(from, bytes)| {
            let start = bytes.start + address.checked_sub(*from)? as usize;
            let end = start.checked_add(length as usize)?;
            (end <= bytes.end).then_some(start..end)
        })
    }

    /// The bytes of the module that are put at an address, as many as a record has.
    fn bytes_of(&self, address: u32) -> Option<Range<usize>> {
        self.range(address, RECORD)
    }

    /// Where the name of a file of sources stands and its length, if it is recorded at an address with a line and a column.
    fn name_of(&self, address: u32) -> Option<(u32, u32)> {
        let bytes = self
            .bytes_of(address)
            .filter(|_| address.is_multiple_of(4))?;
        let word = |nth: usize| number(&self.module[bytes.start + 4 * nth..]);
        let counts = |number: u32| (1..=LONGEST).contains(&number);
        let file = &self.module[self.range(word(0), word(1))?];
        let is_record = file.ends_with(b".rs") && counts(word(2)) && counts(word(3));
        is_record.then(|| (word(0), word(1)))
    }

    /// Everything that can be an address in it.
    fn words(&self) -> impl Iterator<Item = u32> {
        let aligned = |(from, bytes): &(u32, Range<usize>)| {
            let skipped = (from.wrapping_neg() % 4) as usize;
            self.module[bytes.clone()]
                .get(skipped..)
                .unwrap_or_default()
        };
        let words = self.parts.iter().map(aligned);
        words.flat_map(|bytes| bytes.chunks_exact(4).map(number))
    }
}

/// The first four bytes as a number.
fn number(bytes: &[u8]) -> u32 {
    let mut four = [0; 4];
    four.copy_from_slice(&bytes[..4]);
    u32::from_le_bytes(four)
}

fn read(module: &[u8]) -> Result<(Memory<'_>, Vec<FunctionBody<'_>>)> {
    let (mut parts, mut bodies) = (Vec::new(), Vec::new());
    for payload in Parser::new(0).parse_all(module) {
        match payload? {
            Payload::CodeSectionEntry(body) => bodies.push(body),
            Payload::DataSection(section) => {
                for data in section {
                    let data = data?;
                    let end = data.range.end;
                    let bytes = end - data.data.len()..end;
                    if let DataKind::Active { offset_expr, .. } = data.kind
                        && let Operator::I32Const { value } =
                            offset_expr.get_operators_reader().read()?
                    {
                        parts.push((value as u32, bytes));
                    }
                }
            }
            _ => {}
        }
    }
    Ok((Memory { module, parts }, bodies))
}

/// Finds places in a function, and every other number in it that can be an address.
fn look_through(
    body: &FunctionBody,
    memory: &Memory,
    (told, used): (&mut Vec<Place>, &mut HashSet<u32>),
) -> Result<()> {
    let mut operators = Vec::new();
    for operator in body.get_operators_reader()?.into_iter_with_offsets() {
        operators.push(operator?);
    }
    for (at, (operator, start)) in operators.iter().enumerate() {
        let is_last = |nth: usize, is: fn(&Operator) -> bool| {
            operators.get(at + nth).is_some_and(|next| is(&next.0))
        };
        match operator {
            Operator::I32Const { value } => {
                let ends = is_last(1, |next| matches!(next, Operator::Call { .. }))
                    && is_last(2, |next| matches!(next, Operator::Unreachable));
                let record = *value as u32;
                if ends && memory.name_of(record).is_some() {
                    let bytes = start + 1..operators[at + 1].1;
                    told.push(Place { record, bytes });
                } else {
                    used.insert(record);
                }
            }
            other => {
                Offsets(used).instruction(other.clone())?;
            }
        }
    }
    Ok(())
}

/// What instructions add to the addresses that they read or write.
struct Offsets<'a>(&'a mut HashSet<u32>);

impl Reencode for Offsets<'_> {
    type Error = Infallible;

    fn mem_arg(&mut self, argument: MemArg) -> Result<wasm_encoder::MemArg, Error<Infallible>> {
        self.0.extend(u32::try_from(argument.offset));
        utils::mem_arg(self, argument)
    }
}

/// A number as an instruction has it (signed LEB128).
fn signed(number: u32) -> Vec<u8> {
    let mut bytes = Vec::new();
    (number as i32).encode(&mut bytes);
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{
        CodeSection, ConstExpr, DataSection, Function, FunctionSection, MemorySection, MemoryType,
        Module, TypeSection,
    };

    /// Where memory begins, as in an engine.
    const BASE: u32 = 1 << 20;
    /// Records of places, at `BASE + 16 * nth`: the first three are told by panics, of which the third is read as well; the fourth is only read, the last
    /// has a name of something else than sources.
    const RECORDS: [(&str, u32, u32); 5] = [
        ("src/a.rs", 7, 9),
        ("src/a.rs", 8, 1),
        ("src/b.rs", 70, 20),
        ("src/b.rs", 71, 20),
        ("notices", 5, 5),
    ];
    const NAMES: &str = "src/a.rssrc/b.rsnotices";

    fn record(nth: u32) -> u32 {
        BASE + RECORD * nth
    }

    fn data() -> Vec<u8> {
        let names = record(RECORDS.len() as u32);
        let mut data = Vec::new();
        for (name, line, column) in RECORDS {
            let at = NAMES.find(name).expect("its name") as u32;
            for word in [names + at, name.len() as u32, line, column] {
                data.extend(word.to_le_bytes());
            }
        }
        data.extend(NAMES.bytes());
        data
    }

    /// A module that panics at records 0, 1, 2 and 4, reads the line of record 2, and has record 3 as a number.
    fn module() -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([wasm_encoder::ValType::I32], []);
        let mut functions = FunctionSection::new();
        functions.function(0).function(0);
        let mut memories = MemorySection::new();
        memories.memory(MemoryType {
            minimum: 17,
            maximum: None,
            memory64: false,
            shared: false,
            page_size_log2: None,
        });
        let mut code = CodeSection::new();
        let mut never = Function::new([]);
        never.instructions().unreachable().end();
        let mut body = Function::new([]);
        let mut says = body.instructions();
        for nth in [0, 1, 2, 4] {
            says.local_get(0).if_(wasm_encoder::BlockType::Empty);
            says.i32_const(record(nth) as i32)
                .call(0)
                .unreachable()
                .end();
        }
        let line = wasm_encoder::MemArg {
            offset: u64::from(record(2)) + 8,
            align: 2,
            memory_index: 0,
        };
        says.i32_const(0).i32_load(line).drop();
        says.i32_const(record(3) as i32).drop().end();
        code.function(&never).function(&body);
        let mut all = DataSection::new();
        all.active(0, &ConstExpr::i32_const(BASE as i32), data());
        let mut module = Module::new();
        module
            .section(&types)
            .section(&functions)
            .section(&memories);
        module.section(&code).section(&all);
        module.finish()
    }

    /// The numbers in the second function of a module, and its memory.
    fn said(module: &[u8]) -> (Vec<u32>, Vec<u8>) {
        let (memory, bodies) = read(module).expect("a module");
        let mut numbers = Vec::new();
        for operator in bodies[1].get_operators_reader().expect("code") {
            if let Operator::I32Const { value } = operator.expect("an instruction") {
                numbers.push(value as u32);
            }
        }
        (numbers, module[memory.parts[0].1.clone()].to_vec())
    }

    #[test]
    fn panics_tell_one_empty_place_and_what_is_read_otherwise_stays() {
        let before = module();
        let after = without_places(&before).expect("a module");
        assert_eq!(after.len(), before.len());
        let (numbers, memory) = said(&after);
        // The place of record 2 is told as the others are, and the record stays, for its line is read; record 4 is no place.
        let one = record(0);
        assert_eq!(numbers, [one, one, one, record(4), 0, record(3)]);
        let mut emptied = data();
        emptied[..32].fill(0);
        emptied[..4].copy_from_slice(&one.to_le_bytes());
        // The name that only records 0 and 1 had; those of records 2 and 3 have the other.
        let names = emptied.len() - NAMES.len();
        emptied[names..names + "src/a.rs".len()].fill(0);
        assert_eq!(memory, emptied);
    }

    #[test]
    fn a_module_without_places_stays_as_it_is_and_bytes_that_are_none_are_refused() {
        let once = without_places(&module()).expect("a module");
        assert_eq!(without_places(&once).expect("a module"), once);
        assert!(without_places(b"engine").is_err());
    }
}
