// The text of a file. Spreadsheets write the marks that go beyond the plainest letters in several ways.

export async function textOf(file) {
  return decoded(new Uint8Array(await file.arrayBuffer()));
}

// A byte-order mark says which of the two-byte forms it is; what is no UTF-8 is taken for the old form of Western spreadsheets.
export function decoded(bytes) {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
