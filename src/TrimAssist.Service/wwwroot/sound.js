// A short sound for an urgent alarm, for whoever has turned it on: two rising tones, once for each alarm.
const tones = [[660, 0], [990, .16]], lengthS = .14, loudness = .25;
let context = null, told = '';

function play() {
  context ??= new AudioContext();
  if (context.state === 'suspended') context.resume();
  for (const [pitch, wait] of tones) {
    const tone = context.createOscillator(), level = context.createGain(), at = context.currentTime + wait;
    tone.frequency.value = pitch;
    level.gain.setValueAtTime(0, at);
    level.gain.linearRampToValueAtTime(loudness, at + .01);
    level.gain.linearRampToValueAtTime(0, at + lengthS);
    tone.connect(level).connect(context.destination);
    tone.start(at); tone.stop(at + lengthS);
  }
}

const isOn = () => document.documentElement.dataset.sound === 'on';

export function followAlarms() {
  const listen = () => {
    const urgent = document.querySelector('.banner')?.dataset.urgent ?? '';
    if (urgent !== '' && urgent !== told && isOn()) play();
    told = urgent;
  };
  listen();
  new MutationObserver(listen).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-urgent'] });
  // Turning it on is heard at once; it is also the gesture without which a browser plays nothing.
  document.addEventListener('click', event => {
    if (event.target instanceof Element && event.target.closest('[data-choose-sound=on]')) play();
  });
}
