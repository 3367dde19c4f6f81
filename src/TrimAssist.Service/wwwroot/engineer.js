// The engineer's view: bars that follow the meters, and controls that take a deliberate gesture.
import { followMeters } from './meters.js';
import { onOff } from './health.js';
import { listen, letGo } from './controls.js';
import { followAlarms } from './sound.js';

followMeters();
onOff(letGo);
listen();
followAlarms();
