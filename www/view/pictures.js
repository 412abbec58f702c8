// Drawings of what a size refers to or how ends lean: one small picture for each choice of a field, in the order of the field's choices.

const WIDE = 88;
const HIGH = 60;

// A rectangle `inset` units inside the edge of the picture.
const box = (inset, look) => `<rect x="${inset}" y="${inset}" width="${WIDE - 2 * inset}" height="${HIGH - 2 * inset}" ${look}/>`;

// The frame between two insets, its corners mitred.
function ring(outer, inner) {
  const corners = [[0, 0], [WIDE, 0], [0, HIGH], [WIDE, HIGH]].map(([x, y]) => {
    const at = (inset) => `${x === 0 ? inset : x - inset} ${y === 0 ? inset : y - inset}`;
    return `M${at(outer)}L${at(inner)}`;
  });
  const line = 'fill="none" stroke="currentColor" stroke-width="1.5"';
  return box(outer, line) + box(inner, line) + `<path d="${corners.join("")}" ${line}/>`;
}

// The size asked for: a line with an arrow at each end.
function asked(inset) {
  const [left, right, middle] = [inset, WIDE - inset, HIGH / 2];
  return `<path class="asked" d="M${left} ${middle}H${right}M${left + 5} ${middle - 4}L${left} ${middle}L${left + 5} ${middle + 4}M${right - 5} ${middle - 4}L${right} ${middle}L${right - 5} ${middle + 4}" fill="none" stroke-width="2.5"/>`;
}

const picture = (...shapes) => `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDE} ${HIGH}" aria-hidden="true">${shapes.join("")}</svg>`;
const filled = 'fill="currentColor" fill-opacity="0.25" stroke="currentColor"';
const solid = `${filled} stroke-dasharray="3 2"`;

// A part along a tape with leaning ends; the numbers say how far each end's upper corner is to the right of its lower one.
function leaning(first, second) {
  const [left, right, top, bottom] = [16, WIDE - 16, 16, 44];
  const corners = [[left + first, top], [right + second, top], [right - second, bottom], [left - first, bottom]];
  return `<path d="M${corners.map(([x, y]) => `${x} ${y}`).join("L")}Z" ${filled}/>`;
}

const DRAWN = {
  "parts/leans": [picture(leaning(-10, 10)), picture(leaning(-10, -10)), picture(leaning(10, 10))],
  "mitred_frame/around": [
    picture(box(9, solid), ring(3, 20), asked(9)),
    picture(ring(3, 17), asked(17)),
    picture(ring(3, 17), asked(3)),
  ],
};

// The pictures for a field of a kind of set-out, or of a list of the job; undefined where its choices need none.
export const picturesOf = (kind, field) => DRAWN[`${kind}/${field}`];
