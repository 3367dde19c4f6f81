// Keeps the phone's screen on while the stage view is looked at, where the browser can and whoever holds it wants it. The browser itself
// lets go when the page is hidden; coming back asks again.
const kept = 'trimassist.wake';
let lock = null, wanted = read();

function read() {
  try { return localStorage.getItem(kept) !== 'off'; } catch { return true; }
}

async function hold() {
  if (!wanted || lock || !navigator.wakeLock || document.visibilityState !== 'visible') return;
  try {
    lock = await navigator.wakeLock.request('screen');
    lock.addEventListener('release', () => { lock = null; show(); });
  } catch { lock = null; }
  show();
}

// The button says what is so, not what was asked for.
function show() {
  for (const button of document.querySelectorAll('[data-wake]')) {
    const text = !navigator.wakeLock ? button.dataset.none : lock ? button.dataset.on : button.dataset.off;
    if (button.textContent !== text) button.textContent = text;
    button.hidden = false;
    button.disabled = !navigator.wakeLock;
    button.ariaPressed = String(lock !== null);
  }
}

export function keepAwake() {
  document.addEventListener('click', async event => {
    if (!(event.target instanceof Element) || !event.target.closest('[data-wake]')) return;
    wanted = lock === null;
    try { localStorage.setItem(kept, wanted ? 'on' : 'off'); } catch { /* For this page only. */ }
    if (wanted) await hold(); else await lock.release();
  });
  document.addEventListener('visibilitychange', hold);
  // The page's own rendering may bring the button again.
  new MutationObserver(show).observe(document.body, { childList: true, subtree: true });
  show();
  hold();
}
