// The index away from the page: it loads the records, then answers.
"use strict";
const load = async (address) => {
  const answer = await fetch(`../${address}`);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer.json();
};
const first = load("records.json"); // on its way while the scripts come
first.catch(() => {}); // told by the desk
importScripts("search-words.js", "search-values.js", "search-engine.js", "search-desk.js");
const ask = kilterSearch.desk((address) => (address === "records.json" ? first : load(address)), (data) => postMessage(data));

onmessage = ({ data }) => ask(data);
