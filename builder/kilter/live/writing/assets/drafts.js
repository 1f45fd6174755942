// Unsaved text survives a reload: kept in this browser by path, version and tab; offered back, never put in silently.
const BEGIN = "kilter-draft:";

function tab() {
  let own = sessionStorage.getItem("kilter-tab");
  if (!own) {
    own = Math.random().toString(36).slice(2, 10);
    sessionStorage.setItem("kilter-tab", own);
  }
  return own;
}

const keyOf = (path, hash) => `${BEGIN}${JSON.stringify([path, hash, tab()])}`;

export function keep(path, hash, text) {
  try { localStorage.setItem(keyOf(path, hash), JSON.stringify({ text, at: Date.now() })); } catch { /* full or switched off: nothing is kept */ }
}

export function drop(path, hash) {
  try { localStorage.removeItem(keyOf(path, hash)); } catch { /* as above */ }
}

export function kept(path) {
  const found = [];
  try {
    for (let n = 0; n < localStorage.length; n += 1) {
      const key = localStorage.key(n);
      if (!key.startsWith(BEGIN)) continue;
      const [of, hash] = JSON.parse(key.slice(BEGIN.length));
      if (of === path) found.push({ key, hash, ...JSON.parse(localStorage.getItem(key)) });
    }
  } catch { return []; }
  return found.sort((a, b) => b.at - a.at);
}

export function forget(draft) {
  try { localStorage.removeItem(draft.key); } catch { /* nothing to forget */ }
}
