// Before anything is drawn: the look that was chosen on this device. Storage may be refused; then the defaults stand.
'use strict';
for (const what of ['theme', 'rows', 'filter', 'sound']) {
  try {
    const kept = localStorage.getItem(`trimassist.${what}`);
    if (kept) document.documentElement.dataset[what] = kept;
  } catch { break; }
}
