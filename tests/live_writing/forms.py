"""Answers for tests: one machine by hand, and random ones that leave nothing open."""

from hypothesis import strategies as st

from kilter.live.writing.answers import KINDS, Answers

MAINS = {
    "name": "mains", "word": "danger", "cut": "itself", "isolate": "Plug out: of the wall, in a locked case.",
    "lockable": "yes", "release": "none", "again": "no", "prove": "Two-pole tester at the terminals, below 10 V.",
}  # fmt: skip
PLATE = {
    "name": "plate heat", "word": "warning", "cut": "feed", "fed_by": ["mains"], "release": "bleed", "bleed": "40 min", "again": "no",
    "prove": "Contact thermometer, 40 °C or less.",
}  # fmt: skip


def small() -> dict:
    """A cabinet with a plug and a hot plate, as the form sends it."""
    energy = {kind: {"any": "no", "sources": []} for kind in KINDS}
    energy["mains"] = {"any": "yes", "sources": [MAINS]}
    energy["heat"] = {"any": "yes", "sources": [PLATE]}
    return {
        "id": "hob-2", "title": "Hob: model #2", "writers": ["RB"], "date": "2026-11-03", "about": "A hob. It heats.",
        "energy": energy, "covers": "yes", "guards": ["rear cover"], "tests": ["heating"],
        "zones": [{"name": "rear", "reach": ["mains", "plate heat"]}],
        "switches": [{"name": "lid switch", "op": "7.5 ± 0.2 mm", "ot": "1.6 mm", "origin": "data sheet"}],
        "tools": [{"name": "tester", "range": "0-60 V", "new": "each time"}, {"name": "range", "quantity": "2"}],
    }  # fmt: skip


SIGNS = st.characters(codec="utf-8", exclude_characters=",`[")
TEXT = st.text(SIGNS, min_size=1, max_size=30).filter(lambda t: Answers(title=t).title != "")
"""Any signs at all, but for what a name can't hold (comma, backtick) and what opens a marked blank."""


@st.composite
def complete(draw) -> Answers:
    """Random answers with nothing left open; names differ, feeds point only to earlier sources."""
    names: list[str] = []
    energy = {}
    for kind in KINDS:
        count = draw(st.integers(0, 2 if kind in ("mains", "gravity") else 1)) if draw(st.booleans()) else 0
        sources = [_source(draw, kind, names) for _ in range(count)]
        energy[kind] = {"any": "yes" if sources else "no", "sources": sources}
    zones = [{"name": f"zone {n}", "reach": draw(st.lists(st.sampled_from(names), min_size=1, unique=True))}
             for n in range(draw(st.integers(0, 2)) if names else 0)]  # fmt: skip
    guards = draw(st.lists(TEXT, max_size=2, unique_by=_folded))
    return Answers(
        id=draw(st.from_regex(r"[a-z0-9]{1,8}(-[a-z0-9]{1,5}){0,2}", fullmatch=True)),
        title=draw(TEXT.filter(lambda t: not set(t) & set('{}'))), writers=draw(st.lists(TEXT, max_size=2)), about=draw(TEXT),
        date=draw(st.dates().map(str) | st.just("")), energy=energy, zones=zones, order=tuple(names),
        covers="yes" if guards else "no", guards=guards, tests=draw(st.lists(TEXT, max_size=2, unique_by=_folded)),
        switches=draw(st.just([]) | TEXT.map(lambda n: [{"name": n, "op": "7.5 ± 0.2 mm", "use": "70–100 %"}])),
        tools=draw(st.lists(st.builds(lambda n, r: {"name": n, "range": r}, TEXT, TEXT | st.just("")), max_size=2)),
    )  # fmt: skip


def _folded(text):
    from kilter.model.base import fold

    return fold(Answers(title=text).title)


def _source(draw, kind, names):
    name = f"{draw(TEXT)} {len(names)}"
    ways = ["itself"] + (["feed"] if names else []) + ([] if kind in ("mains", "battery") else ["never"])
    cut, release = draw(st.sampled_from(ways)), draw(st.sampled_from(["none", "action", "bleed"]))
    some = st.lists(st.sampled_from(names), max_size=2, unique=True) if names else st.just([])
    again = draw(st.sampled_from(["no", "yes", "after"]))
    names.append(Answers(title=name).title)
    return {
        "name": names[-1], "why": draw(TEXT) if kind == "other" else "", "cut": cut, "release": release, "again": again,
        "word": draw(st.sampled_from(["danger", "warning", "caution"])),
        "isolate": draw(TEXT) if cut == "itself" else "", "lockable": draw(st.sampled_from(["yes", "no"])) if cut == "itself" else "no",
        "fed_by": draw(st.lists(st.sampled_from(names[:-1]), min_size=1, max_size=2, unique=True)) if cut == "feed" else [],
        "charged_by": draw(some), "needs_releases": draw(some), "needs_restores": draw(some),
        "bleed": draw(st.sampled_from(["5 min", "1.5 h", "≥ 30 s"])) if release == "bleed" else "",
        "release_from": draw(st.sampled_from(["outside", "inside"])), "prove": draw(TEXT),
        "prove_from": draw(st.sampled_from(["outside", "inside"])),
        "again_after": "10 min" if again == "after" else "",
        "loaded_by": draw(st.lists(TEXT, max_size=2)) if release == "action" else [], "origin": draw(TEXT | st.just("")),
    }  # fmt: skip
