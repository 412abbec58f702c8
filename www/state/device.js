// What is kept on the device, as texts under names. It works for a page opened from a file as well.
//
// When the device refuses (no room, or storage switched off) the page goes on from memory and `trouble` says why,
// so that the person can save to a file instead.

const PREFIX = "lengthwise/";

export class Device {
  trouble = null;
  #memory = new Map();
  #storage;

  constructor(storage) {
    this.#storage = storage;
  }

  read(name) {
    if (this.#memory.has(name)) return this.#memory.get(name);
    try {
      return this.#storage?.getItem(PREFIX + name) ?? null;
    } catch (error) {
      this.trouble = error.message;
      return null;
    }
  }

  write(name, text) {
    try {
      if (!this.#storage) throw new Error("this browser keeps nothing for the page");
      this.#storage.setItem(PREFIX + name, text);
      this.#memory.delete(name);
      this.trouble = null;
    } catch (error) {
      this.#memory.set(name, text);
      this.trouble = error.message;
    }
  }

  // What may be done without is given up, so that there is room for the rest.
  drop(name) {
    this.remove(name);
    this.trouble = null;
  }

  remove(name) {
    this.#memory.delete(name);
    try {
      this.#storage?.removeItem(PREFIX + name);
    } catch (error) {
      this.trouble = error.message;
    }
  }
}

// The browser's own storage, or nothing where even asking is refused.
export function deviceStorage() {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}
