"""New files to fill in. What a profile says is already in place, so that a new procedure starts safe.

Every blank reads `[fill in: ...]`; the check refuses a document until none is left.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from pathlib import Path

from kilter.diagnostic import did_you_mean
from kilter.model.base import slugify
from kilter.model.document import Document
from kilter.model.front import ENERGY_KINDS, TASKS, EnergySource, ProfileFront
from kilter.outcome import CouldNotRunError
from kilter.read.blanks import BLANK_MARK
from kilter.read.library import library_root, read_library

RANKS = ("caution", "warning", "danger")


def skeleton(arguments: argparse.Namespace) -> str:
    """The text of a new file; raises CouldNotRunError when an option is missing or unknown."""
    if arguments.kind == "equipment":
        return _equipment(arguments.id or "", arguments.title or "")
    profile = _profile(arguments.file, arguments.equipment)
    _refuse_blanks(profile)
    if not arguments.number:
        raise CouldNotRunError("the document's number is missing: --number LFT-140")
    front = {
        "kind": arguments.kind,
        "task": arguments.task,
        "number": arguments.number,
        "revision": "A",
        "equipment": profile.profile.id,
        "title": _quoted(arguments.title or "[fill in: title]"),
        "writers": '["[fill in: initials]"]',
    }
    if arguments.kind == "pre-use-check":
        del front["task"]
        tests = profile.profile.before_service or ("[fill in: function]",)
        return _front(front) + _check(arguments.title, ", ".join(tests))
    if arguments.task not in TASKS:
        raise CouldNotRunError(f"task `{arguments.task}` is not known; {did_you_mean(arguments.task, TASKS)}")
    front["symptoms"] = '["[fill in: what is noticed first]"]'
    return _front(front) + "\n".join(_Procedure(profile, arguments.title).lines()) + "\n"


def _profile(file: Path, wanted: str | None) -> Document:
    """The profile that was asked for, or the only one of the library the file will stand in."""
    folder = file.absolute().parent
    while not folder.exists():
        folder = folder.parent
    profiles = read_library(library_root(folder)).profiles
    if wanted is None and len(profiles) == 1:
        return next(iter(profiles.values()))
    if wanted is None or wanted.casefold() not in profiles:
        missing = f"no equipment profile `{wanted}`" if wanted else "which equipment? --equipment ID"
        help = did_you_mean(wanted or "", [p.profile.id for p in profiles.values()])
        raise CouldNotRunError(f"{missing}; {help if profiles else 'write one first: kilter new equipment'}")
    return profiles[wanted.casefold()]


def _refuse_blanks(profile: Document) -> None:
    """A procedure takes its words from the profile: blanks there would come up again in every procedure."""
    if BLANK_MARK in profile.front.model_dump_json():
        raise CouldNotRunError(
            f"{profile.path}: still has blanks; fill it in first, the new document takes its words from there"
        )


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _front(keys: dict[str, str]) -> str:
    return "---\n" + "".join(f"{key}: {value}\n" for key, value in keys.items()) + "---\n"


def _equipment(id: str, title: str) -> str:
    kinds = ", ".join(ENERGY_KINDS[2:])
    return f"""---
kind: equipment
id: {_quoted(id or "[fill in: short name in lower case]")}
title: {_quoted(title or "[fill in: machine, maker and model]")}
writers: ["[fill in: initials]"]
sources:
  mains:
    kind: mains
    lockable: true
    word: danger
    isolate: "[fill in: where the plug or switch is, and the lock that holds it]"
    prove: "[fill in: instrument, where, and below what]"
  battery:
    kind: battery
    lockable: true
    charged-by: [mains]
    word: warning
    isolate: "[fill in: how the battery is taken out, and what it is locked in]"
    prove: "[fill in: instrument, where, and below what]"
none: [{kinds}]
guards: ["[fill in: each cover that can come off]"]
zones:
  inside: [mains, battery]
before-service: ["[fill in: each test before the machine goes back]"]
---
# {title or "[fill in: machine, maker and model]"}

[fill in: what the machine is, in two sentences; go through every kind of energy and move it from `none` to `sources` if there is any]
"""


def _check(title: str | None, test: str) -> str:
    return f"""# {title or "[fill in: title]"}

[fill in: when and by whom this is done]

## Look and try

### [fill in: what is looked at first]
:hands: controls - [fill in: why nobody reaches inside here]

[fill in: what is tried, one instruction a sentence]: {{tests}}`{test}`

- [fill in: what is seen when all is well]: [The machine may be used](#the-machine-may-be-used)
- [fill in: anything else]: [Do not use it](#do-not-use-it) {{not-ok}}

### The machine may be used
:exit: returned to service

Write down the date and your code.

### Do not use it
:exit: left as found

Take the machine out of use. Tell the workshop.
"""


class _Procedure:
    """A procedure around one blank step: make safe, open, prove, work, close, restore, test, hand back."""

    def __init__(self, profile: Document, title: str | None) -> None:
        self.document, self.profile, self.title = profile, profile.profile, title
        self.sources = dict(_in_order(self.profile))
        self.cut = [n for n, s in self.sources.items() if s.isolate or s.lockable]
        self.stores = _releasing(self.profile, [n for n, s in self.sources.items() if s.release == "action"])

    def lines(self) -> Iterable[str]:
        yield f"# {self.title or '[fill in: title]'}"
        yield ""
        yield "[fill in: when this is done and what it mends, in two sentences]"
        yield ""
        yield from self._panel()
        yield from self._make_safe()
        yield from self._work()
        yield from self._give_back()
        yield from self._leave()

    def _panel(self) -> Iterable[str]:
        if not self.sources:
            return
        word = max((s.word for s in self.sources.values()), key=RANKS.index)
        yield f":::{{{word}}} {', '.join(self.sources)}"
        yield "**[fill in: the hazard].** It can [fill in: what happens to whom]. Isolate, release and prove first."
        yield ":::"

    def _make_safe(self) -> Iterable[str]:
        """One stage with the work: a store that fills up again would drop back at a stage's end."""
        yield from ("", "## The work")
        for name in self.cut:
            text = self.sources[name].isolate or f"[fill in: how {name} is cut off and held]"
            yield from _step(f"Isolate {name}", f"{_open_end(text)}: {{isolates}}`{name}`.")
        for name, source in self.sources.items():
            if source.release == "bleed":
                yield from _step(f"Let {name} drain", f"Wait {{wait}}`{source.bleed or '[fill in: time]'}`.")
        outside = [n for n in self.stores if self.sources[n].release_from == "outside"]
        proved_outside = [
            n for n, s in self.sources.items() if s.prove_from == "outside" and n not in self.stores
        ]
        proved_outside += [n for n in outside if self.sources[n].prove_from == "outside"]
        proved_inside = [n for n in self.sources if n not in proved_outside]
        first = f"take-off-the-{slugify(self.profile.guards[0])}" if self.profile.guards else "do-the-work"
        yield from self._release(outside)
        yield from self._prove(
            "from outside", proved_outside, first if not proved_inside or self.profile.guards else ""
        )
        for guard in self.profile.guards:
            yield from _step(f"Take off the {guard}", f"Undo its screws. Take off the {{removes}}`{guard}`.")
        yield from self._release([n for n in self.stores if n not in outside])
        yield from self._prove("inside", proved_inside, "do-the-work")

    def _release(self, names: list[str]) -> Iterable[str]:
        for name in names:
            yield from _step(f"Release {name}", f"[fill in: how {name} is let go]: {{releases}}`{name}`.")

    def _prove(self, where: str, names: list[str], then: str) -> Iterable[str]:
        if not names:
            return
        yield from ("", f"### Prove zero {where}", ":origin: [fill in: where the limits come from]", "")
        for name in names:
            text = self.sources[name].prove or f"[fill in: how {name} is proved]"
            yield f"{_open_end(text)}: {{proves}}`{name}`."
        yield from ("", f"- All at zero: [Carry on](#{then or 'prove-zero-inside'})")
        yield "- Anything else: [Stop and tag](#stop-and-tag) {not-zero}"

    def _work(self) -> Iterable[str]:
        yield from ("", "### Do the work", ":origin: [fill in: where the values come from]", "")
        yield "[fill in: one instruction a sentence, values with their marks, and further steps]"
        for guard in self.profile.guards:
            yield from _step(f"Put back the {guard}", f"Put on the {{refits}}`{guard}`. Tighten its screws.")

    def _give_back(self) -> Iterable[str]:
        yield from ("", "## Return to service", "", "### Clear the machine", "")
        yield "Count the tools and send everybody clear: {all-clear}`people and tools`."
        for name in _restoring(self.profile, self.cut):
            yield from _step(f"Give back {name}", f"[fill in: how the lock comes off]: {{restores}}`{name}`.")
        tests = self.profile.before_service or ("[fill in: function]",)
        for n, test in enumerate(tests):
            last = n == len(tests) - 1
            after = ("Hand it back", "hand-it-back") if last else (f"Test {tests[n + 1]}", f"test-{n + 2}")
            yield from ("", f"### Test {test}", f":id: test-{n + 1}", "")
            yield f"[fill in: how it is tested]: {{tests}}`{test}`."
            yield from ("", f"- [fill in: what is seen when it is right]: [{after[0]}](#{after[1]})")
            yield f"- [fill in: anything else]: [Lock it out again](#{self._again()}) {{not-ok}}"
        yield from ("", "### Hand it back", ":exit: returned to service", "", "Write down what was done.")

    def _again(self) -> str:
        return "lock-it-out-again" if self.cut else "stop-and-tag"

    def _leave(self) -> Iterable[str]:
        if self.cut:
            yield from ("", "### Lock it out again", "")
            for name in self.cut:
                yield f"{_open_end(self.sources[name].isolate or f'[fill in: how {name} is held]')}: {{isolates}}`{name}`."
        yield from ("", "### Stop and tag", ":exit: left locked out, tagged", "")
        yield "Hang your tag. Treat the machine as live. Tell the workshop."


def _step(title: str, text: str) -> tuple[str, ...]:
    return ("", f"### {title}", "", text)


def _open_end(text: str) -> str:
    return text.rstrip().rstrip(".;:")


def _in_order(profile: ProfileFront) -> list[tuple[str, EnergySource]]:
    """What can fall is parked first, while there is still power to do it."""
    return sorted(profile.sources.items(), key=lambda item: item[1].kind != "gravity")


def _restoring(profile: ProfileFront, cut: list[str]) -> list[str]:
    """The sources to give back, feeds first, and as the profile's `needs` has it; what can fall comes last."""
    return _after_what_they_need(profile, [*cut[1:], *cut[:1]], lambda s: (*s.needs.restores, *s.fed_by))


def _releasing(profile: ProfileFront, stores: list[str]) -> list[str]:
    return _after_what_they_need(profile, stores, lambda s: s.needs.releases)


def _after_what_they_need(
    profile: ProfileFront, names: list[str], needs: Callable[[EnergySource], Iterable[str]]
) -> list[str]:
    left, done = list(names), list[str]()
    while left:
        wanted = {n: {profile.source_name(m) for m in needs(profile.sources[n])} for n in left}
        ready = [n for n in left if not (wanted[n] & set(left) - {n})]
        done.append(ready[0] if ready else left[0])
        left.remove(done[-1])
    return done
