// What every view has: the look that was chosen, and whether its picture may be trusted.
import { watchPicture, holdBackPresses } from './health.js';
import { followCircuit } from './circuit.js';
import { followChoices } from './choices.js';

watchPicture();
followCircuit();
holdBackPresses();
followChoices();
