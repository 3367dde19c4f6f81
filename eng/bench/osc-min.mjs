// The same bytes through npm's osc-min: decode, and encode, in nanoseconds per message; the least of many short batches.
// Usage: node osc-min.mjs FOLDER-WITH-node_modules
import path from "node:path";
import { pathToFileURL } from "node:url";

const osc = await import(pathToFileURL(path.resolve(process.argv[2] ?? ".", "node_modules/osc-min/dist/index.js")));
const packets = Array.from({ length: 64 }, (_, i) => {
  const view = osc.toBuffer({ address: `/lv/${String(i + 1).padStart(2, "0")}`, args: [{ type: "float", value: -60 + i / 2 }] });
  return Buffer.from(view.buffer, view.byteOffset, view.byteLength);
});
const messages = packets.map((packet) => osc.fromBuffer(packet));

function least(work) {
  let best = Infinity;
  for (let batch = 0; batch < 3000; batch++) {
    const began = process.hrtime.bigint();
    for (const one of work.over) work.run(one);
    best = Math.min(best, Number(process.hrtime.bigint() - began) / work.over.length);
  }
  return Math.round(best);
}

console.log(JSON.stringify({
  decodeNs: least({ over: packets, run: (packet) => osc.fromBuffer(packet) }),
  encodeNs: least({ over: messages, run: (message) => osc.toBuffer(message) }),
}));
