// The stage view: asks the service a few times a second how each patch stands, and shows in large type what a hand may do.
import { because, isBecause } from './health.js';
import { comeBack } from './circuit.js';
import { post, say } from './send.js';
import { moment, shownState, since } from './lease.js';
import { keepAwake } from './wake.js';

const askEveryMs = 250, restMs = 2000, giveUpMs = 900, showEveryMs = 50;
const underWay = ['waiting', 'safe', 'partly', 'settling'];
const buzz = { safe: [150, 80, 150], stop: [600], done: [80], waiting: [40] };
const plugs = new Map();
const words = () => document.getElementById('stage-words');

const sections = () => document.querySelectorAll('[data-plug]');
const path = section => `/api/desks/${section.dataset.desk}/inputs/${section.dataset.plug}/patch`;

function plugOf(section) {
  const key = section.dataset.plug;
  if (!plugs.has(key)) plugs.set(key, { answer: undefined, asking: false, askedAt: null, shown: '' });
  return plugs.get(key);
}

// Whether the service knows of a patch here: its picture says so, or this phone has asked. A question that nobody answered is asked again whatever has become of it.
const isWorthAsking = (section, plug) => section.dataset.patch !== '' || Boolean(plug.answer) || isBecause('stream');

// A patch under way is asked about without pause; what is over, now and then.
const isDue = (section, plug) =>
  underWay.includes(section.dataset.patch) || underWay.includes(plug.answer?.state) || plug.askedAt === null || since(plug.askedAt) > restMs;

async function ask(section) {
  const plug = plugOf(section);
  if (plug.asking) return;
  if (!isWorthAsking(section, plug)) { plug.answer = null; return; }
  plug.asking = true;
  plug.askedAt = moment();
  const abort = new AbortController(), timer = setTimeout(() => abort.abort(), giveUpMs), askedAt = plug.askedAt;
  try {
    const answer = await fetch(path(section), { signal: abort.signal, cache: 'no-store' });
    if (answer.ok) take(plug, await answer.json(), askedAt);
    else if (answer.status === 404) plug.answer = null;
    because('stream', false);
    comeBack();
  } catch { because('stream', true); }
  finally { clearTimeout(timer); plug.asking = false; }
}

const take = (plug, patch, askedAt) => { plug.answer = { ...patch, askedAt }; };

function show(section) {
  const plug = plugOf(section);
  const state = plug.answer === undefined ? 'look' : shownState(plug.answer);
  if (section.dataset.state !== state) {
    section.dataset.state = state;
    const text = words().querySelector(`[data-of="${state}"]`).dataset;
    write(section, '[data-big]', text.big);
    write(section, '[data-more]', text.more.replace('{0}', openPaths(plug.answer)));
    section.querySelector('[data-asking]').hidden = !['none', 'done'].includes(state) && plug.answer?.state !== 'lost';
    section.querySelector('[data-plugged]').hidden = state !== 'safe' && state !== 'partly';
  }
  write(section, '[data-caution]', ['waiting', 'safe', 'partly'].includes(state) ? caution(plug.answer) : '');
  if (plug.shown !== state) {
    if (plug.shown !== '' && buzz[state]) navigator.vibrate?.(buzz[state]);
    plug.shown = state;
  }
}

function write(section, place, text) {
  const line = section.querySelector(place);
  line.hidden = text === '';
  if (line.textContent !== text) line.textContent = text;
}

// What the desk does not say of phantom power is no better than on.
const caution = answer => !answer || answer.phantomOn === false ? '' : words().querySelector(`[data-phantom="${answer.phantomOn ? 'on' : 'unknown'}"]`).dataset.said;

const openPaths = answer => (answer?.openPaths ?? []).map(open => words().querySelector(`[data-path="${open}"]`)?.dataset.called ?? open).join(', ');

// A phone that was asleep or away has nothing to say before it has asked again.
function wake() {
  for (const plug of plugs.values()) if (plug.answer) plug.answer.expiresInMs = 0;
  sections().forEach(section => { show(section); ask(section); });
}

async function press(event) {
  const button = event.target instanceof Element ? event.target.closest('[data-ask], [data-done]') : null;
  if (!button || button.disabled) return;
  const section = button.closest('[data-plug]'), done = button.dataset.done !== undefined;
  button.disabled = true;
  const reason = section.querySelector('input[type=radio]:checked')?.value ?? '';
  const refused = done ? await post(`${path(section)}/done`, {}) : await post(path(section), reason ? { reason } : {});
  button.disabled = false;
  if (refused) { say(refused.why); return; }
  section.dataset.patch ||= 'waiting';
  await ask(section);
  show(section);
}

document.addEventListener('click', press);
keepAwake();
document.addEventListener('visibilitychange', wake);
addEventListener('pageshow', wake);
setInterval(() => sections().forEach(section => { if (isDue(section, plugOf(section))) ask(section); }), askEveryMs);
setInterval(() => sections().forEach(show), showEveryMs);
