// The engineer's view: bars that follow the meters, and controls that take a deliberate gesture.
import { followMeters } from './meters.js';
import { onOff } from './health.js';
import { listen, letGo } from './controls.js';

followMeters();
onOff(letGo);
listen();
