// What every view has: the look that was chosen, and whether its picture may be trusted.
import { watchPicture, followCircuit, holdBackPresses } from './health.js';
import { followChoices } from './choices.js';

watchPicture();
followCircuit();
holdBackPresses();
followChoices();
