// A stand-in for the browser's storage: texts under names, with room for a limited number of characters.

export class Storage {
  #texts;
  refuses = () => false; // whether a name may not be written now

  constructor(texts = {}, room = Infinity) {
    this.#texts = new Map(Object.entries(texts));
    this.room = room;
  }

  get length() {
    return this.#texts.size;
  }

  key(at) {
    return [...this.#texts.keys()][at] ?? null;
  }

  getItem(name) {
    return this.#texts.get(name) ?? null;
  }

  setItem(name, text) {
    const others = [...this.#texts].filter(([other]) => other !== name).reduce((sum, [other, kept]) => sum + other.length + kept.length, 0);
    if (this.refuses(name) || others + name.length + text.length > this.room) throw new Error("no room");
    this.#texts.set(name, text);
  }

  removeItem(name) {
    this.#texts.delete(name);
  }

  // Everything, by name, without what every name begins with.
  all() {
    return Object.fromEntries([...this.#texts].map(([name, text]) => [name.replace("lengthwise/", ""), text]));
  }
}
