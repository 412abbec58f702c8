// Links whose fragment is a whole piece. The engine makes and reads them; nothing is sent.

// The fragment of an address that holds a piece or a part of one, or null.
export function jobFragment(address) {
  const fragment = new URL(address).hash.slice(1);
  return /^(job|part)\d*=/.test(fragment) ? fragment : null;
}

// Who can follow a link to this page: "all", only this "computer", or nobody, where the page is a "file".
export function reachOf(address) {
  const { protocol, hostname } = new URL(address);
  if (protocol === "file:") return "file";
  return hostname === "localhost" || hostname === "[::1]" || /^127\./.test(hostname) ? "computer" : "all";
}
