// Three OSC implementations behind one face: `read` gives the messages of a packet as lines, `write` makes the packet of a message.
// A message is { address, args: [{ type, value }] } with OSC's type tags; values as text: numbers in decimals, blobs in hex.
import * as nodeOsc from 'node-osc';
import osc from 'osc';
import * as oscMin from 'osc-min';

const hex = bytes => Buffer.from(bytes).toString('hex');
const bytes = text => Buffer.from(text, 'hex');
const line = (address, args) => [address, ...args.map(([type, value]) => (value === undefined ? type : `${type}:${value}`))].join(' ');

const numberOf = (type, text) => (type === 'h' ? BigInt(text) : type === 'b' ? bytes(text) : 'ifd'.includes(type) ? Number(text) : text);

const minNames = { i: 'integer', f: 'float', s: 'string', b: 'blob', T: 'true', F: 'false', N: 'null', I: 'bang', d: 'double', h: 'bigint' };
const minTags = Object.fromEntries(Object.entries(minNames).map(([tag, name]) => [name, tag]));

const shown = (type, value) => [type, 'TFNI'.includes(type) ? undefined : type === 'b' ? hex(new Uint8Array(value.buffer ?? value, value.byteOffset ?? 0, value.byteLength)) : String(value)];

export const libraries = {
  'osc-min': {
    read: packet => {
      const lines = one => (one.oscType === 'bundle' ? one.elements.flatMap(lines) : [line(one.address, one.args.map(arg => shown(minTags[arg.type], arg.value)))]);
      return lines(oscMin.fromBuffer(packet));
    },
    write: ({ address, args }) => {
      const view = oscMin.toBuffer({ address, args: args.map(({ type, value }) => ({ type: minNames[type], value: numberOf(type, value) })) });
      return Buffer.from(view.buffer, view.byteOffset, view.byteLength);
    },
  },
  osc: {
    read: packet => {
      const lines = one => (one.packets ? one.packets.flatMap(lines) : [line(one.address, one.args.map(arg => shown(arg.type, arg.value)))]);
      return lines(osc.readPacket(packet, { metadata: true, unpackSingleArgs: false }));
    },
    write: ({ address, args }) => Buffer.from(osc.writePacket({ address, args: args.map(({ type, value }) => ({ type, value: type === 'h' ? osc.Long.fromString(value) : numberOf(type, value) })) }, { metadata: true })),
  },
  'node-osc': {
    // It gives values without their types.
    read: packet => {
      const text = value => (value === true ? 'T' : value === false ? 'F' : value === null ? 'N' : Buffer.isBuffer(value) ? hex(value) : String(value));
      const lines = one => (one.oscType === 'bundle' ? one.elements.flatMap(lines) : [line(one.address, one.args.map(arg => [text(arg.value)]))]);
      return lines(nodeOsc.decode(packet));
    },
    write: ({ address, args }) => nodeOsc.encode({ oscType: 'message', address, args: args.map(({ type, value }) => ({ type, value: numberOf(type, value) ?? null })) }),
  },
};
