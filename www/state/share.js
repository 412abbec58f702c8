// Links whose fragment is a whole piece. The engine writes and reads them; nothing is sent.

// The fragment of an address that carries a piece, or null.
export function jobFragment(address) {
  const fragment = new URL(address).hash.slice(1);
  return /^job\d*=/.test(fragment) ? fragment : null;
}

// Who can follow a link to this page: "all", only this "computer", or nobody, since it lies in a "file".
export function reachOf(address) {
  const { protocol, hostname } = new URL(address);
  if (protocol === "file:") return "file";
  return hostname === "localhost" || hostname === "[::1]" || /^127\./.test(hostname) ? "computer" : "all";
}
