"""The names of all rules that the analysis raises, how grave they are, and what they serve."""

from __future__ import annotations

from kilter.diagnostic import Severity

_E, _W, _H = Severity.ERROR, Severity.WARNING, Severity.HINT

RULES: dict[str, Severity] = {
    "open-before-released": _E,
    "probe-before-released": _E,
    "inside-before-proved": _E,
    "live-before-proved": _E,
    "hands-in-restored": _E,
    "missing-caution": _E,
    "live-without-danger": _E,
    "runs-while-isolated": _E,
    "release-before-isolated": _E,
    "prove-before-released": _E,
    "release-order": _E,
    "restore-order": _E,
    "restore-without-hold": _E,
    "restore-people-near": _E,
    "restore-guard-off": _E,
    "guard-off-no-reason": _E,
    "guards-still-on": _E,
    "service-still-held": _E,
    "service-guard-off": _E,
    "service-untested": _E,
    "tagged-not-held": _E,
    "left-held": _E,
    "left-guard-off": _E,
    "left-touched": _E,
    "unreachable-step": _E,
    "dead-end": _E,
    "no-way-out": _E,
    "shared-in-itself": _E,
    "do-with-effects": _E,
    "too-large-to-prove": _E,
    "unneeded-exemption": _E,
    "no-failing-answer": _E,
    "one-answer": _E,
    "short-reason": _E,
    "clear-of-acted-on": _E,
    "restore-not-alone": _E,
    "restore-feed-and-store": _E,
    "hands-too-low": _E,
    "bad-hands": _E,
    "bad-clear-of": _E,
    "bad-exit": _E,
    "how-it-is-held": _W,
    "hands-in-words": _H,
    "loads-unsaid": _H,
    "written-too-early": _E,
    "work-after-clear": _W,
    "zone-hides-acted-on": _W,
}

ABOUT: dict[str, str] = {
    "open-before-released": (
        "A guard comes off while a source behind it may still hold energy. Cut it off, hold it, and release or "
        "drain it first: 29 CFR 1910.147(d)(3) to (d)(5)."
    ),
    "probe-before-released": (
        "A test instrument or release tool goes in while another source may still hold energy: "
        "29 CFR 1910.147(d)(5), stored energy is relieved before the check of (d)(6)."
    ),
    "inside-before-proved": (
        "Hands go inside while a source is not proved to be at zero. Work begins only after isolation and "
        "release were verified: 29 CFR 1910.147(d)(6)."
    ),
    "live-before-proved": (
        "In energised work only the sources that the step names may stay live; every other one is proved at "
        "zero first: 29 CFR 1910.147(d)(6)."
    ),
    "hands-in-restored": (
        "The step itself puts energy back or loads a store while hands are where it can reach them. People are "
        "clear before energy comes back: 29 CFR 1910.147(e)(2)."
    ),
    "missing-caution": (
        "A source can be reached and no panel in force warns of it with its signal word. The words and their "
        "grades are those of ANSI Z535.6 (from memory)."
    ),
    "live-without-danger": (
        "Work on a live source needs a panel of the gravest word that fits, so that nobody slides into it: "
        "ANSI Z535.6 (from memory); NFPA 70E asks a reason for energised work (from memory)."
    ),
    "runs-while-isolated": (
        "The step needs a source on that is cut off. Putting it back for a test has an order of its own: "
        "29 CFR 1910.147(f)(1)."
    ),
    "release-before-isolated": (
        "Stored energy is let out while its feed can fill it again. The order is isolate, hold, release, prove: "
        "29 CFR 1910.147(d)(3) to (d)(6)."
    ),
    "prove-before-released": (
        "A proof of zero is made before the source was cut off and its energy let out, so it proves a moment only: "
        "29 CFR 1910.147(d)(5) and (d)(6)."
    ),
    "release-order": (
        "The machine's profile says what must be held before this source is released, else something moves: "
        "29 CFR 1910.147(d)(5)."
    ),
    "restore-order": (
        "The machine's profile says what must be live again before this source is put back: 29 CFR 1910.147(e)."
    ),
    "restore-without-hold": (
        "Energy is put back where no lock, pin or prop of ours was on. Only who applied a hold takes it off: "
        "29 CFR 1910.147(e)(3)."
    ),
    "restore-people-near": (
        "Energy is put back before people and tools were cleared since hands were last inside: "
        "29 CFR 1910.147(e)(1) and (e)(2)."
    ),
    "restore-guard-off": (
        "Energy is put back while a guard is off. The machine is whole before energy returns: 29 CFR 1910.147(e)(1)."
    ),
    "guard-off-no-reason": (
        "A guard is off and the step says that hands stay out, but not why nobody reaches in. Moving parts in "
        "reach are guarded: ISO 12100 (from memory)."
    ),
    "guards-still-on": (
        "Hands or instruments go inside while every guard is on: a step that takes one off is missing, or its "
        "mark is. Serves the proof of 29 CFR 1910.147(d), which stands on true marks."
    ),
    "service-still-held": (
        "The machine goes back to service with a lock, pin or prop of ours on it: 29 CFR 1910.147(e)(3)."
    ),
    "service-guard-off": "The machine goes back to service without a guard: 29 CFR 1910.147(e)(1).",
    "service-untested": (
        "The machine goes back to service untested since somebody last worked on it. IEC 62353 asks for tests "
        "after repair (from memory)."
    ),
    "tagged-not-held": (
        "The machine is left tagged, but a source that can be locked is not: a tag alone holds nothing, "
        "29 CFR 1910.147(d)(4)."
    ),
    "left-held": "A machine that is left as found still has a lock, pin or prop of ours: 29 CFR 1910.147(e)(3).",
    "left-guard-off": "A machine that is left as found lacks a guard: 29 CFR 1910.147(e)(1).",
    "left-touched": (
        "The exit says as found, but on some way something was cut off, put back or opened. Who touches it "
        "returns it tested or leaves it tagged: IEC 62353 (from memory)."
    ),
    "unreachable-step": "No way leads to the step, so nobody does it and nothing about it is proved.",
    "dead-end": "The text stops here and the machine stands in a state that nobody is told of.",
    "no-way-out": "Whatever is seen, the steps go round for ever; no exit can be reached.",
    "shared-in-itself": "A shared stage asks for itself, so it never ends.",
    "do-with-effects": (
        "A step that asks for a shared stage does something of its own too; what comes first can't be told."
    ),
    "too-large-to-prove": (
        "There are more ways through the document than can be followed. What was not proved is not accepted."
    ),
    "unneeded-exemption": (
        "A source is explained away that needs no explaining on any way in. Idle exemptions hide the one that "
        "matters; the proof of 29 CFR 1910.147(d)(6) stands without it."
    ),
    "no-failing-answer": (
        "A proof, a test or a reading as left has no answer for the case that it fails, so it can't fail: "
        "29 CFR 1910.147(d)(6) for proofs."
    ),
    "one-answer": "A decision with one answer decides nothing; what else can be seen is missing.",
    "short-reason": "A reason of under four words says nothing that a reviewer could judge.",
    "clear-of-acted-on": (
        "The step says that a source can't be reached and acts on that same source: 29 CFR 1910.147(d)."
    ),
    "restore-not-alone": (
        "Putting energy back stands alone: clearing people comes before it, testing and deciding after it: "
        "29 CFR 1910.147(e)."
    ),
    "restore-feed-and-store": (
        "A feed and what it feeds are put back at once, so the order can't be told: 29 CFR 1910.147(e)."
    ),
    "hands-too-low": (
        "The step says that hands stay further away than its own effects allow. Marks must be true for the "
        "proof of 29 CFR 1910.147(d) to hold."
    ),
    "bad-hands": "The field about hands can't be read, so the step's own effects decide.",
    "bad-clear-of": "The field that explains a source away can't be read, so nothing is explained away.",
    "bad-exit": "The exit is none of the three that there are.",
    "how-it-is-held": (
        "The sentence cuts a source off and does not say what keeps it so: a lock, pin, stand or case. "
        "29 CFR 1910.147(d)(4)."
    ),
    "hands-in-words": (
        "The step says that hands stay out, and its words talk of work inside. Look which of them is true."
    ),
    "loads-unsaid": (
        "The words are those that the profile gives for charging a store, but the step does not mark it. "
        "29 CFR 1910.147(d)(5) speaks of energy that builds up again."
    ),
    "written-too-early": (
        "A wait, a release or a proof is written before the isolation that it counts after, in the same step: "
        "the order of 29 CFR 1910.147(d)(3) to (d)(6)."
    ),
    "work-after-clear": (
        "The marks of a step count as done at its end: 29 CFR 1910.147(e)(1) and (e)(2) for clearing before energy "
        "returns."
    ),
    "zone-hides-acted-on": (
        "Marks must be true for the proof of 29 CFR 1910.147(d) to hold: a source outside the zone is not asked to "
        "be proved, and no panel has to warn of it."
    ),
}
"""Why each rule is there. Paragraphs of 29 CFR 1910.147(d) and (e) were read; what was not says so."""
