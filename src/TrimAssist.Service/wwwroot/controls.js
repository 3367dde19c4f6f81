// Turns a deliberate gesture into exactly one confirmation.
import { isOff } from './health.js';
import { confirm, confirmAll, linesOf, say, wish } from './send.js';

const holdMs = 700, secondWithinMs = 5000, tapAgainMs = 3000, tapNotBeforeMs = 300, settleMs = 1000, movedPx = 3, lookEveryMs = 200;
const hasNoPointer = matchMedia('(hover: none)');
// What needs no gesture: nothing reaches the desk by it.
const wishes = { decline: 'decline', undo: 'undo', muteFirst: 'mute-first' };
const words = () => document.getElementById('words').dataset;
const changedAt = new Map(), placeOf = new WeakMap();
let holding = null, armed = null;

// What a control stands for now: one proposal, or the lines of several.
const shown = button => isAll(button) ? { id: 'all', digest: linesOf(button).map(line => line.digest).join(), needs: '' }
  : { id: button.dataset.confirm, digest: button.dataset.digest, needs: button.dataset.needs };
const isAll = button => button.dataset.confirmAll !== undefined;
const same = (left, right) => left.id === right.id && left.digest === right.digest && left.needs === right.needs;

/** A control that came, changed or moved under a hand asks for a second look, and shows meanwhile that it does. */
function unsettle(button) {
  clearTimeout(changedAt.get(button));
  button.dataset.fresh = '';
  changedAt.set(button, setTimeout(() => { changedAt.delete(button); delete button.dataset.fresh; }, settleMs));
}

const isSettled = button => { notePlaces(); return !changedAt.has(button); };

// Where the controls stand: a row that comes, goes or grows moves those below it. What the hand itself scrolls is no move on the page, and
// what the browser makes up for by scrolling, as when a row out of sight grows, is none on the screen.
function notePlaces() {
  for (const button of document.querySelectorAll('.row .confirm')) {
    const seen = button.closest('.row').getBoundingClientRect().top, place = { seen, page: seen + scrollY }, before = placeOf.get(button);
    if (before && Math.abs(place.page - before.page) > movedPx && Math.abs(seen - before.seen) > movedPx) unsettle(button);
    placeOf.set(button, place);
  }
}

function begin(button) {
  if (holding || isOff() || button.disabled || button.dataset.busy) return;
  if (!isSettled(button)) { say(button.dataset.gesture === 'twice' ? words().changedMute : words().changed); return; }
  if (button.dataset.gesture === 'twice') { tap(button); return; }
  button.classList.add('holding');
  holding = { button, what: shown(button), timer: setTimeout(complete, holdMs) };
}

export function letGo() {
  if (!holding) return;
  clearTimeout(holding.timer);
  holding.button.classList.remove('holding');
  holding = null;
}

function disarm() {
  if (!armed) return;
  clearTimeout(armed.timer);
  armed.button.classList.remove('armed');
  armed = null;
}

function arm(button, forMs) {
  disarm();
  button.classList.add('armed');
  armed = { button, what: shown(button), at: performance.now(), timer: setTimeout(disarm, forMs) };
}

const isArmed = button => armed !== null && armed.button === button && same(armed.what, shown(button));

function complete() {
  const { button, what } = holding;
  letGo();
  if (!button.isConnected || isOff() || !same(what, shown(button))) return;
  if (!isSettled(button)) { say(words().changed); return; }
  // A danger is named in words first; a second, equally deliberate gesture answers it.
  if (what.needs && !isArmed(button)) { arm(button, secondWithinMs); return; }
  disarm();
  go(button, what);
}

function go(button, what) {
  if (!isAll(button)) confirm(button, what);
  else if (what.digest) confirmAll(button, linesOf(button));
}

function tap(button) {
  if (!isArmed(button)) arm(button, tapAgainMs);
  else if (performance.now() - armed.at >= tapNotBeforeMs) { disarm(); go(button, shown(button)); }
}

// How many lines a reviewed list would confirm stands on its control.
function count() {
  for (const place of document.querySelectorAll('[data-ticked]')) {
    const many = String(linesOf(place.closest('button')).length);
    if (place.textContent !== many) place.textContent = many;
  }
}

function noteChanges(changes) {
  for (const change of changes) {
    const found = change.type === 'attributes' ? [change.target]
      : [...change.addedNodes].filter(node => node instanceof Element).flatMap(node => [...node.querySelectorAll('.confirm'), ...(node.matches('.confirm') ? [node] : [])]);
    for (const button of found.filter(one => one.matches('.confirm'))) {
      const place = button.closest('.row, .banner');
      if (!place || hasNoPointer.matches || place.matches(':hover, :focus-within')) unsettle(button);
    }
  }
  count();
}

const controlAt = event => event.target instanceof Element ? event.target.closest('.confirm') : null;
const isPress = event => event.key === 'Enter' || event.key === ' ';

export function listen() {
  document.addEventListener('pointerdown', event => {
    const button = controlAt(event);
    if (armed && armed.button !== button) disarm();
    if (button && event.isPrimary && event.button === 0) begin(button);
  });
  // A finger keeps its first target wherever it goes: ask what really lies under it.
  document.addEventListener('pointermove', event => {
    if (holding && document.elementFromPoint(event.clientX, event.clientY)?.closest('.confirm') !== holding.button) letGo();
  });
  for (const name of ['pointerup', 'pointercancel', 'visibilitychange', 'scroll']) document.addEventListener(name, letGo);
  addEventListener('blur', letGo);
  document.addEventListener('keydown', event => {
    const button = controlAt(event);
    if (event.key === 'Escape') { letGo(); disarm(); }
    else if (button && isPress(event)) { event.preventDefault(); if (!event.repeat) begin(button); }
  });
  document.addEventListener('keyup', letGo);
  // The press itself takes the focus from elsewhere: only a control that loses its own lets go.
  document.addEventListener('focusout', event => { if (event.target === holding?.button) letGo(); });
  document.addEventListener('contextmenu', event => { if (controlAt(event)) event.preventDefault(); });
  document.addEventListener('click', event => {
    const button = event.target instanceof Element ? event.target.closest('.decline') : null;
    const [name, id] = Object.entries(button?.dataset ?? {}).find(([key]) => wishes[key]) ?? [];
    if (id) wish(button, `/api/proposals/${id}/${wishes[name]}`);
  });
  document.addEventListener('change', count);
  setInterval(notePlaces, lookEveryMs);
  new MutationObserver(noteChanges).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-digest', 'data-needs'] });
}
