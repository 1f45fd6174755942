// The same without a worker: where there is none, and for a site opened from a stick, where nothing can be fetched.
"use strict";
globalThis.kilterSearchHere = (folder, tell) => {
  const script = (address) => new Promise((done, failed) => {
    const made = Object.assign(document.createElement("script"), { src: address, onload: done, onerror: failed });
    document.head.append(made);
  });
  const records = () => location.protocol === "file:"
    ? new Promise((done, failed) => {
      globalThis.kilterRecords = done;
      script(`${folder}../records.js`).catch(failed);
    })
    : fetch(`${folder}../records.json`).then((answer) => answer.ok ? answer.json() : Promise.reject(new Error(answer.status)));
  const parts = ["search-words.js", "search-values.js", "search-engine.js"];
  const ready = (async () => {
    for (const part of parts) await script(folder + part);
    const file = await records();
    tell({ choices: kilterSearch.choices(file) });
    return kilterSearch.read(file);
  })();
  ready.catch(() => tell({ failed: true }));
  return {
    postMessage: async (data) => {
      const index = await ready;
      tell({ asked: data.asked, words: data.words.trim(), ...kilterSearch.find(index, data) });
    },
  };
};
