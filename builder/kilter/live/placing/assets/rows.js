// Rows of the file over an answer: a row stays the same object, so what was chosen stays chosen wherever it stands now.
const ITEM = /^\d+$/;

// The rows that an answer brought, each as the object it was before; an item is known by its number if it says something else.
export function carried(before, after) {
  const left = [...before];
  const take = (fits) => {
    const found = left.findIndex(fits);
    return found < 0 ? null : left.splice(found, 1)[0];
  };
  const same = after.map((row) => take((old) => old.name === row.name && old.value === row.value));
  return after.map((row, n) => {
    const old = same[n] || (ITEM.test(row.name) && take((each) => each.name === row.name));
    return old ? Object.assign(old, row) : row;
  });
}

// What this page has just had written, in the rows as it holds them: [{row, text}], no row for a new one, no text for one taken out.
export function settled(rows, changes) {
  for (const { row, text } of changes) {
    const said = /^:([^:]+):\s*(.*)$/.exec(text);
    if (row && said) Object.assign(row, { name: said[1], value: said[2] });
  }
  return rows.filter((row) => !changes.some((each) => each.row === row && !each.text));
}
