// One row's bar: the window between noise floor and full scale, with the level moving in it. Every mark has a shape of its own.
const lowest = -66, highest = 6;
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
  drawGrid(pen, x, height, colours);
  drawLevel(pen, x, height, now, colours);
  drawFloor(pen, x, height, figure(data.floor), colours);
  drawPassage(pen, x, height, figure(data.passage), figure(data.held), colours);
  drawTarget(pen, x(now.target), height, colours);
  drawForecast(pen, x, height, figure(data.low), figure(data.middle), figure(data.high), colours);
  drawFull(pen, x, width, height, now.hold, colours);
}

function drawGrid(pen, x, height, colours) {
  pen.fillStyle = colours.grid;
  for (const db of [-60, -48, -36, -24]) pen.fillRect(Math.round(x(db)), 0, 1, height);
}

function drawLevel(pen, x, height, { peak, rms, hold }, colours) {
  if (peak !== null) { pen.fillStyle = colours.level; pen.fillRect(0, 4, x(peak), height - 8); }
  if (rms !== null) { pen.fillStyle = colours.mean; pen.fillRect(0, 4, x(rms), height - 8); }
  if (hold !== null) { pen.fillStyle = colours.level; pen.fillRect(x(hold) - 1, 4, 2, height - 8); }
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

function drawPassage(pen, x, height, level, peak, colours) {
  if (level === null || peak === null) return;
  pen.strokeStyle = colours.ink; pen.lineWidth = 1.25;
  pen.strokeRect(x(level), 1.5, Math.max(3, x(peak) - x(level)), height - 3);
}

function drawTarget(pen, at, height, colours) {
  pen.fillStyle = colours.target;
  pen.fillRect(at - 1, 0, 2, height); pen.fillRect(at - 4, 0, 8, 2.5); pen.fillRect(at - 4, height - 2.5, 8, 2.5);
}

// A dot with whiskers on a dark edge, so that it stands out on any level; an arrow where it leaves the scale.
function drawForecast(pen, x, height, low, middle, high, colours) {
  if (low === null || middle === null || high === null) return;
  const y = height / 2;
  const trace = () => {
    pen.beginPath();
    pen.moveTo(x(low), y); pen.lineTo(x(high), y);
    pen.moveTo(x(low), y - 4); pen.lineTo(x(low), y + 4);
    if (high > highest) { pen.moveTo(x(high) - 5, y - 4); pen.lineTo(x(high) - 1, y); pen.lineTo(x(high) - 5, y + 4); }
    else { pen.moveTo(x(high), y - 4); pen.lineTo(x(high), y + 4); }
    pen.stroke();
    if (middle <= highest) { pen.beginPath(); pen.arc(x(middle), y, pen.lineWidth + 2, 0, 7); pen.fill(); }
  };
  pen.strokeStyle = pen.fillStyle = colours.well; pen.lineWidth = 4; trace();
  pen.strokeStyle = pen.fillStyle = colours.forecast; pen.lineWidth = 2; trace();
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
