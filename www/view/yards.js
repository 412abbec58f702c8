// The yards and their terms, and at which of them timber is bought.

import { find, show } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";
import { RowList } from "./row-list.js";
import { addYard, dropYard, nameYard, yardsOf } from "../state/sellers.js";
import { dropYardLines } from "../state/yard.js";

export function yardList(actions) {
  const list = new RowList(find("#yards"), "Yard", {
    input: (row, name, value) => actions.change(`yards/${row}/${name}`, ({ job }) => {
      if (name === "name") nameYard(job, row, value);
      else job.yards[row][name] = value;
    }),
    remove: (row) => actions.change(null, (piece) => {
      const several = yardsOf(piece.job).length > 1;
      const gone = dropYard(piece.job, row);
      if (several) dropYardLines(piece, (line) => line.yard === gone.name);
    }),
    enter: add,
  }, "t-row");
  const where = fieldBlock(find("#buy-at"), (name, value) => actions.change(name, (piece) => (piece.job[name] = value)));
  find("#add-yard").addEventListener("click", add);

  function add() {
    let row = 0;
    actions.change(null, ({ job }) => (row = addYard(job)));
    list.focus(row, "name");
  }

  return (scene) => {
    const { job } = scene.piece;
    const yards = yardsOf(job);
    list.update(yards.map((yard, index) => ({
      key: index,
      specs: () => specsOf("yards", job, yard),
      values: valuesOf("yards", yard),
      faultOf: (field) => scene.faultOf(`yards/${index}${field && "/"}${field}`),
    })));
    show(find("#buy-at"), yards.length > 1);
    where.update(specsOf("job", job, job, { only: ["buy_at"], usual: { buy_at: "all of them" } }), valuesOf("job", job), scene.faultOf);
    show(find("#add-yard"), yards.length < 3);
  };
}
