// Whether the picture may be acted upon. Every reason against it dims the page, says so in words and switches the controls off.
const root = document.documentElement;
const words = () => document.getElementById('words').dataset;
const oldPictureMs = 2000, tellEveryMs = 250, patienceMs = 1000;
const lost = ['stream', 'circuit', 'picture'];
const now = () => ({ clock: new Date(), at: performance.now() });
// The service sends a page whose controls nobody listens to yet: it starts switched off.
const reasons = new Map([['start', now()]]);
const listeners = [];
let picturedAt = performance.now();

export const isOff = () => reasons.size > 0;
export const isBecause = reason => reasons.has(reason);
/** How long a reason has stood. */
export const standsForMs = reason => reasons.has(reason) ? performance.now() - reasons.get(reason).at : 0;
/** How old the words and controls on the page are. */
export const pictureAgeMs = () => Math.round(performance.now() - picturedAt);
/** The stamp that the service gave them: how long a confirmation is held up on its way only the service can tell. */
export const pictureStamp = () => Number(document.querySelector('[data-picture]')?.dataset.picture);
export const onOff = listener => listeners.push(listener);

const isLost = () => lost.some(isBecause);

// Whether what a press says would be heard.
const isDeaf = () => isBecause('start') || isLost();

// What the service is told of; the rest changes this browser only.
const isTold = control => !control.matches('.choice');

/** Sets or clears a reason: 'start' (nobody listens yet), 'stream' and 'circuit' (the service is not answering), 'picture', 'meters' (they stopped), 'silence' (none came yet). */
export function because(reason, on) {
  if (on === isBecause(reason)) return;
  if (on) reasons.set(reason, now()); else reasons.delete(reason);
  markRoot();
  mark();
  if (isOff()) listeners.forEach(listener => listener());
  tell();
}

// What the page says of itself as a whole.
const markRoot = () => root.toggleAttribute('data-off', isOff());

// What a control says of itself, to eyes and to screen readers.
function mark() {
  for (const control of document.querySelectorAll('button, input[type=checkbox], input[type=radio]')) {
    const off = control.matches('.confirm, .decline') ? isOff() : isDeaf() && isTold(control);
    if (off !== (control.ariaDisabled === 'true')) control.ariaDisabled = off ? 'true' : null;
  }
}

function tell() {
  const line = document.getElementById('health');
  const text = inWords();
  line.hidden = text === '';
  if (line.textContent !== text) line.textContent = text;
}

function inWords() {
  if (isLost()) return words().lost;
  // A page usually comes alive before anybody could read that it will.
  if (isBecause('start')) return standsForMs('start') > patienceMs ? words().starting : '';
  if (isBecause('silence')) return words().never;
  const meters = reasons.get('meters');
  return meters ? words().stopped.replace('{at}', meters.clock.toTimeString().slice(0, 8)).replace('{s}', (standsForMs('meters') / 1000).toFixed(0)) : '';
}

/** The words and controls are fresh as long as the service keeps numbering its pictures; by the first new number the page has come alive. */
export function watchPicture() {
  new MutationObserver(() => { picturedAt = performance.now(); because('start', false); })
    .observe(document.body, { subtree: true, attributes: true, attributeFilter: ['data-picture'] });
  // Going to another address of a view brings the page as the service first sends it: switched off.
  new MutationObserver(() => { if (root.hasAttribute('data-off') !== isOff()) markRoot(); }).observe(root, { attributes: true, attributeFilter: ['data-off'] });
  setInterval(() => {
    const hasPicture = document.querySelector('[data-picture]') !== null;
    if (!hasPicture) because('start', false);
    because('picture', hasPicture && !isBecause('start') && performance.now() - picturedAt > oldPictureMs);
    if (isOff()) { tell(); mark(); }
  }, tellEveryMs);
  mark();
}

/** While nobody listens a press is told nobody: not now, and not later. What the browser does alone goes on, but for a menu that the starting page would take away again. */
export function holdBackPresses() {
  addEventListener('click', event => {
    const control = event.target instanceof Element ? event.target.closest(isBecause('start') ? 'button, input, summary' : 'button, input') : null;
    if (!isDeaf() || !control || !isTold(control)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  }, true);
}
