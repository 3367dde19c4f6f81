// Draws the bars from the event stream, and turns a held control into exactly one confirmation.
'use strict';
(() => {
  const lowest = -72, holdMs = 700, staleMs = 500, giveUpMs = 1000;
  const css = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  let levels = null, heardAt = 0, broken = false;

  const stream = new EventSource('/api/events');
  stream.addEventListener('meters', event => {
    const meters = JSON.parse(event.data);
    const rows = document.querySelector('.rows');
    if (rows && meters.desk === rows.dataset.desk) { levels = meters; heardAt = performance.now(); }
  });
  stream.onerror = () => { broken = true; };
  stream.onopen = () => { broken = false; };

  const at = (db, width) => Math.max(0, Math.min(1, (db - lowest) / -lowest)) * width;
  const figure = text => text === '' || text === undefined ? null : Number(text);

  function draw(canvas, colours) {
    const scale = window.devicePixelRatio || 1, width = canvas.clientWidth, height = canvas.clientHeight;
    if (canvas.width !== Math.round(width * scale)) { canvas.width = Math.round(width * scale); canvas.height = Math.round(height * scale); }
    const pen = canvas.getContext('2d');
    pen.setTransform(scale, 0, 0, scale, 0, 0);
    pen.fillStyle = '#05080b'; pen.fillRect(0, 0, width, height);
    const index = Number(canvas.dataset.input) - 1, peak = levels ? levels.peakDbfs[index] : null, rms = levels ? levels.rmsDbfs[index] : null;
    const floor = figure(canvas.dataset.floor), passage = figure(canvas.dataset.passage), held = figure(canvas.dataset.held);
    const low = figure(canvas.dataset.low), middle = figure(canvas.dataset.middle), high = figure(canvas.dataset.high);
    if (floor !== null) { // hatched: what is noise anyway
      pen.strokeStyle = '#33404f'; pen.lineWidth = 1; pen.beginPath();
      for (let x = 0; x < at(floor, width); x += 5) { pen.moveTo(x, height); pen.lineTo(x + 5, 0); }
      pen.stroke();
    }
    if (peak !== null) { pen.fillStyle = colours.level; pen.fillRect(0, 3, at(peak, width), height - 6); }
    if (rms !== null) { pen.fillStyle = colours.mean; pen.fillRect(0, 3, at(rms, width), height - 6); }
    if (passage !== null && held !== null) { // the loudest passage: from its level to its peak
      pen.strokeStyle = colours.ink; pen.lineWidth = 1.5;
      pen.strokeRect(at(passage, width), 2, Math.max(2, at(held, width) - at(passage, width)), height - 4);
    }
    if (low !== null && high !== null) { // the show's peak as foretold: a bar with ends, and its middle
      pen.strokeStyle = colours.forecast; pen.lineWidth = 2; pen.beginPath();
      const y = height / 2;
      pen.moveTo(at(low, width), y - 4); pen.lineTo(at(low, width), y + 4);
      pen.moveTo(at(low, width), y); pen.lineTo(at(high, width), y);
      pen.moveTo(at(high, width), y - 4); pen.lineTo(at(high, width), y + 4);
      pen.stroke();
      pen.fillStyle = colours.forecast; pen.beginPath(); pen.arc(at(middle, width), y, 4, 0, 7); pen.fill();
    }
    pen.fillStyle = colours.target; // the target: a gate with a foot and a head
    const target = at(-12, width);
    pen.fillRect(target - 1, 0, 2, height); pen.fillRect(target - 4, 0, 8, 3); pen.fillRect(target - 4, height - 3, 8, 3);
    pen.fillStyle = peak !== null && peak >= -0.1 ? colours.full : '#5b2d2a';
    pen.fillRect(width - 5, 0, 5, height);
  }

  function frame() {
    const colours = { level: css('--level'), mean: css('--mean'), ink: css('--ink'), forecast: css('--forecast'), target: css('--target'), full: css('--full') };
    document.querySelectorAll('canvas.bar').forEach(canvas => draw(canvas, colours));
    const silence = performance.now() - heardAt, stale = heardAt > 0 && silence > staleMs;
    document.body.classList.toggle('stale', stale || broken);
    let since = document.getElementById('since');
    if (stale || broken) {
      since ??= document.body.appendChild(Object.assign(document.createElement('p'), { id: 'since', className: 'since' }));
      since.textContent = broken ? 'Connection to the service lost. The picture is old.' : `No meters for ${(silence / 1000).toFixed(1)} s.`;
    } else since?.remove();
    requestAnimationFrame(frame);
  }
  requestAnimationFrame(frame);

  // One plain POST, given up after a second, never repeated by itself.
  async function post(path, body) {
    const abort = new AbortController(), timer = setTimeout(() => abort.abort(), giveUpMs);
    try {
      const answer = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body ?? {}), signal: abort.signal });
      return answer.ok ? null : (await answer.json()).detail ?? `Refused (${answer.status}).`;
    } catch { return 'No answer from the service. Look at the desk before you try again.'; }
    finally { clearTimeout(timer); }
  }

  let held = null;
  function begin(button) {
    if (held || button.disabled || document.body.classList.contains('stale')) return;
    button.classList.add('holding');
    held = { button, digest: button.dataset.digest, timer: setTimeout(() => complete(button), holdMs) };
  }
  function cancel() {
    if (!held) return;
    clearTimeout(held.timer); held.button.classList.remove('holding'); held = null;
  }
  async function complete(button) {
    const started = held; held = null;
    button.classList.remove('holding');
    // What was under the finger at the start must be what is confirmed.
    if (!button.isConnected || started.digest !== button.dataset.digest) return;
    const needs = button.dataset.needs ? button.dataset.needs.split(',') : [];
    if (needs.length && !button.classList.contains('second-word')) { button.classList.add('second-word'); return; }
    button.disabled = true;
    const refused = await post(`/api/proposals/${button.dataset.confirm}/confirm`, { digest: started.digest, acknowledge: needs });
    button.disabled = false;
    button.classList.remove('second-word');
    if (refused) say(refused);
  }
  function say(text) {
    const note = document.body.appendChild(Object.assign(document.createElement('p'), { className: 'since', textContent: text }));
    note.setAttribute('role', 'alert');
    setTimeout(() => note.remove(), 6000);
  }

  const holdAt = event => event.target instanceof Element ? event.target.closest('.hold') : null;
  document.addEventListener('pointerdown', event => { const button = holdAt(event); if (button && event.isPrimary && event.button === 0) begin(button); });
  for (const name of ['pointerup', 'pointercancel', 'pointerleave', 'blur', 'visibilitychange']) document.addEventListener(name, cancel);
  document.addEventListener('pointermove', event => { if (held && holdAt(event) !== held.button) cancel(); });
  document.addEventListener('keydown', event => {
    const button = holdAt(event);
    if (button && (event.key === 'Enter' || event.key === ' ')) { event.preventDefault(); if (!event.repeat) begin(button); }
    else if (event.key === 'Escape') cancel();
  });
  document.addEventListener('keyup', cancel);
  document.addEventListener('contextmenu', event => { if (holdAt(event)) event.preventDefault(); });
  document.addEventListener('click', async event => {
    const button = event.target instanceof Element ? event.target.closest('[data-decline]') : null;
    if (button) { const refused = await post(`/api/proposals/${button.dataset.decline}/decline`); if (refused) say(refused); }
  });
  // A circuit that the service no longer knows: begin again without a hand.
  document.addEventListener('components-reconnect-state-changed', event => {
    if (event.detail?.state === 'failed' || event.detail?.state === 'rejected') setTimeout(() => location.reload(), 1000);
  });
})();
