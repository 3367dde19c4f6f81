// Blazor's own connection, on which the page's words come and its plain controls are told: whether it stands, and its coming back without a hand.
import { because, isBecause, standsForMs } from './health.js';

const lookEveryMs = 2000, startWithinMs = 30000;
// What Blazor says once the service knows its circuit no more; asked to join it again, it then answers that all is well.
const unknown = ['rejected', 'resume-failed'];
let state = 'hide';

/** The service answers again: join the old connection, or begin anew where the service no longer knows it. */
export async function comeBack() {
  if (!isBecause('circuit')) return;
  try {
    if (await isAnswering() && (unknown.includes(state) || await globalThis.Blazor.reconnect() === false)) location.reload();
  } catch { /* Not yet: it is asked again. */ }
}

const hasGivenUp = () => state === 'failed' || unknown.includes(state);

const isAnswering = async () => (await fetch('/api/health')).ok;

// A page whose connection was never made is not tried again by Blazor.
async function startAnew() {
  try { if (await isAnswering()) location.reload(); } catch { /* Not yet. */ }
}

export function followCircuit() {
  document.getElementById('components-reconnect-modal').addEventListener('components-reconnect-state-changed', event => {
    state = event.detail.state;
    because('circuit', state !== 'hide');
    if (hasGivenUp()) comeBack();
  });
  setInterval(() => {
    if (hasGivenUp()) comeBack();
    if (standsForMs('start') > startWithinMs) startAnew();
  }, lookEveryMs);
}
