// node codec.mjs LIBRARY: each line that comes in is answered by one. `read HEX` gives the packet's messages, `write JSON` the packet's bytes.
import { createInterface } from 'node:readline';
import { libraries } from './libraries.mjs';

const library = libraries[process.argv[2]];
for await (const asked of createInterface({ input: process.stdin })) {
  const [, what, rest] = /^(read|write) (.*)$/.exec(asked);
  let answer;
  try {
    answer = what === 'read' ? library.read(Buffer.from(Uint8Array.from(Buffer.from(rest, 'hex')).buffer)).join(' | ') : library.write(JSON.parse(rest)).toString('hex');
  } catch (refused) {
    answer = `refused: ${refused.message}`;
  }
  console.log(answer);
}
