/** A copy of the answers on this device: the only one where no platform records. Without IndexedDB nothing is kept. */
const QUIZ_STORE = "answers";

function quizStore() {
  return new Promise((resolve) => {
    try {
      const asked = indexedDB.open("kilter-quiz", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore(QUIZ_STORE);
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = asked.onblocked = () => resolve(null);
    } catch { resolve(null); }
  });
}

function quizAsk(store, mode, action) {
  return new Promise((resolve) => {
    if (!store) { resolve(undefined); return; }
    try {
      const work = store.transaction(QUIZ_STORE, mode, {durability: "strict"}), asked = action(work.objectStore(QUIZ_STORE));
      work.oncomplete = () => resolve(asked.result);
      work.onerror = work.onabort = () => resolve(undefined);
    } catch { resolve(undefined); }
  });
}

/** @returns {{read: () => Promise<string|undefined>, write: (code: string) => Promise<void>, clear: () => Promise<void>}} */
export async function quizCopy(name) {
  const store = await quizStore();
  return {
    read: () => quizAsk(store, "readonly", (answers) => answers.get(name)),
    write: (code) => quizAsk(store, "readwrite", (answers) => answers.put(code, name)),
    clear: () => quizAsk(store, "readwrite", (answers) => answers.delete(name)),
  };
}
