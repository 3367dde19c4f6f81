// Follows the event stream and draws every row's bar, once per browser frame in which something is new.
import { because } from './health.js';
import { comeBack } from './circuit.js';
import { lookChanged } from './choices.js';
import { drawBar } from './bar.js';

const stoppedMs = 500, openAgainMs = 1000, holdPeakMs = 1500;
const root = document.documentElement;
let levels = null, heardAt = 0, openedAt = performance.now(), dirty = true, colours = null;
const held = new Map();

function open() {
  const stream = new EventSource('/api/events');
  stream.onopen = () => { because('stream', false); openedAt = performance.now(); comeBack(); };
  stream.onerror = () => { stream.close(); because('stream', true); setTimeout(open, openAgainMs); };
  stream.addEventListener('meters', event => {
    const meters = JSON.parse(event.data);
    if (meters.desk !== document.querySelector('.rows')?.dataset.desk) return;
    levels = meters; heardAt = performance.now(); dirty = true;
    because('meters', false); because('silence', false);
    meters.peakDbfs.forEach((peak, index) => keep(index, peak));
  });
}

function keep(index, peak) {
  const before = held.get(index);
  if (peak !== null && (!before || peak >= before.peak || heardAt - before.at > holdPeakMs)) held.set(index, { peak, at: heardAt });
}

function readColours() {
  const style = getComputedStyle(root), colour = name => style.getPropertyValue(`--${name}`).trim();
  return Object.fromEntries(['well', 'hatch', 'level', 'mean', 'ink', 'forecast', 'target', 'full', 'over', 'grid', 'band'].map(name => [name, colour(name)]));
}

function frame() {
  if (dirty) {
    dirty = false;
    colours ??= readColours();
    for (const canvas of document.querySelectorAll('canvas.bar')) {
      if (canvas.clientWidth === 0) continue;
      const index = Number(canvas.dataset.input) - 1;
      drawBar(canvas, { peak: levels?.peakDbfs[index] ?? null, rms: levels?.rmsDbfs[index] ?? null, hold: held.get(index)?.peak ?? null }, colours);
    }
  }
  requestAnimationFrame(frame);
}

export function followMeters() {
  open();
  setInterval(() => {
    const missing = performance.now() - Math.max(heardAt, openedAt) > stoppedMs;
    because('meters', missing && heardAt > 0);
    because('silence', missing && heardAt === 0);
  }, 100);
  const again = () => { colours = null; dirty = true; };
  lookChanged.addEventListener('change', again);
  addEventListener('resize', again);
  new MutationObserver(() => { dirty = true; }).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-picture'] });
  requestAnimationFrame(frame);
}
