// What goes to the service: plain POSTs, each given up after a while, never queued and never repeated by themselves.
import { isOff, pictureAgeMs, pictureStamp } from './health.js';

// A confirmation waits for the desk's own word of up to 2 s; nothing else does.
const giveUpMs = 1000, confirmMs = 3000, sayMs = 8000;
const words = () => document.getElementById('words').dataset;
let saying = 0;

/** Sends one POST. Answers null where it was taken, else why not; unanswered where nobody said anything. */
export async function post(path, body, withinMs = giveUpMs) {
  const abort = new AbortController(), timer = setTimeout(() => abort.abort(), withinMs);
  try {
    const answer = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body), signal: abort.signal });
    return answer.ok ? null : { why: refusal(await answer.json()) };
  } catch { return { why: words().noAnswer, unanswered: true }; }
  finally { clearTimeout(timer); }
}

// In the page's words where it has some, else as the service says it.
const refusal = problem => document.querySelector(`[data-refusal="${CSS.escape(problem.code ?? '')}"]`)?.dataset.said ?? problem.detail ?? words().refused;

/** Says for a while what went wrong. */
export function say(text) {
  const line = document.getElementById('refusal');
  clearTimeout(saying);
  line.textContent = text; line.hidden = false;
  saying = setTimeout(() => { line.hidden = true; line.textContent = ''; }, sayMs);
}

/** Confirms one proposal, named by the digest of what was shown. */
const confirmation = ({ id, digest, needs }) =>
  post(`/api/proposals/${id}/confirm`, { digest, acknowledge: needs ? needs.split(',') : [], pictureAgeMs: pictureAgeMs(), picture: pictureStamp() }, confirmMs);

async function busy(button, work) {
  if (button.dataset.busy) return;
  button.dataset.busy = 'yes';
  try { return await work(); } finally { delete button.dataset.busy; }
}

export const confirm = (button, what) => busy(button, async () => {
  const row = button.closest('.row'), refused = await confirmation(what);
  if (refused) say(refused.why);
  else if (document.activeElement === button || document.activeElement === document.body) row?.focus({ preventScroll: true });
});

/** What a control of several stands for now: the lines it names itself, or the ticked ones of its reviewed list. */
export const linesOf = button => button.dataset.lines !== undefined
  ? button.dataset.lines.split(' ').filter(Boolean).map(line => line.split(':')).map(([id, digest]) => ({ id, digest, needs: '' }))
  : [...button.closest('.sheet').querySelectorAll('[data-tick]:checked:not(:disabled)')].map(tick => ({ id: tick.dataset.tick, digest: tick.dataset.digest, needs: '' }));

/** One after another, each with its own answer in its own line, or said where it has none. Where one stays unanswered the rest is not sent: the network is in doubt. */
export const confirmAll = (button, lines) => busy(button, async () => {
  const tell = (line, text) => { const place = document.querySelector(`[data-outcome="${line.id}"]`); if (place) place.textContent = text; };
  for (const [index, line] of lines.entries()) {
    const refused = isOff() ? { why: words().notSent, unanswered: true } : await confirmation(line);
    tell(line, refused ? refused.why : words().taken);
    if (refused && button.dataset.lines !== undefined) say(refused.why);
    if (!refused?.unanswered) continue;
    for (const left of lines.slice(index + 1)) tell(left, words().notSent);
    return;
  }
});

/** Sends a plain wish (decline, undo): nothing reaches the desk by it. */
export const wish = (button, path) => busy(button, async () => {
  if (isOff()) return;
  const refused = await post(path, {});
  if (refused) say(refused.why);
});
