// The same without a worker: where there is none, and for a site opened from a stick, where nothing can be fetched.
"use strict";
globalThis.kilterSearchHere = (folder, tell) => {
  const script = (address) => new Promise((done, failed) => {
    const made = Object.assign(document.createElement("script"), { src: address, async: false, onload: done, onerror: failed });
    document.head.append(made);
  });
  const given = new Map();
  globalThis.kilterRecords = (address, file) => given.get(address)(file);
  const load = (address) => location.protocol === "file:"
    ? new Promise((done, failed) => {
      given.set(address, done);
      script(`${folder}../${address.replace(/json$/, "js")}`).catch(failed);
    })
    : fetch(`${folder}../${address}`).then((answer) => answer.ok ? answer.json() : Promise.reject(new Error(answer.status)));
  const parts = ["search-words.js", "search-values.js", "search-engine.js", "search-desk.js"];
  const first = load("records.json"); // on its way while the scripts come
  const ready = Promise.all(parts.map((part) => script(folder + part)))
    .then(() => kilterSearch.desk((address) => (address === "records.json" ? first : load(address)), tell));
  first.catch(() => {}); // told by the desk
  ready.catch(() => tell({ failed: true }));
  return { postMessage: async (data) => (await ready)(data) };
};
