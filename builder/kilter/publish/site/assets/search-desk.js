// Takes questions and answers them from what is there; fetches the files of machines that a large library has, those
// that the question needs first, and answers again. Never says "none" before everything was looked into.
"use strict";
globalThis.kilterSearch = globalThis.kilterSearch ?? {};
// `load(address)` fetches one file of records; `tell(data)` brings what is found to the page.
kilterSearch.desk = (load, tell) => {
  const AT_ONCE = 4, AGAIN_AFTER = 15000, SLICE = 12;
  let index = null, whole = false, reading = false, question = null, last = null, busy = 0, failedAt = 0;
  const waiting = new Set(), away = new Set(), failed = new Set();
  const titleOf = ([, equipment]) => index.file.equipment[equipment];
  const matters = (part) => !question?.equipment || titleOf(part) === question.equipment;
  const open = () => [...waiting, ...away].filter(matters).length + (whole ? 0 : 1);
  const breath = () => new Promise((done) => setTimeout(done)); // what was typed meanwhile comes first

  const ready = load("records.json").then((file) => {
    tell({ choices: kilterSearch.choices(file) });
    index = kilterSearch.read(file);
    whole = kilterSearch.later(index, SLICE); // a small library is ready before it is asked
    for (const part of file.parts) waiting.add(part);
  });
  ready.catch(() => tell({ failed: true }));

  function answer() {
    const left = open(), lacking = [...failed].filter(matters).map(titleOf);
    last = { asked: question.asked, words: question.words.trim(), left, lacking, ...kilterSearch.find(index, question, left === 0) };
    tell(last);
  }

  async function fetchNext() {
    const part = [...waiting].find(matters) ?? [...waiting][0];
    waiting.delete(part);
    away.add(part);
    const file = await load(part[0]).catch(() => null);
    await breath();
    away.delete(part);
    if (!file || !kilterSearch.add(index, part, file)) {
      failed.add(part);
      failedAt = Date.now();
    }
    if (matters(part)) again();
  }

  // The question that stands, once more: when all is there, and while nothing was found.
  function again() {
    if (last.left > 0 && (open() === 0 || (last.total === 0 && whole))) answer();
  }

  async function work() {
    busy += 1;
    while (waiting.size) await fetchNext();
    busy -= 1;
  }

  return async (data) => {
    question = data;
    await ready.catch(() => {});
    if (!index || question !== data) return;
    if (failed.size && Date.now() - failedAt > AGAIN_AFTER) {
      for (const part of failed) waiting.add(part);
      failed.clear();
    }
    answer();
    while (busy < AT_ONCE && waiting.size > busy) work();
    if (!whole && !reading) {
      reading = true;
      await breath();
      while (!(whole = kilterSearch.later(index, SLICE))) await breath();
      again();
    }
  };
};
