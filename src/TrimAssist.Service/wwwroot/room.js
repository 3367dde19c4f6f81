// A rehearsal room's view on a band's own phone: the engineer's gestures, and a screen that stays awake.
import { followMeters } from './meters.js';
import { onOff } from './health.js';
import { listen, letGo } from './controls.js';
import { keepAwake } from './wake.js';

followMeters();
onOff(letGo);
listen();
keepAwake();
