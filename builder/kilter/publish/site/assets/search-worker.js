// The index away from the page: it loads the records, then answers.
"use strict";
importScripts("search-words.js", "search-values.js", "search-engine.js", "search-desk.js");

const load = async (address) => {
  const answer = await fetch(`../${address}`);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer.json();
};
const ask = kilterSearch.desk(load, (data) => postMessage(data));

onmessage = ({ data }) => ask(data);
