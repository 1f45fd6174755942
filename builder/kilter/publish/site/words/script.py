"""The script around the words that phones get."""

SCRIPT = """\
// Made from publish/site/words: what the scripts of the pages say. Works in pages and in workers.
"use strict";
((more) => {
  const words = globalThis.kilterWords = {...globalThis.kilterWords, ...more};
  // The words of a key with {name} filled in; a missing key or value is a fault, never an empty place.
  globalThis.kilterWord = (key, values = {}) => {
    if (!(key in words)) throw new Error(`no words for ${key}`);
    return words[key].replace(/\\{(\\w+)\\}/g, (all, name) => {
      if (!(name in values)) throw new Error(`${key}: no value for ${name}`);
      return String(values[name]);
    });
  };
  // KEY.one or KEY.many, with {n} filled in.
  globalThis.kilterCount = (key, n, values = {}) => kilterWord(`${key}.${n === 1 ? "one" : "many"}`, { n, ...values });
})({/* words */});
"""
