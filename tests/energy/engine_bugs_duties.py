"""Bugs in what a step asks for: hands, guards, tests, the ways on, the honesty rules."""

from __future__ import annotations

import importlib

from kilter.check.flow import exemptions, facts, globals, obligations, shape, statics
from kilter.check.flow.builder import Builder
from kilter.check.flow.globals import GuardMonitor, WorkMonitor
from kilter.check.flow.sources import SourceMonitor

from .engine_patch import Bug

explore, candidates = (
    importlib.import_module(f"kilter.check.flow.{name}") for name in ("explore", "candidates")
)
"""Functions of the same names hide these modules in their package."""

HANDS: dict[str, Bug] = {
    "hands inside at dissipated": (
        (obligations, "by_hands", "Asked(Z, READ)", "Asked(D if facts.hands == INSIDE else Z, READ)"),
    ),
    "live hands need nothing": (
        (obligations, "by_hands", "Asked(Z, READ)", "Asked(Z if facts.hands == INSIDE else L, READ)"),
    ),
    "a probe asks for isolated": ((obligations, "by_hands", "I if energy.action else D", "I"),),
    "a probe asks for dissipated always": ((obligations, "by_hands", "I if energy.action else D", "D"),),
    "a probe excuses nothing it acts on": (
        (obligations, "by_hands", "if facts.handled & energy.bit:", "if False:"),
    ),
    "a probe excuses what it runs": (
        (obligations, "by_hands", "facts.handled & energy.bit", "facts.acts & energy.bit"),
    ),
    "opening asks for isolated": ((obligations, "by_hands", "I if energy.stands_open else D", "I"),),
    "opening over a store let go from outside": (
        (obligations, "by_hands", "I if energy.stands_open else D", "I if energy.action else D"),
    ),
    "opening never over a charged store": ((obligations, "by_hands", "I if energy.stands_open else D", "D"),),
    "opening excuses nothing it locks": (
        (obligations, "by_hands", "if facts.isolates & energy.bit:", "if False:"),
    ),
    "zones ignored": ((obligations, "by_hands", "or not facts.zone & energy.bit", ""),),
    "a stage's zone ignored": ((facts, "facts_of", "else place.zone", "else machine.all"),),
    "clear-of ignored": ((obligations, "asked", "if facts.clear & energy.bit:", "if False:"),),
    "clear-of counts though the step acts": ((facts, "facts_of", "facts.clear &= ~facts.acts", "pass"),),
    "a stage's clear-of ignored": (
        (facts, "facts_of", 'own if "clear-of" in fields else place.clear', "own"),
    ),
    "live for every source": ((facts, "_hands", "machine.mask(parsed.names) if", "machine.all if"),),
    "no look at the outgoing state": ((SourceMonitor, "apply", "if restores or loads:", "if False:"),),
    "no look at the outgoing state of restores": (
        (SourceMonitor, "apply", "if restores or loads:", "if loads:"),
    ),
    "any proof from outside will do": (
        (
            facts,
            "only_outside",
            "not facts.proves & ~machine.outside_prove",
            "(not facts.proves or bool(facts.proves & machine.outside_prove))",
        ),
    ),
    "a proof from outside is an exposure": (
        (facts, "only_outside", "and not facts.proves & ~machine.outside_prove", "and not facts.proves"),
    ),
    "a step that says nothing keeps hands out": (
        (facts, "_hands", "CONTROLS if leaves else INSIDE", "CONTROLS"),
    ),
}

GUARDS_AND_WORK: dict[str, Bug] = {
    "guards never come off": ((GuardMonitor, "apply", "(state | removes) & ~refits", "state & ~refits"),),
    "refitting is forgotten": ((GuardMonitor, "apply", "(state | removes) & ~refits", "state | removes"),),
    "a guard off needs no reason": ((globals, "asks_reason", "facts.hands <= CONTROLS", "False"),),
    "nobody is excused": ((globals, "asks_reason", "and not facts.excused", ""),),
    "hands inside with every guard on": ((globals, "asks_guard", "facts.hands in (INSIDE, PROBE)", "False"),),
    "restored with a guard off": ((GuardMonitor, "apply", "if restores and state:", "if False:"),),
    "returned with a guard off": ((GuardMonitor, "apply", "if leaves and state:", "if False:"),),
    "restored with people about": ((WorkMonitor, "apply", "if restores and not", "if False and not"),),
    "an exposure leaves people clear": (
        (WorkMonitor, "apply", "state &= UNTOUCHED", "state &= UNTOUCHED | CLEAR"),
    ),
    "an exposure leaves it tested": ((WorkMonitor, "apply", "state &= UNTOUCHED", "state &= ~CLEAR"),),
    "a test is forgotten": ((WorkMonitor, "apply", "tests << TESTS |", ""),),
    "any test counts for all": (
        (WorkMonitor, "apply", "self.wanted & ~(state >> TESTS)", "0 if state >> TESTS else self.wanted"),
    ),
    "returned untested": ((WorkMonitor, "apply", "leaves == M.SERVICE_UNTESTED and", "False and"),),
    "a failed test counts": ((Builder, "_failing", "untested=facts.tests", "untested=0"),),
    "touched but left as found": ((WorkMonitor, "apply", "leaves == M.FOUND_TOUCHED and", "False and"),),
    "opening leaves it untouched": ((WorkMonitor, "_op", "touches = exposes or", "touches ="),),
}

WAYS: dict[str, Bug] = {
    "ways back are merged": (
        (
            Builder,
            "_node",
            "self._nodes.get((facts, calls))",
            "next((n for (f, _), n in self._nodes.items() if f == facts), None)",
        ),
    ),
    "a shared stage returns to the outermost caller": (
        (Builder, "_back", "self._node(calls[-1][0], calls[:-1])", "self._node(calls[0][0], ())"),
    ),
    "a shared stage is a boundary": (
        (Builder, "_call", "Crossing(Kind.CALL, place)", "Crossing(Kind.STAGE, place)"),
    ),
    "leaving a shared stage into its caller's is a boundary": (
        (Builder, "_go", "if calls and", "if False and"),
    ),
    "leaving a shared stage for good is no boundary": (
        (Builder, "_go", "if calls and self.graph.facts[calls[0][2]].place.stage is stage:", "if calls:"),
    ),
    "a heading is no boundary": (
        (Builder, "_go", "Kind.STAGE, self.place(document, stage)", "Kind.SAME, -1"),
    ),
    "the first way in decides": ((explore, "explore", "if new not in there:", "if not there:"),),
    "the last answer is not followed": (
        (
            Builder,
            "_ways_on",
            "for answer in step.answers:",
            "for answer in step.answers[:-1] or step.answers:",
        ),
    ),
    "unreached steps unseen": ((shape, "_unreached", "if step.slug not in reached", "if False"),),
    "loops without end unseen": ((shape, "_loops", "if not trapped or", "if True or"),),
    "the end unseen": ((shape, "_dead_end_findings", "if facts.key in said or", "if True or"),),
    "a shared stage inside itself unseen": ((shape, "_recursions", "graph.recursive", "()"),),
}

REPORTS: dict[str, Bug] = {
    "stores are never blamed": ((candidates, "_without_stores", "or not blamed & set(bits(c.roots))", ""),),
    "only what the mended walk met first": (
        (candidates, "candidates", "len(found) < MOST", "len(found) < 0"),
    ),
}

HONESTY: dict[str, Bug] = {
    "idle exemptions unseen": ((exemptions, "exempt_findings", "exemption.mask & ~used[key]", "0"),),
    "hands lower than the effects": ((statics, "_too_low", "if said < least:", "if False:"),),
    "clear of what the step acts on": ((statics, "_acted_on", "if own else 0", "if False else 0"),),
    "restored beside other things": ((statics, "_restore", "if beside:", "if False:"),),
    "a feed and its store restored at once": ((statics, "_restore", "if feeds:", "if False:"),),
    "a proof that can't fail": ((statics, "_failing", "if missing:", "if False:"),),
    "a test that can't fail": ((statics, "_failing", "if test is not None and", "if False and"),),
    "one answer": ((statics, "_step", "len(facts.step.answers) == 1", "False"),),
}

DUTY_BUGS: dict[str, Bug] = {**HANDS, **GUARDS_AND_WORK, **WAYS, **REPORTS, **HONESTY}
