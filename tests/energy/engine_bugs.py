"""Bugs that are put into the engine one at a time: every one must be seen by the comparison with the oracle.

Those in the state of a source stand here: levels and times, holds, cautions.
"""

from __future__ import annotations

from kilter.check.flow import obligations
from kilter.check.flow.builder import Builder
from kilter.check.flow.globals import WorkMonitor
from kilter.check.flow.layout import Layout
from kilter.check.flow.machine import Machine
from kilter.check.flow.slice import Moment
from kilter.check.flow.sources import SourceMonitor

from .engine_bugs_duties import DUTY_BUGS
from .engine_patch import Bug

_LIVE = "self.level, self.waited, self.frames = L, 0, 0"
_FALL = "if self.level == L and self.energy.feeds and not self._fed(self.energy):"

LEVELS: dict[str, Bug] = {
    "waited time survives a restore": (
        (Moment, "restore", _LIVE, "self.level, self.frames = L, 0"),
        (
            Moment,
            "fall",
            "self.level, self.waited = self.energy.landing, 0",
            "self.level = self.energy.landing",
        ),
    ),
    "waited time survives a restore of the source itself": (
        (Moment, "restore", _LIVE, "self.level, self.frames = L, 0"),
    ),
    "waited time survives a failed proof": (
        (
            Moment,
            "fail",
            "self.level, self.waited = self._fails_to(self.energy), 0",
            "self.level = self._fails_to(self.energy)",
        ),
        (Moment, "_spread", "self.level, self.waited = L, 0", "self.level = L"),
        (Moment, "prove", "self.level = Z", "self.level, self.waited = Z, self.energy.bleed or 0"),
    ),
    "waited time survives a stage": (
        (
            Moment,
            "enter_stage",
            "self.level, self.waited = min(self.level, self.energy.landing), 0",
            "self.level = min(self.level, self.energy.landing)",
        ),
    ),
    "a wait counts while live": ((Moment, "wait", "if self.level == I:", "if self.level <= I:"),),
    "waits do not add up": ((Moment, "wait", "self.waited += least", "self.waited = least"),),
    "a range counts its upper end": (
        (Moment, "wait", "energy = self.energy", "energy, least = self.energy, most"),
    ),
    "the very time waited is not enough": (
        (Moment, "wait", "self.waited < energy.bleed", "self.waited <= energy.bleed"),
    ),
    "waiting half the time is enough": (
        (Moment, "wait", "self.waited < energy.bleed", "self.waited < energy.bleed / 2"),
    ),
    "back after a time ignored": ((Moment, "wait", "energy.counts is not None and", "False and"),),
    "back at the time, not after it": (
        (Moment, "wait", "self.waited > energy.counts", "self.waited >= energy.counts"),
    ),
    "back after the lower end of a range": (
        (Moment, "wait", "energy = self.energy", "energy, most = self.energy, least"),
    ),
    "back at a stage ignored": ((Moment, "enter_stage", "if self.energy.reaccumulates:", "if False:"),),
    "a fed store does not fall": ((Moment, "fall", _FALL, "if False:"),),
    "a fed store falls when one of two feeds is cut": (
        (
            Moment,
            "_fed",
            "return any(self.live >> n & 1 and energy.feeds & f.bit for",
            "return all(self.live >> n & 1 or not energy.feeds & f.bit for",
        ),
    ),
    "a feed that is fed itself does not fall": (
        (Moment, "fall", "if self.live >> n & 1 and feed.feeds and not", "if False and not"),
    ),
    "a charger is taken for a feed": (
        (Machine, "__init__", "self.mask(s.fed_by)", "self.mask((*s.fed_by, *s.charged_by))"),
    ),
    "what feeds the feeds is left out": (
        (Layout, "__init__", "energy.bit | energy.above", "energy.bit | energy.feeds"),
    ),
    "slices are not closed over the feeds": (
        (Layout, "__init__", "energy.bit | energy.above", "energy.bit"),
    ),
    "a release while live lets go": (
        (Moment, "release", "if self.level < I:", "self.level = max(self.level, I)\n    if False:"),
    ),
    "a release while live is no fault": ((Moment, "release", "if self.level < I:", "if False:"),),
    "a proof from isolated is no fault": ((Moment, "prove", "if self.level < D:", "if self.level < I:"),),
    "a proof from isolated proves": (
        (
            Moment,
            "prove",
            "if self.level < D:",
            "self.level = D if self.level == I else self.level\n    if self.level < D:",
        ),
    ),
    "a release proves": ((Moment, "release", "self.level = D", "self.level = Z"),),
    "locking again undoes the proof": (
        (Moment, "isolate", "max(self.level, self.energy.landing)", "self.energy.landing"),
    ),
    "locking lets go too": (
        (Moment, "isolate", "max(self.level, self.energy.landing)", "max(self.level, D)"),
    ),
    "a failed proof stays proved": ((Moment, "fail", "if failed & self.energy.bit:", "if False:"),),
    "a failed proof is live though its feeds are cut": (
        (Moment, "_fails_to", "(energy.feeds and not self._fed(energy))", "False"),
    ),
    "a failed proof that names one touches all": ((Builder, "_failing", "if failure.sources:", "if False:"),),
    "others stay locked or let go where a proof fails": (
        (
            Builder,
            "_failing",
            "(facts.handled | facts.restores | facts.loads) & ~failed",
            "facts.proves & ~failed",
        ),
    ),
    "others stay proved where a proof fails": (
        (Builder, "_failing", "(facts.handled | facts.restores | facts.loads) & ~failed", "0"),
    ),
    "a restore leaves what it feeds": (
        (Moment, "restore", _LIVE, f"if sources & self.energy.bit:\n        {_LIVE}"),
    ),
    "loading does nothing": ((SourceMonitor, "_key", "facts.loads & mine", "0"),),
    "loading a feed leaves what it feeds": (
        (SourceMonitor, "_key", "facts.loads & mine", "facts.loads & bit"),
    ),
    "running needs nothing": ((Moment, "run", "if self.level != L:", "if False:"),),
    "everything that is fed enters cut off": (
        (SourceMonitor, "_start", "moment.level = self.energy.entry", "moment.level = self.energy.landing"),
    ),
}

HOLDS: dict[str, Bug] = {
    "a restore does not take the hold off": ((Moment, "restore", "self.hold = 0", "pass"),),
    "a restore without our hold": ((Moment, "restore", "if twice or not self.hold:", "if twice:"),),
    "one source restored twice": ((Moment, "restore", "if twice or not", "if not"),),
    "locking puts on no hold": ((Moment, "isolate", "self.energy.landing), 1", "self.energy.landing), 0"),),
    "the order of releases ignored": ((Moment, "held_for", "if not self.hold:", "if False:"),),
    "the order of restores ignored": ((Moment, "live_for", "if self.level != L:", "if False:"),),
    "a tag without locks": ((Moment, "leave", "if self.energy.lockable and not self.hold:", "if False:"),),
    "a tag asks for the first source only": (
        (
            Moment,
            "leave",
            "if self.energy.lockable and not",
            "if self.energy.lockable and self.energy.at == 0 and not",
        ),
    ),
    "a tag asks for every source": ((Moment, "leave", "if self.energy.lockable and not", "if not"),),
    "returned to service with a hold": (
        (Moment, "leave", "elif self.hold:", "elif self.hold and way != SERVICE:"),
    ),
    "left as found with a hold": (
        (Moment, "leave", "elif self.hold:", "elif self.hold and way != FOUND:"),
        (WorkMonitor, "apply", "not state & UNTOUCHED", "False"),
    ),
}

CAUTIONS: dict[str, Bug] = {
    "a caution survives a restore": ((Moment, "restore", _LIVE, "self.level, self.waited = L, 0"),),
    "the document's caution survives a restore": (
        (Moment, "restore", _LIVE, "self.level, self.waited, self.frames = L, 0, self.frames & 3"),
    ),
    "a caution survives its stage": (
        (Moment, "enter_stage", "self.frames = self.frames & 3 | panels << 2", "self.frames |= panels << 2"),
    ),
    "the document's caution dies at a stage": (
        (Moment, "enter_stage", "self.frames = self.frames & 3 | panels << 2", "self.frames = panels << 2"),
    ),
    "a caution of a shared stage outlives it": (
        (
            Moment,
            "back",
            "self.frames >> 2 + 2 * calls",
            "(self.frames >> 2 + 2 * calls | self.frames >> 2 & 3)",
        ),
    ),
    "the caller's caution is forgotten": ((Moment, "call", "(self.frames >> 2 << 2 | panels)", "panels"),),
    "a shared stage shows no caution": ((Moment, "call", "<< 2 | panels)", "<< 2)"),),
    "a step's own panel unread": ((Moment, "read", "self.frames |= panels << 2", "pass"),),
    "the signal word ignored": ((SourceMonitor, "_rank", "best >= self.energy.need ", "best >= 1 "),),
    "live work asks for no DANGER": ((obligations, "asked", "Asked(L, DANGER)", "Asked(L, READ)"),),
    "live work asks for DANGER always": (
        (SourceMonitor, "_rank", "best >= self.energy.live_need", "best >= 4"),
    ),
}

BUGS: dict[str, Bug] = {**LEVELS, **HOLDS, **CAUTIONS, **DUTY_BUGS}
