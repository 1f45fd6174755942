"""Faults that can be put into the oracle one at a time, to measure whether the generated cases notice.

Each is an edit of one function: (name, module, function, old text, new text).
"""

from __future__ import annotations

import inspect
import sys
import textwrap
from collections.abc import Iterator
from contextlib import contextmanager

from . import plan, walk, world

Fault = tuple[str, object, str, str, str]

FAULTS: tuple[Fault, ...] = (
    (
        "waited time survives a restore",
        world,
        "to_live",
        "w.lv[n], w.wt[n], w.clk[n] = L, 0, 0",
        "w.lv[n] = L",
    ),
    (
        "cut at D is kept through a restore",
        world,
        "_restore",
        "    to_live(plan, w, n)",
        "    to_live(plan, w, n, False)",
    ),
    ("one cut feed is enough", world, "_fall", "and all(", "and any("),
    ("a store never falls", world, "_fall", "w.lv[n] == L and", "w.lv[n] == Z and"),
    ("waits do not add up", world, "_wait", "w.wt[n] += least", "w.wt[n] = least"),
    ("a range counts its upper end", world, "_wait", "w.wt[n] += least", "w.wt[n] += most"),
    (
        "a wait counts while live",
        world,
        "_wait",
        "w.lv[n] == I and src.landing == I",
        "w.lv[n] <= I and src.landing == I",
    ),
    ("waiting one second less is enough", world, "_wait", "w.wt[n] < src.bleed", "w.wt[n] < src.bleed - 30"),
    ("never back after a time", world, "_wait", "w.clk[n] > src.after", "w.clk[n] > 9 * src.after"),
    ("back at the time, not after it", world, "_wait", "w.clk[n] > src.after", "w.clk[n] >= src.after"),
    ("the time to be back does not add up", world, "_wait", "w.clk[n] += run", "w.clk[n] = run"),
    ("a proof from isolated", world, "_release_and_prove", "w.lv[n] < D or", "w.lv[n] < I or"),
    (
        "a proof makes zero of anything",
        world,
        "_release_and_prove",
        'faults.append(("prove", n))',
        "w.lv[n] = Z",
    ),
    ("a release while live", world, "_release_and_prove", "if w.lv[n] == L or by_time", "if by_time"),
    ("order of releases ignored", world, "_release_and_prove", "w.held[m] for m in", "True for m in"),
    ("order of restores ignored", world, "transfer", "w.lv[m] == L for m in", "True for m in"),
    ("restored without a hold", world, "_restore", "if not w.held[n]", "if False"),
    ("restored with people about", world, "_restore", "if not w.clear", "if False"),
    ("restored with a guard off", world, "_restore", "if w.off", "if False"),
    ("the hold stays on a restore", world, "_restore", "w.held[n] = False", "pass"),
    ("stage panels outlive a restore", world, "_restore", "(w.rank, w.doc, *w.saved)", "(w.doc, *w.saved)"),
    (
        "document panels outlive a restore",
        world,
        "_restore",
        "(w.rank, w.doc, *w.saved)",
        "(w.rank, *w.saved)",
    ),
    (
        "a caller's panels outlive a restore in a shared stage",
        world,
        "_restore",
        "(w.rank, w.doc, *w.saved)",
        "(w.rank, w.doc)",
    ),
    (
        "panels of a shared stage outlive it",
        world,
        "leave_shared",
        "w.rank if reading.block_panels_stay else w.saved[depth]",
        "w.rank",
    ),
    ("loading does nothing", world, "transfer", 'effects.get("loads", ())', "()"),
    ("running needs nothing", world, "transfer", 'for n in effects.get("runs-on", ()) if', "for n in () if"),
    ("isolating puts on no hold", world, "transfer", "w.held[n] = True", "pass"),
    ("an exposure leaves people clear", world, "_rest", "w.clear, w.tested = False, 0", "w.tested = 0"),
    ("an exposure leaves it tested", world, "_rest", "w.clear, w.tested = False, 0", "w.clear = False"),
    ("any test counts for all", world, "_rest", "w.tested |= 1 << t", "w.tested = 3"),
    ("refitting is forgotten", world, "_rest", "w.off &= ~(1 << g)", "pass"),
    ("opening leaves it untouched", world, "_rest", "w.touched or exposed or", "w.touched or"),
    ("others stay proved where a proof fails", world, "failed", "<= (w.lv[n], w.wt[n])", "< (0, 0)"),
    (
        "a failed proof leaves the level",
        world,
        "failed",
        "n for n in plan.order if n in marks",
        "n for n in ()",
    ),
    ("a failed proof ignores cut feeds", world, "failed", "all(w.lv[f] >= I for f in src.feeds)", "False"),
    ("nothing is back at a boundary", world, "boundary", "if src.reacc:", "if False:"),
    ("waited time stays over a boundary", world, "boundary", "w.wt[n] = w.clk[n] = 0", "w.clk[n] = 0"),
    ("cautions outlive their stage", world, "boundary", "w.rank = [0] * len(plan.sources)", "pass"),
    ("a charger is a feed", plan, "_source", "for f in s.fed_by)", "for f in (*s.fed_by, *s.charged_by))"),
    ("zones ignored", plan, "_reach", "if zone else", "if False else"),
    ("clear-of counts where the step acts", plan, "_reach", "} - acted", "}"),
    ("an outside proof is an exposure", plan, "_from_outside", "return all(", "return not all("),
    ("any proof from outside will do", plan, "_from_outside", "return all(", "return any("),
    ("a shared stage is a boundary", walk, "Walk.main_stage", "stack[0] if stack else index", "index"),
    ("a shared stage shows no panels", walk, "Walk.call", "state.read(", "id("),
    ("no look at the outgoing state", walk, "Walk.visit", 'if "loads" in node.effects or', "if False and"),
    ("no look at the outgoing state of restores", walk, "Walk.visit", 'or "restores" in node.effects', ""),
    ("a step's own panels unread", walk, "Walk.visit", "before.read(node.panels)", "pass"),
    ("the first way in decides", walk, "Walk.run", "key = (there, state.key())", "key = (there, ())"),
    ("a lost guard needs no reason", walk, "Walk.exposure", "if w.off and incoming", "if False and incoming"),
    ("everybody is excused", walk, "Walk.exposure", "and not node.excused", "and False"),
    (
        "open over an outside store",
        walk,
        "Walk.low_enough",
        "src.action and src.inside and",
        "src.action and",
    ),
    (
        "open over a live store",
        walk,
        "Walk.low_enough",
        "src.inside and level == I",
        "src.inside and level <= I",
    ),
    (
        "no store may stand while opening",
        walk,
        "Walk.low_enough",
        "(src.action and src.inside and level == I)",
        "False",
    ),
    ("no store may stand while probing", walk, "Walk.low_enough", "or (src.action and level == I)", ""),
    ("hands in at dissipated", walk, "Walk.low_enough", "return level == Z", "return level >= D"),
    ("live for every source", walk, "Walk.wrong", "and n in node.named", ""),
    ("live asks for no DANGER", walk, "Walk.wrong", "if named and rank <", "if False and rank <"),
    (
        "live asks for DANGER always",
        walk,
        "Walk.wrong",
        "WARNING if src.rank <= CAUTION else DANGER",
        "DANGER",
    ),
    ("any caution will do", walk, "Walk.wrong", "if rank < src.rank", "if rank < 1"),
    ("a tag without locks", walk, "Walk.leave", "src.lockable and not w.held[n]", "False"),
    ("every source has to be held at a tag", walk, "Walk.leave", "src.lockable and not", "not"),
    ("service with a hold", walk, "Walk.leave", "if w.held[n]:", "if False:"),
    ("service with a guard off", walk, "Walk.leave", "if w.off:", "if False:"),
    ("service untested", walk, "Walk.leave", "if not w.tested >> n & 1:", "if False:"),
    ("touched but as found", walk, "Walk.leave", '== "found" and w.touched', '== "found" and False'),
    ("unreached steps unseen", walk, "Walk.graph", "if node.index not in reached and", "if False and"),
    ("loops without end unseen", walk, "Walk.graph", "self.edges.keys() - good", "set()"),
    ("links into shared stages unseen", walk, "Walk.jump", 'self.blame(node, "into-shared")', "pass"),
    (
        "the end unseen",
        walk,
        "Walk.follow",
        'self.blame(node, "dead-end")',
        "self.ends.add((stack, node.index))",
    ),
)


@contextmanager
def seeded(fault: Fault) -> Iterator[None]:
    """The oracle with one fault, put right again afterwards."""
    _, module, name, old, new = fault
    owner = walk.Walk if "." in name else module
    short = name.rpartition(".")[2]
    sound = getattr(owner, short)
    text = textwrap.dedent(inspect.getsource(sound))
    assert text.count(old) == 1, f"{name}: {old!r} stands {text.count(old)} times"
    made: dict[str, object] = {}
    exec(text.replace(old, new), sys.modules[sound.__module__].__dict__, made)
    holders = [
        owner,
        *(m for m in (world, walk, plan) if getattr(m, short, None) is sound and m is not owner),
    ]
    for holder in holders:
        setattr(holder, short, made[short])
    try:
        yield
    finally:
        for holder in holders:
            setattr(holder, short, sound)
