// Texts kept on the device under names. It works for a page opened from a file as well.
//
// Where the device refuses (no room, or storage switched off), the page goes on with its memory. It knows which names are not kept until
// they are, so that the person can save them to a file instead.
//
// Stored text that cannot be read is set aside unchanged, under a name of its own: `aside/` and its old name.

const PREFIX = "lengthwise/";
const ASIDE = "aside/";

export class Device {
  #troubles = new Map(); // name -> why what is under it is not kept
  #memory = new Map(); // name -> the text that is not kept
  #unmoved = new Set(); // names whose stored text should be put aside and could not be; it is not written over
  #storage;

  constructor(storage) {
    this.#storage = storage;
  }

  // Why something is not kept, or null.
  get trouble() {
    return this.#troubles.values().next().value ?? null;
  }

  // The names that are not kept.
  get troubled() {
    return [...this.#troubles.keys()];
  }

  // Every name that has a text, in order.
  names() {
    const names = new Set(this.#memory.keys());
    try {
      for (let at = 0; at < (this.#storage?.length ?? 0); at += 1) {
        const name = this.#storage.key(at);
        if (name.startsWith(PREFIX)) names.add(name.slice(PREFIX.length));
      }
    } catch {
      // A storage that cannot be listed cannot be read.
    }
    return [...names].sort();
  }

  read(name) {
    if (this.#memory.has(name)) return this.#memory.get(name);
    try {
      return this.#storage?.getItem(PREFIX + name) ?? null;
    } catch (error) {
      this.#troubles.set(name, reasonOf(error));
      return null;
    }
  }

  write(name, text) {
    try {
      if (!this.#storage) throw new Error("this browser keeps nothing for the page");
      if (this.#unmoved.has(name) && !this.putAside(name)) throw new Error("there is no room to put aside what was here");
      this.#storage.setItem(PREFIX + name, text);
      this.#memory.delete(name);
      this.#troubles.delete(name);
    } catch (error) {
      this.#memory.set(name, text);
      this.#troubles.set(name, reasonOf(error));
    }
  }

  // Tries again to keep what is not kept, as there may be room by now.
  retry() {
    for (const [name, text] of this.#memory) this.write(name, text);
  }

  remove(name) {
    this.#memory.delete(name);
    try {
      this.#storage?.removeItem(PREFIX + name);
      this.#troubles.delete(name);
    } catch (error) {
      this.#troubles.set(name, reasonOf(error));
    }
  }

  // Moves a stored text unchanged to a name of its own. Returns false where there is no room for that; the text then stays where it is.
  putAside(name) {
    const text = this.#storage.getItem(PREFIX + name);
    if (text !== null && !this.#moved(name, text)) {
      this.#unmoved.add(name);
      return false;
    }
    this.#unmoved.delete(name);
    return true;
  }

  #moved(name, text) {
    const to = this.#freeAside(name, text);
    const [here, there] = [PREFIX + name, PREFIX + to];
    try {
      this.#storage.setItem(there, text);
      this.#storage.removeItem(here);
      return true;
    } catch {
      // There is no room for two copies, so the first is deleted before the second is written.
      try {
        this.#storage.removeItem(here);
        this.#storage.setItem(there, text);
        return true;
      } catch (error) {
        return this.#backOr(to, text, here, error);
      }
    }
  }

  // Puts the text back. If another tab has taken the room meanwhile, the text stays in memory and is reported as not kept.
  #backOr(to, text, here, error) {
    try {
      this.#storage.setItem(here, text);
      return false;
    } catch {
      this.#memory.set(to, text);
      this.#troubles.set(to, reasonOf(error));
      return true;
    }
  }

  #freeAside(name, text) {
    const taken = (to) => ![null, text].includes(this.read(to));
    let to = ASIDE + name;
    for (let number = 2; taken(to); number += 1) to = `${ASIDE}${name}/${number}`;
    return to;
  }

  // What is set aside: [{ name, of, text }], `of` being its old name.
  aside() {
    const kept = this.names().filter((name) => name.startsWith(ASIDE));
    const moved = kept.map((name) => ({ name, of: name.slice(ASIDE.length), text: this.read(name) }));
    return [...moved, ...[...this.#unmoved].map((name) => ({ name, of: name, text: this.#storage.getItem(PREFIX + name) ?? "" }))];
  }

  // Deletes one text that is set aside.
  throwAway(name) {
    if (this.#unmoved.delete(name)) this.#storage.removeItem(PREFIX + name);
    else this.remove(name);
    this.retry();
  }
}

// Browsers report a full storage each in their own, long words.
const reasonOf = (error) => (error.name === "QuotaExceededError" ? "no room is left" : error.message);

// The browser's storage, or null where it is forbidden even to ask for it.
export function deviceStorage() {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}
