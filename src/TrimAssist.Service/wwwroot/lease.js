// How long "plug now" may be shown: by this phone's own clocks, counted from when the question was sent, never longer than a second.
const longestMs = 1000;

/** A moment on both clocks: one stands still while some phones sleep, the other may be set back. */
export const moment = () => ({ steady: performance.now(), wall: Date.now() });

/** Time since a moment, by whichever clock says more. */
export const since = then => Math.max(performance.now() - then.steady, Date.now() - then.wall);

/** What may be shown of an answer now: a lease that ran out, or an answer that gave none, is "stop". */
export function shownState(answer) {
  if (answer === null) return 'none';
  if (answer.state === 'lost') return 'stop';
  if (answer.state !== 'safe' && answer.state !== 'partly') return answer.state;
  const lease = Math.min(answer.expiresInMs ?? 0, longestMs);
  return since(answer.askedAt) < lease ? answer.state : 'stop';
}
