import { followMeters } from './meters.js';
import { watchPicture, followCircuit, onOff } from './health.js';
import { listen, letGo } from './controls.js';
import { followChoices } from './choices.js';

followMeters();
watchPicture();
followCircuit();
followChoices();
onOff(letGo);
listen();
