// Yards and price lists: names are written in all that refers to them, and a list comes out of a piece and goes into another.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Device } from "../../www/state/device.js";
import { everythingFile, takeFile } from "../../www/state/files.js";
import { cannotTake, listFrom, putIn, withList } from "../../www/state/price-lists.js";
import { readablePrices } from "../../www/state/salvage.js";
import { addYard, dropYard, hasPacks, nameYard } from "../../www/state/sellers.js";
import { Store } from "../../www/state/store.js";
import { Storage } from "./device.mjs";
import { gate } from "./samples.mjs";

const piece = () => ({ sections: [{ name: "post" }], yard: [{ section: "post", length: "3 m", price: "12" }] });

test("the name of a yard is written in all that refers to it", () => {
  const job = piece();
  nameYard(job, addYard(job), "Mill");
  assert.equal(job.yard[0].yard, "Mill");
  nameYard(job, addYard(job), "Depot");
  assert.equal(job.yard[0].yard, "Mill");
  job.yard.push({ section: "post", length: "3 m", yard: "Depot" });
  job.buy_at = "Depot; Mill";
  nameYard(job, 1, "Depot 2");
  assert.deepEqual([job.yard.map((line) => line.yard), job.buy_at], [["Mill", "Depot 2"], "Depot 2; Mill"]);
  dropYard(job, 1);
  assert.equal(job.buy_at, "");
  dropYard(job, 0);
  assert.deepEqual([job.yards, job.yard[0].yard], [undefined, undefined]);
});

test("a list comes out of a piece with its terms and goes into another, once", () => {
  const job = piece();
  nameYard(job, addYard(job), "Mill");
  job.yards[0].trip = "6";
  job.yard.push({ section: "rail", length: "2.4 m", price: "8", pack: "10" });
  const list = listFrom(job, "Mill", "Mill");
  assert.deepEqual(list, { name: "Mill", decimal: "point", terms: { trip: "6" }, rows: [{ section: "post", length: "3 m", price: "12" }, { section: "rail", length: "2.4 m", price: "8", pack: "10" }] });
  assert.equal(hasPacks(job), true);
  const other = { sections: [{ name: "post" }], yard: [{ section: "post", length: "3 m", price: "11", yard: "Depot" }], yards: [{ name: "Depot" }] };
  for (const count of [1, 1]) {
    assert.equal(putIn(other, list), count);
    assert.deepEqual(other.yard.map(({ price, yard }) => [price, yard]), [["11", "Depot"], ["12", "Mill"]]);
    assert.deepEqual(other.yards, [{ name: "Depot" }, { name: "Mill", trip: "6" }]);
  }
  assert.equal(cannotTake(other, list), null);
  assert.match(cannotTake({ ...other, decimal: "comma" }, list), /decimal/);
  assert.match(cannotTake({ ...other, sections: [] }, list), /no section/);
  assert.match(cannotTake({ ...other, yards: ["A", "B", "C"].map((name) => ({ name })) }, list), /three/);
  assert.deepEqual(withList([list], { ...list, rows: [] }).map(({ rows }) => rows.length), [0]);
});

test("price lists are kept on the device, go with everything, and what cannot be read of them is set aside", () => {
  const list = { name: "Mill", decimal: "point", terms: {}, rows: [{ section: "post", length: "3 m" }] };
  const storage = new Storage({});
  const store = new Store(new Device(storage));
  takeFile(store, JSON.stringify(gate()));
  store.arrange(() => {});
  assert.equal(storage.all().prices, undefined);
  store.arrange((all) => (all.prices = [list]));
  const again = new Store(new Device(storage));
  again.load();
  assert.deepEqual(again.prices, [list]);
  const other = new Store(new Device(new Storage({})));
  assert.match(takeFile(other, everythingFile(store)), /1 price list taken in/);
  assert.deepEqual(other.prices, [list]);
  assert.throws(() => takeFile(other, JSON.stringify({ format: "lengthwise-everything", pieces: [], prices: [{ name: 1 }] })), /damaged/);
  assert.deepEqual(readablePrices(JSON.stringify([list, { name: 1 }, null])), { prices: [list], whole: false });
  for (const text of ["{", "{}", "null"]) assert.deepEqual(readablePrices(text), { prices: [], whole: false });
});
