// Filter, theme, row size and sound: chosen with a button, kept on this device, marked for eyes and screen readers.
const kinds = { filter: 'chooseFilter', theme: 'chooseTheme', rows: 'chooseRows', sound: 'chooseSound' };
const root = document.documentElement;
const chosen = Object.fromEntries(Object.keys(kinds).map(what => [what, root.dataset[what]]));
export const lookChanged = new EventTarget();

// Going to another address of a view brings the service's own words for the whole page: what was chosen here stays chosen.
function show() {
  for (const [what, value] of Object.entries(chosen)) if (root.dataset[what] !== value) root.dataset[what] = value;
}

function mark() {
  for (const [what, name] of Object.entries(kinds)) {
    const attribute = name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`);
    for (const button of document.querySelectorAll(`[data-${attribute}]`)) {
      const pressed = String(button.dataset[name] === root.dataset[what]);
      if (button.getAttribute('aria-pressed') !== pressed) button.setAttribute('aria-pressed', pressed);
    }
  }
}

function choose(event) {
  const button = event.target instanceof Element ? event.target.closest('button') : null;
  for (const [what, name] of Object.entries(kinds)) {
    if (!button?.dataset[name]) continue;
    chosen[what] = button.dataset[name];
    show();
    try { localStorage.setItem(`trimassist.${what}`, button.dataset[name]); } catch { /* Kept for this page only. */ }
    mark();
    lookChanged.dispatchEvent(new Event('change'));
  }
  if (button?.dataset.chooseLanguage) speak(button.dataset.chooseLanguage);
}

// The service writes the words, so it must know: the cookie that its localization reads.
function speak(language) {
  document.cookie = `.AspNetCore.Culture=${encodeURIComponent(`c=en|uic=${language}`)}; path=/; max-age=31536000; samesite=strict`;
  location.reload();
}

// One menu at a time; a press elsewhere or Escape closes it.
function closeMenus(except) {
  for (const menu of document.querySelectorAll('details.menu[open]')) if (menu !== except) menu.open = false;
}

export function followChoices() {
  document.addEventListener('click', choose);
  document.addEventListener('pointerdown', event => closeMenus(event.target instanceof Element ? event.target.closest('details.menu') : null));
  document.addEventListener('keydown', event => {
    if (event.key !== 'Escape') return;
    const open = document.activeElement?.closest('details.menu[open]');
    closeMenus(null);
    open?.querySelector('summary').focus();
  });
  // The page's own rendering may bring the buttons again.
  new MutationObserver(mark).observe(document.body, { childList: true, subtree: true });
  new MutationObserver(show).observe(root, { attributes: true, attributeFilter: Object.keys(kinds).map(what => `data-${what}`) });
  mark();
}
