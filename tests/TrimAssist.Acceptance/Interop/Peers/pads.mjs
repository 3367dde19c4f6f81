// node pads.mjs PORT: pads with lamps on network MIDI, by npm rtpmidi, which waits to be invited. Prints every message that it is sent.
import rtpmidi from 'rtpmidi';

rtpmidi.logger.transports.forEach(transport => { transport.silent = true; });
const session = new rtpmidi.Session(Number(process.argv[2]), 'pads', 'pads', 0x1DEA, false, 4);
session.on('ready', () => console.log('ready'));
session.on('streamAdded', () => console.log('joined'));
session.on('message', (after, message) => console.log(`told ${Buffer.from(message).toString('hex')}`));
session.start();
