/** The screen stays on while a run is worked at, and a finished wait is heard and felt. */
let lock = null, wanted = false;

async function take() {
  if (!wanted || !("wakeLock" in navigator) || document.visibilityState !== "visible") return;
  try {
    lock = await navigator.wakeLock.request("screen");
  } catch {
    lock = null; // low battery or not allowed: the run goes on without
  }
}

export function keepAwake(on) {
  wanted = on;
  if (on) take();
  else if (lock) lock.release().catch(() => {});
}

document.addEventListener("visibilitychange", () => take());

let sound = null;

/** Browsers let a page sound only after a touch; called from one. */
export function mayRing() {
  try {
    sound = sound || new AudioContext();
    sound.resume();
  } catch {
    sound = null;
  }
}

export function ring() {
  if (navigator.vibrate) navigator.vibrate([400, 200, 400, 200, 800]);
  if (!sound) return;
  [0, 0.45, 0.9].forEach((from) => {
    const tone = sound.createOscillator(), loud = sound.createGain();
    tone.frequency.value = 880;
    loud.gain.setValueAtTime(0.0001, sound.currentTime + from);
    loud.gain.exponentialRampToValueAtTime(0.4, sound.currentTime + from + 0.03);
    loud.gain.exponentialRampToValueAtTime(0.0001, sound.currentTime + from + 0.3);
    tone.connect(loud).connect(sound.destination);
    tone.start(sound.currentTime + from);
    tone.stop(sound.currentTime + from + 0.32);
  });
}
