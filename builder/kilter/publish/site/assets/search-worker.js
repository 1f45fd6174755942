// The index away from the page: it loads the records once, then answers.
"use strict";
importScripts("search-words.js", "search-values.js", "search-engine.js");

const ready = fetch("../records.json").then((answer) => {
  if (!answer.ok) throw new Error(`records: ${answer.status}`);
  return answer.json();
}).then((file) => {
  postMessage({ choices: kilterSearch.choices(file) });
  return kilterSearch.read(file);
});
ready.catch(() => postMessage({ failed: true }));

onmessage = async ({ data }) => {
  const index = await ready;
  postMessage({ asked: data.asked, words: data.words.trim(), ...kilterSearch.find(index, data) });
};
