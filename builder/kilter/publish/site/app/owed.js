/** How much of what was entered here nobody else has yet. */

/** Heads of the records that nobody has been given as they are now: an open run grows after it was handed over. */
export async function owedRecords(store) {
  const heads = [];
  for (const head of await store.runs()) {
    const grown = head.handed && head.handedEntries !== undefined && (await store.entries(head.id)).length > head.handedEntries;
    if (!head.handed || grown) heads.push(head);
  }
  return heads;
}

/** How many records nobody has been given yet. */
export async function waitingRecords(store) {
  return (await owedRecords(store)).length;
}
