// A job in the fragment of a link: deflated and in the letters that addresses allow. The engine is not asked; nothing is sent.

export const MARK = "job=";

export async function packed(job) {
  const stream = new Blob([JSON.stringify(job)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  let letters = "";
  for (const byte of bytes) letters += String.fromCharCode(byte);
  return btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

export async function unpacked(text) {
  const letters = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  const bytes = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return JSON.parse(await new Response(stream).text());
}

// The packed job in an address, or null.
export function fragmentJob(address) {
  const fragment = new URL(address).hash.slice(1);
  return fragment.startsWith(MARK) ? fragment.slice(MARK.length) : null;
}
