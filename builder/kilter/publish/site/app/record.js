/** A run as it is handed over: one canonical JSON object with its own hash, chained to the one before. */
import {canonical} from "./canonical.js";
import {sha256} from "./sha256.js";

export const RECORD = "kilter-record-1";

/** The record of a run; `head` is what the store keeps of it, `entries` all of its entries in order. */
export function recordOf(head, entries, previous = "") {
  const last = entries.length ? entries[entries.length - 1] : null;
  const ended = [...entries].reverse().find((entry) => entry.kind === "exit");
  const record = {
    schema: RECORD,
    id: head.id,
    kind: head.kind,
    document: head.document,
    revision: head.revision,
    hash: head.hash,
    equipment: head.equipment,
    asset: head.asset,
    serial: head.serial,
    workOrder: head.workOrder,
    worker: head.worker,
    started: head.started,
    finished: ended && last ? last.at : "",
    zoneName: head.zoneName,
    exit: ended ? ended.exit : "",
    previous,
    entries,
  };
  return {...record, digest: digestOf(record)};
}

/** SHA-256 over the canonical JSON of everything but the digest itself. */
export function digestOf(record) {
  const {digest, ...rest} = record;
  return sha256(canonical(rest));
}
