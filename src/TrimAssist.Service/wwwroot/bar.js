// One row's bar: the window between noise floor and full scale. The upper lane moves with the level now; the lower one keeps what the
// check heard and what the show should bring. Every mark has a shape of its own. A slim bar has the upper lane only.
const lowest = -66, highest = 6, leastForTwoLanes = 15;
const figure = text => text ? Number(text) : null;

export function drawBar(canvas, now, colours) {
  const scale = window.devicePixelRatio || 1, width = canvas.clientWidth, height = canvas.clientHeight;
  const x = db => Math.max(0, Math.min(1, (db - lowest) / (highest - lowest))) * width;
  if (canvas.width !== Math.round(width * scale) || canvas.height !== Math.round(height * scale)) {
    canvas.width = Math.round(width * scale); canvas.height = Math.round(height * scale);
  }
  const pen = canvas.getContext('2d'), data = canvas.dataset;
  pen.setTransform(scale, 0, 0, scale, 0, 0);
  pen.fillStyle = colours.well; pen.fillRect(0, 0, width, height);
  const lanes = lanesOf(height);
  drawGrid(pen, x, height, colours);
  drawFloor(pen, x, height, figure(data.floor), colours);
  drawLevel(pen, x, lanes.now, now, colours);
  drawFull(pen, x, width, height, now.hold, colours);
  if (lanes.check) drawPassage(pen, x, lanes.check, figure(data.passage), figure(data.held), colours);
  // Where nothing was heard yet the target stands back.
  pen.globalAlpha = data.passage ? 1 : .4;
  if (data.target) drawTarget(pen, x(figure(data.target)), height, colours);
  pen.globalAlpha = 1;
  if (lanes.check) drawForecast(pen, x, lanes.check, figure(data.low), figure(data.middle), figure(data.high), colours);
}

function lanesOf(height) {
  if (height < leastForTwoLanes) return { now: { top: 1, height: height - 2 }, check: null };
  const now = Math.round(height * .46);
  return { now: { top: 2, height: now - 1 }, check: { top: now + 3, height: height - now - 5 } };
}

function drawGrid(pen, x, height, colours) {
  pen.fillStyle = colours.grid;
  for (const db of [-60, -48, -36, -24, -12]) pen.fillRect(Math.round(x(db)), 0, 1, height);
}

function drawLevel(pen, x, lane, { peak, rms, hold }, colours) {
  if (peak !== null) { pen.fillStyle = colours.level; pen.fillRect(0, lane.top, x(peak), lane.height); }
  if (rms !== null) { pen.fillStyle = colours.mean; pen.fillRect(0, lane.top, x(rms), lane.height); }
  if (hold !== null && hold > lowest) { pen.fillStyle = colours.level; pen.fillRect(x(hold) - 1, lane.top, 2, lane.height); }
}

function drawFloor(pen, x, height, floor, colours) {
  if (floor === null || floor <= lowest) return;
  pen.save();
  pen.beginPath(); pen.rect(0, 0, x(floor), height); pen.clip();
  pen.strokeStyle = colours.hatch; pen.lineWidth = 1.5; pen.beginPath();
  for (let at = -height; at < x(floor); at += 6) { pen.moveTo(at, height); pen.lineTo(at + height, 0); }
  pen.stroke();
  pen.restore();
  pen.fillStyle = colours.hatch; pen.fillRect(x(floor) - 1, 0, 1.5, height);
}

function drawPassage(pen, x, lane, level, peak, colours) {
  if (level === null || peak === null) return;
  pen.beginPath();
  pen.roundRect(x(level), lane.top, Math.max(4, x(peak) - x(level)), lane.height, 2.5);
  pen.fillStyle = colours.band; pen.fill();
}

function drawTarget(pen, at, height, colours) {
  pen.fillStyle = colours.target;
  pen.fillRect(at - 1, 0, 2, height); pen.fillRect(at - 4, 0, 8, 2); pen.fillRect(at - 4, height - 2, 8, 2);
}

// A dot with whiskers on a dark edge, so that it stands out on any level; an arrow where it leaves the scale.
function drawForecast(pen, x, lane, low, middle, high, colours) {
  if (low === null || middle === null || high === null) return;
  const y = lane.top + lane.height / 2, cap = Math.min(4, lane.height / 2), right = Math.min(x(high), x(highest) - 2);
  // All of it beyond the scale: the arrow alone.
  const left = Math.min(x(low), right - 10), dot = Math.min(Math.max(3, lane.height * .4), 5);
  const trace = grow => {
    pen.beginPath();
    pen.moveTo(left, y); pen.lineTo(right, y);
    if (low < highest - 1) { pen.moveTo(left, y - cap); pen.lineTo(left, y + cap); }
    if (high > highest) { pen.moveTo(right - 5, y - cap); pen.lineTo(right, y); pen.lineTo(right - 5, y + cap); }
    else { pen.moveTo(right, y - cap); pen.lineTo(right, y + cap); }
    pen.stroke();
    if (middle <= highest) { pen.beginPath(); pen.arc(x(middle), y, dot + grow, 0, 7); pen.fill(); }
  };
  pen.strokeStyle = pen.fillStyle = colours.well; pen.lineWidth = 4.5; trace(1.5);
  pen.strokeStyle = pen.fillStyle = colours.forecast; pen.lineWidth = 2; trace(0);
}

function drawFull(pen, x, width, height, hold, colours) {
  const full = x(0);
  if (hold !== null && hold >= -0.1) { // clipped a moment ago: the whole end lights, with bars across
    pen.fillStyle = colours.full; pen.fillRect(full, 0, width - full, height);
    pen.fillStyle = colours.well;
    for (let at = full + 4; at < width; at += 7) pen.fillRect(at, 3, 3, height - 6);
  } else {
    pen.fillStyle = colours.over; pen.fillRect(full, 0, width - full, height);
  }
  pen.fillStyle = colours.full; pen.fillRect(full - 1, 0, 2, height);
}
