// What is kept on the device, as texts under names. It works for a page opened from a file as well.
//
// When the device refuses (no room, or storage switched off) the page goes on from memory. What is not kept is known name by name until
// it is kept, so that the person can save it to a file instead.
//
// What was stored and cannot be read is put aside, letter by letter, under a name of its own: `aside/` and the name it had.

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

  // The names of what is not kept.
  get troubled() {
    return [...this.#troubles.keys()];
  }

  // Every name under which something is, in order.
  names() {
    const names = new Set(this.#memory.keys());
    try {
      for (let at = 0; at < (this.#storage?.length ?? 0); at += 1) {
        const name = this.#storage.key(at);
        if (name.startsWith(PREFIX)) names.add(name.slice(PREFIX.length));
      }
    } catch {
      // A storage that cannot be listed is one that cannot be read.
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

  // Tries again to keep what is not kept, as there may be room now.
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

  // Moves what is stored under a name, as it is, to a name of its own. False where there is no room for that: then it stays where it is.
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
      // There is no room for it twice: it is taken away from one place before it is put in the other.
      try {
        this.#storage.removeItem(here);
        this.#storage.setItem(there, text);
        return true;
      } catch (error) {
        return this.#backOr(to, text, here, error);
      }
    }
  }

  // Back where it was; another tab may have taken that room meanwhile, and then the text is in memory, and told of.
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

  // What is put aside: [{ name, of, text }], `of` being the name it had.
  aside() {
    const kept = this.names().filter((name) => name.startsWith(ASIDE));
    const moved = kept.map((name) => ({ name, of: name.slice(ASIDE.length), text: this.read(name) }));
    return [...moved, ...[...this.#unmoved].map((name) => ({ name, of: name, text: this.#storage.getItem(PREFIX + name) ?? "" }))];
  }

  // Throws away one thing that is put aside.
  throwAway(name) {
    if (this.#unmoved.delete(name)) this.#storage.removeItem(PREFIX + name);
    else this.remove(name);
    this.retry();
  }
}

// Browsers word a full storage each in their own way, and at length.
const reasonOf = (error) => (error.name === "QuotaExceededError" ? "no room is left" : error.message);

// The browser's own storage, or nothing where even asking is refused.
export function deviceStorage() {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}
