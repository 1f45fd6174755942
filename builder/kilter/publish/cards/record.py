"""The blank sheet for a run on paper, and the table of torques and settings."""

from __future__ import annotations

from kilter.publish.cards.heads import Data, document_head, machine_head
from kilter.publish.cards.inline import printable
from kilter.publish.cards.lines import SettingRow, has_settings, run_lines, setting_rows
from kilter.publish.machine import MachineView
from kilter.publish.view import EXITS, DocumentView
from kilter.publish.window import own_window


def record_data(view: DocumentView, width: int, height: int) -> Data:
    """As found, as left, and all that a record needs."""
    exits = dict.fromkeys(
        EXITS.get(s.exit.casefold(), s.exit) for g in view.stages for s in g.steps if s.exit
    )
    return {
        **document_head(view, width, height, "As-found / as-left sheet"),
        "lines": run_lines(view),
        "exits": [printable(e) for e in exits],
    }


def settings_data(subject: DocumentView | MachineView, width: int, height: int) -> Data:
    """One table for a document; for a machine one for each of its documents, its own stages once."""
    name = "Torques and settings"
    if isinstance(subject, DocumentView):
        head = document_head(subject, width, height, name)
        return {**head, "groups": [_group("", setting_rows(subject))], "switches": []}
    head = machine_head(subject, width, height, name, subject.hash_with_documents)
    own: dict[tuple[str, ...], SettingRow] = {}
    places: dict[tuple[str, ...], list[tuple[str, str]]] = {}
    groups = []
    for view in subject.views:
        rows = setting_rows(view, borrowed=False)
        title = f"{view.number} rev. {view.front.revision}  {view.front.title}"
        groups += [_group(title, rows)] if rows else []
        for row in setting_rows(view, borrowed=True):
            key = (*row["what"], row["value"], row["tool"])
            own.setdefault(key, row)
            places.setdefault(key, []).append((view.number, row["step"]))
    if own:
        shared = [_in_many(row, places[key]) for key, row in own.items()]
        groups.append(_group("The machine's own stages", shared))
    return {**head, "groups": groups, "switches": _switches(subject)}


def _in_many(row: SettingRow, places: list[tuple[str, str]]) -> SettingRow:
    """A setting of a stage that several documents do: each with its own number for the step."""
    steps = {step for _, step in places}
    where = ", ".join(f"{number} step {step}" for number, step in places)
    return {**row, "step": steps.pop() if len(steps) == 1 else "", "what": [*row["what"], printable(where)]}


def has_machine_settings(machine: MachineView) -> bool:
    return bool(machine.front.switches) or any(map(has_settings, machine.views))


def _group(title: str, rows: list[SettingRow]) -> Data:
    return {"title": printable(title), "rows": rows}


def _switches(machine: MachineView) -> list[Data]:
    found = []
    for name, switch in machine.front.switches.items():
        window = own_window(name, switch)
        if window is not None:
            words = f"{window.text}. {window.said}".strip()
            found.append(
                {
                    "name": printable(window.title),
                    "words": printable(words),
                    "origin": printable(switch.origin or ""),
                }
            )
    return found
