// The text of a file. Spreadsheets write characters beyond ASCII in several encodings.

export async function textOf(file) {
  return decoded(new Uint8Array(await file.arrayBuffer()));
}

// A byte-order mark tells the two forms of UTF-16 apart. Bytes that are no UTF-8 are read as Windows-1252, the old encoding of Western
// spreadsheets.
export function decoded(bytes) {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
