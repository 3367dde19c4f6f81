// Whether the picture may be acted upon. Every reason against it dims the page, says so in words and switches the controls off.
const reasons = new Map();
const listeners = [];
const words = () => document.getElementById('words').dataset;
const oldPictureMs = 2000, tellEveryMs = 250;
let picturedAt = performance.now(), circuitLost = false;
const away = ['stream', 'circuit', 'picture'];

export const isOff = () => reasons.size > 0;
/** How old the words and controls on the page are. */
export const pictureAgeMs = () => Math.round(performance.now() - picturedAt);
/** The stamp that the service gave them: how long a confirmation is held up on its way only the service can tell. */
export const pictureStamp = () => Number(document.querySelector('[data-picture]')?.dataset.picture);
export const onOff = listener => listeners.push(listener);

const isAway = () => away.some(reason => reasons.has(reason));

// Buttons that the service is told of; the others change this browser only.
const isTold = button => !button.matches('.choice');

/** Sets or clears a reason: 'stream' and 'circuit' (the service is not answering), 'picture', 'meters'. */
export function because(reason, on) {
  if (on === reasons.has(reason)) return;
  if (on) reasons.set(reason, { clock: new Date(), at: performance.now() }); else reasons.delete(reason);
  document.documentElement.toggleAttribute('data-off', isOff());
  mark();
  if (isOff()) listeners.forEach(listener => listener());
  tell();
}

// What a control says of itself, to eyes and to screen readers.
function mark() {
  for (const button of document.querySelectorAll('button')) {
    const off = button.matches('.confirm, .decline') ? isOff() : isAway() && isTold(button);
    if (off !== (button.ariaDisabled === 'true')) button.ariaDisabled = off ? 'true' : null;
  }
}

function tell() {
  const line = document.getElementById('health');
  const meters = reasons.get('meters');
  const text = isAway() ? words().lost : meters
    ? words().stopped.replace('{at}', meters.clock.toTimeString().slice(0, 8)).replace('{s}', ((performance.now() - meters.at) / 1000).toFixed(0)) : '';
  line.hidden = text === '';
  if (line.textContent !== text) line.textContent = text;
}

/** The words and controls are fresh as long as the service keeps numbering its pictures. */
export function watchPicture() {
  new MutationObserver(changes => {
    if (changes.some(change => change.type === 'childList' ? document.querySelector('[data-picture]') : true)) picturedAt = performance.now();
  }).observe(document.body, { subtree: true, attributes: true, attributeFilter: ['data-picture'] });
  setInterval(() => {
    because('picture', document.querySelector('[data-picture]') !== null && performance.now() - picturedAt > oldPictureMs);
    if (isOff()) { tell(); mark(); }
  }, tellEveryMs);
}

/** While the service does not answer, a press is told nobody: not now, and not later when it is back. What the browser does alone goes on. */
export function holdBackPresses() {
  addEventListener('click', event => {
    const button = event.target instanceof Element ? event.target.closest('button, input') : null;
    if (!isAway() || !button || !isTold(button)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  }, true);
}

/** Blazor's own connection: it says when it is lost; coming back is hastened by whoever sees the service again. */
export function followCircuit() {
  document.getElementById('components-reconnect-modal').addEventListener('components-reconnect-state-changed', event => {
    circuitLost = event.detail.state !== 'hide';
    because('circuit', circuitLost);
    if (event.detail.state === 'failed' || event.detail.state === 'rejected') comeBack();
  });
}

/** The service answers again: join the old connection, or begin anew where the service no longer knows it. */
export async function comeBack() {
  if (!circuitLost) return;
  try {
    if (!(await fetch('/api/health')).ok) return;
    if (await globalThis.Blazor.reconnect() === false) location.reload();
  } catch { /* Not yet: the event stream's next success asks again. */ }
}
