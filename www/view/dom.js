// The few functions through which every part of the page touches the document.

export const find = (selector, root = document) => root.querySelector(selector);

export function stamp(id) {
  return document.getElementById(id).content.firstElementChild.cloneNode(true);
}

export function make(tag, text = "", className = "") {
  const element = document.createElement(tag);
  if (text) element.textContent = text;
  if (className) element.className = className;
  return element;
}

// Makes views, { show, places } each. A maker returns a function that shows a scene, or { show?, acts?, inTurns? }; `acts` are what other views may ask of it,
// by name, and a view that is shown `inTurns` follows a moment after all others. No code outside a view attaches anything to the page, and no view presses the button of another. `makers` lists them by the places where they are
// seen, as "plan saw"; what is under "" is seen everywhere.
export function made(makers, actions) {
  const views = Object.entries(makers).flatMap(([places, all]) => all.map((make) => {
    const view = make(actions);
    return { places: places.split(" ").filter(Boolean), ...(typeof view === "function" ? { show: view } : view) };
  }));
  for (const { acts } of views) actions.offer(acts ?? {});
  return views.filter((view) => view.show);
}

// Writes only what differs, so that nothing is announced or drawn twice.
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
  return element;
}

export function show(element, visible) {
  if (element.hidden === visible) element.hidden = !visible;
}

// Brings a container's children in step with `items` and keeps every element whose key is still there, so that typing is not interrupted.
// `create(key)` returns { element, update }; `update(item, index)` fills it. Items with the same key are told apart by their order.
const held = new WeakMap();
const ITEMS = 4; // of a long list, after which there is a pause

export function patch(...told) {
  const turns = patchInTurns(...told);
  while (!turns.next().done);
}

// The same with a pause after a few items, for a list that may be long. What is left of it may be dropped at a pause; the next patch makes it whole.
export function* patchInTurns(container, items, keyOf, create) {
  const known = held.get(container) ?? new Map();
  held.set(container, known);
  const next = new Map();
  for (const [index, item] of items.entries()) {
    const own = keyOf(item, index);
    let key = own;
    for (let nth = 2; next.has(key); nth += 1) key = `${own}\u0000${nth}`;
    next.set(key, own);
  }
  for (const [key, view] of known) {
    if (next.has(key)) continue;
    view.element.remove();
    known.delete(key);
  }
  const keys = [...next.keys()];
  let place = container.firstElementChild;
  for (const [index, item] of items.entries()) {
    const key = keys[index];
    if (!known.has(key)) known.set(key, create(next.get(key)));
    const view = known.get(key);
    if (view.element === place) place = place.nextElementSibling;
    else container.insertBefore(view.element, place);
    view.update(item, index);
    if (index % ITEMS === ITEMS - 1) yield;
  }
}

// A plain list of texts.
export function lines(list, texts) {
  patch(list, texts, (_, index) => index, () => {
    const element = make("li");
    return { element, update: (text) => say(element, text) };
  });
  show(list, texts.length > 0);
}

// Names and values; what a value adds in brackets is put below it, smaller.
export function facts(list, rows) {
  patch(list, rows, (_, index) => index, () => {
    const element = make("div");
    const name = element.appendChild(make("dt"));
    const value = element.appendChild(make("dd"));
    return {
      element,
      update: (row) => {
        say(name, row.name);
        const [, figure, more] = /^([^(]*?)(?: \((.*)\))?$/s.exec(row.value) ?? [null, row.value];
        if (value.firstChild?.data !== figure) value.replaceChildren(figure);
        const beside = value.querySelector("small");
        if (!more) beside?.remove();
        else if (beside?.textContent !== more) value.replaceChildren(figure, make("small", more));
      },
    };
  });
  show(list, rows.length > 0);
}

// With `heads`, each cell also knows its heading, for screens too narrow for columns side by side. Roles are then written out, since a row
// that is no longer laid out as one may lose its role.
export function table(body, rows, heads = []) {
  patch(body, rows, (_, index) => index, () => {
    const element = make("tr");
    if (heads.length) element.setAttribute("role", "row");
    return {
      element,
      update: (cells) => patch(element, cells, (_, index) => heads[index] ?? index, (head) => {
        const cell = make("td");
        if (heads.length) {
          cell.setAttribute("role", "cell");
          cell.dataset.label = head;
        }
        return { element: cell, update: (text) => say(cell, String(text ?? "")) };
      }),
    };
  });
}

// Puts a drawing of the engine in place. It is parsed as XML, which runs nothing.
const drawn = new WeakMap();

export function draw(container, svg) {
  if (drawn.get(container) === svg) return;
  drawn.set(container, svg);
  container.replaceChildren(...(svg ? [drawingOf(svg)] : []));
}

export function drawingOf(svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
  return document.importNode(parsed.documentElement, true);
}
