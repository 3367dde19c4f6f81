// node desk.mjs udp|slip PORT: an invented desk of four inputs; over UDP by node-osc, over TCP in SLIP frames by osc. Prints every change that it takes.
import { createServer } from 'node:net';
import { Client, Server } from 'node-osc';
import osc from 'osc';

const [, , wire, portText] = process.argv;
const port = Number(portText);
const muted = [0, 0, 0, 0];
let say = null;

function take(address, values) {
  const [, place, number, what] = address.split('/');
  if (place !== 'pier' || what !== 'shut')
    return;
  if (values.length > 0) {
    muted[number - 1] = values[0];
    console.log(`took ${address} ${values[0]}`);
  }
  say([address, 'i', muted[number - 1]]);
}

setInterval(() => {
  for (let input = 1; input <= 4; input++)
    say?.([`/pier/${input}/top`, 'f', -40 - 3 * Math.random()]);
}, 50);

if (wire === 'udp') {
  const server = new Server(port, '127.0.0.1', () => console.log('ready'));
  server.on('message', ([address, ...values], from) => {
    const client = (take.client ??= new Client('127.0.0.1', from.port));
    say = ([to, type, value]) => client.send({ oscType: 'message', address: to, args: [{ type, value }] });
    take(address, values);
  });
} else {
  createServer(socket => {
    const service = new osc.TCPSocketPort({ socket, metadata: true });
    say = ([address, type, value]) => service.send({ address, args: [{ type, value }] });
    service.on('message', ({ address, args }) => take(address, args.map(arg => arg.value)));
    service.on('error', () => { say = null; });
    socket.on('close', () => { say = null; });
  }).listen(port, '127.0.0.1', () => console.log('ready'));
}
