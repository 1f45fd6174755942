// Values in a question, such as "22 Nm" or "16 ft-lb", and which values of the library they are.
"use strict";
globalThis.kilterSearch = globalThis.kilterSearch ?? {};
Object.assign(kilterSearch, (() => {
  const NUMBER = String.raw`[-−+]?\d+(?:[.,]\d+)?`;
  const VALUE = new RegExp(String.raw`(?<![\p{L}\p{N}.,-])(${NUMBER})(?:\s*(±|\+/-|\+-|–|-|to|bis)\s*(${NUMBER}))?\s*([^\d\s,;±]+(?:[\s·.-][\p{L}²³]+)?)`, "giu");
  const key = (name) => name.normalize("NFC").replace(/μ/g, "µ").replace(/[\s·⋅*.-]/g, "");

  // Spellings without dots and blanks; in another case only where that leaves one unit.
  function unitTable(units) {
    const exact = new Map(), loose = new Map();
    for (const [name, unit] of Object.entries(units)) {
      exact.set(key(name), unit);
      const low = key(name).toLowerCase(), had = loose.get(low);
      loose.set(low, had === undefined || had?.[0] === unit[0] ? unit : null);
    }
    return (name) => exact.get(key(name)) ?? loose.get(key(name).toLowerCase()) ?? null;
  }

  const plain = (number) => number.replace("−", "-").replace(",", ".");
  const step = (number) => 10 ** -(plain(number).split(".")[1] ?? "").length;
  const near = (a, b) => Math.abs(a - b) <= 1e-9 * Math.max(1e-9, Math.abs(a), Math.abs(b));

  // What a question asks for by value, and the words that are left of it.
  function valuesOf(question, unitOf) {
    const values = [];
    const rest = question.replace(VALUE, (all, first, sign, second, name) => {
      const short = name.split(/[\s·.-]/)[0];
      const whole = unitOf(name), unit = whole ?? unitOf(short);
      if (!unit) return all;
      const numbers = second === undefined ? [first] : [first, second];
      values.push({ numbers: numbers.map((n) => Number(plain(n))), step: step(first), around: sign !== undefined && /[±+]/.test(sign), unit });
      return whole ? " " : ` ${name.slice(short.length)} `;
    });
    return { values, rest };
  }

  // Whether one asked number is one of three: the same in the same unit; in another, within what was typed.
  function meets(asked, unit, typed, [symbol, ...numbers], unitOf) {
    const other = unitOf(symbol);
    if (!other || other[1] !== unit[1]) return false;
    return numbers.some((number) => {
      if (number === null || number === undefined) return false;
      if (symbol === unit[0]) return near(number, asked);
      const there = (number * other[2] + other[3] - unit[3]) / unit[2];
      return near(there, asked) || (other[4] !== unit[4] && there >= asked - typed / 2 && there < asked + typed / 2);
    });
  }

  // A value is [text, unit, nominal, low, high, other unit, nominal, low, high], see records.py.
  function matches(asked, value, unitOf) {
    const written = value.slice(1, 5), shown = value.slice(5);
    const [first, second] = asked.numbers;
    const sides = [written, ...(shown.length ? [shown] : [])];
    if (second === undefined) return sides.some((side) => meets(first, asked.unit, asked.step, side, unitOf));
    const ends = asked.around ? [first - second, first + second] : [first, second];
    return sides.some((side) => meets(ends[0], asked.unit, asked.step, [side[0], side[2]], unitOf)
      && meets(ends[1], asked.unit, asked.step, [side[0], side[3]], unitOf));
  }

  return { unitTable, valuesOf, matches };
})());
