"""What each kind of card says, on the demo stretcher and on machines and documents made up by chance."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from kilter.compute.contenthash import content_hash
from kilter.diagnostic import Severity
from kilter.publish.cards.family import KINDS, Kind, Subject, kinds_for, make
from kilter.publish.cards.make import cards_for
from kilter.publish.cards.order import in_order
from kilter.publish.cards.problems import CardProblems, too_tall
from kilter.publish.cards.template import Template, TooTallError
from kilter.publish.machine import MachineView, machine_of
from kilter.publish.view import DocumentView
from kilter.read.document import read_bytes

from .cards_family_frame import card, demo
from .cards_frame import draw_picture, pages_text, procedure, view, words
from .test_cards_layout import document

OF = {(k.made_of, k.name): k for k in KINDS}
CONTACT = "Workshop, telephone 2140"


def flat(made: bytes) -> str:
    return " ".join(" ".join(pages_text(made)).split())


def said(kind: tuple[str, str], number: str) -> str:
    return flat(card(OF[kind], number)[1])


def in_turn(text: str, *parts: str) -> bool:
    """Whether the parts stand in the text one after the other."""
    at = 0
    for part in parts:
        at = text.find(part, at)
        if at < 0:
            return False
        at += len(part)
    return True


def test_work_order_takes_shared_stages_where_they_are_called() -> None:
    """STR-110 makes safe in 2.1, so A.1 to A.6 stand before 2.2."""
    seen = next(s for s in demo() if s.number == "STR-110")
    assert isinstance(seen, DocumentView)
    numbers = [step.number for _, step in in_order(seen)]
    assert numbers[numbers.index("2.1") + 1] == "A.1" and numbers[numbers.index("A.6") + 1] == "2.2"
    assert sorted(numbers) == sorted(s.number for g in seen.stages for s in g.steps)


def test_pocket_card() -> None:
    """Panels whole, make-safe in order with its locks, both phases of a reading, ends with whom to call."""
    text = said(("document", "pocket"), "STR-110")
    assert in_turn(text, "What can hurt you", "WARNING", "Padlock the isolator", "CAUTION", "Recoil.")
    assert in_turn(
        text, "Make safe, in this order", "A.1", "ISOLATE: MAINS", "lock on", "A.2", "ISOLATE: DECK"
    )
    assert in_turn(text, "WAIT 3 min", "PROVE ZERO: BATTERY, LINK CAPACITOR", "RELEASE: RAIL SPRING")
    assert in_turn(text, "Values", "lever height, as found", "2.6", "8.15 ± 0.1 mm", "(0.3209 ± 0.0039 in)")
    assert in_turn(text, "Where to stop", "4.1 Stop and tag", "Treat as live", "extension 4417")
    assert "not the procedure" in text


def test_upper_half_of_the_pocket_card_stands_on_its_head() -> None:
    """Face 2 lies upper right and face 3 upper left, so that both stand upright when the sheet is folded back.

    Turned by 180 degrees, the running head of a face lies next to the fold, its foot at the paper's edge.
    """
    _, made = card(OF["document", "pocket"], "STR-110")
    heads = [w for w in words(made) if w.text == "DRAFT"]
    places = {(w.left > 105, w.top > 148.5): w for w in heads}
    assert len(heads) == 4 == len(places)
    assert all(w.top > 120 for (_, low), w in places.items() if not low)
    assert all(w.top < 190 for (_, low), w in places.items() if low)
    ends = [w for w in words(made) if w.text == "Uncontrolled"]
    assert sorted(round(w.top / 297) for w in ends) == [0, 0, 1, 1]


def test_record_sheet() -> None:
    text = said(("document", "record"), "STR-110")
    for part in ("As found", "As left", "Tool no.", "Calibr. due", "Verdict", "Initials", "Worker's code"):
        assert part in text, part
    assert in_turn(
        text, "1.1", "A.4", "Wait 3 min", "A.5", "≤ 1 V", "2.5", "8.0–8.3 mm", "2.7", "2.0 ± 0.2 N·m"
    )
    assert in_turn(text, "No patient data", "How it ended", "Left locked out and tagged")
    assert in_turn(text, "It pulls up or the latch slips", "step 4.1")


def test_settings_of_a_document_and_of_its_machine() -> None:
    """Both systems, the window, and what is not named is said to be not named."""
    text = said(("document", "settings"), "STR-110")
    assert in_turn(
        text, "2.6", "8.15 ± 0.1 mm", "(0.3209 ± 0.0039 in)", "8.00 to 8.30 mm", "not named", "p. 53"
    )
    assert in_turn(text, "2.7", "M4 8.8", "2.0 ± 0.2 N·m", "(17.7 ± 1.7 lbf·in)", "torque screwdriver")
    whole = said(("equipment", "settings"), "roan-3")
    assert in_turn(whole, "STR-110 rev. B", "STR-130 rev. A", "32 ± 3 N·m", "Windows of switches")
    lift = said(("equipment", "settings"), "egret-2")
    own = (
        "The machine's own stages",
        "B.1",
        "Load the spreader spring",
        "LFT-120 step B.1, LFT-130 step B.1",
        "22 ± 1 mm",
    )
    assert in_turn(lift, *own) and "Window" not in lift and "Window" in text


def test_tag() -> None:
    text = said(("equipment", "tag"), "roan-3")
    for legend in ("DO NOT OPERATE", "Do not start", "Do not open", "Do not close", "Do not energize"):
        assert legend in text, legend
    for part in ("Locked and tagged by", "extension 4417", "Date and time", "Release expected"):
        assert part in text, part
    assert "This tag is no lock. It does not replace the shop's durable tag." in text
    assert in_turn(text, "locked, held", "mains", "deck", "rail spring", "What has no tick counts as live")


def test_placard_sizes_and_sources() -> None:
    """Each source with all its lines; its name is set in 20 pt, so that a line is at least 7 mm high."""
    seen, made = card(OF["equipment", "placard"], "roan-3")
    text = flat(made)
    assert isinstance(seen, MachineView)
    for row in seen.energy:
        assert in_turn(text, row.name.upper(), row.isolate, row.release, row.prove), row.name
    assert "up to 29.4 V, 4700 µF ± 20 %" in text and "amount not stated" in text
    assert "Release only while deck is held" in text and "rail cover" in text
    assert all(w.bottom - w.top > 7 for w in words(made) if w.text in ("MAINS", "DECK", "CAPACITOR"))


def test_handout_sizes() -> None:
    """Values are larger than on the A5 card, and there is a column for notes."""
    text = said(("document", "handout"), "STR-110")
    assert "Notes" in text
    high = {}
    for kind in ("handout", "procedure"):
        seen = words(card(OF["document", kind], "STR-110")[1])
        high[kind] = max(w.bottom - w.top for w in seen if w.text == "2.5")
    assert high["handout"] / high["procedure"] == pytest.approx(14 / 10.5, rel=0.02)


SOURCE = """  {name}:
    kind: {kind}
    word: {word}
    lockable: {lock}
    isolate: {isolate}
    prove: {prove}
"""


def machine(folder: Path, seed: int) -> tuple[MachineView, list[str]]:
    """A machine of 1 to 14 sources whose words are of any length; their names are marker words."""
    chance = random.Random(seed)
    names = [f"Zs{seed}x{n}" for n in range(chance.randint(1, 14))]
    parts = []
    for name in names:
        words = [" ".join(["Put the handle over"] * chance.randint(1, 12)) + "." for _ in range(2)]
        kind = chance.choice(("mains", "gravity", "hydraulic"))
        word = chance.choice(("danger", "warning", "caution"))
        lock = str(name == names[0]).lower()
        parts.append(
            SOURCE.format(name=name, kind=kind, word=word, lock=lock, isolate=words[0], prove=words[1])
        )
    front = f"kind: equipment\nid: zed\ntitle: {'Lift Zed ' * chance.randint(1, 12)}\nguards: [cover]\n"
    text = f"---\n{front}sources:\n{''.join(parts)}---\n# Lift\n"
    reading = read_bytes(f"{folder.as_posix()}/profile.md", text.encode())
    assert reading.document is not None, reading.findings
    digest = content_hash(reading.document, None, {})
    return machine_of(reading.document, digest, CONTACT, "https://repair.example/", ()), names


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("name", ["tag", "placard"])
def test_random_machines(name: str, seed: int, tmp_path: Path) -> None:
    """Every source is there once, in order, and no word is off the paper."""
    kind = OF["equipment", name]
    seen, names = machine(tmp_path, seed)
    made = make(kind, seen)
    placed = words(made)
    found = [w for w in placed if w.text.lower() in {n.lower() for n in names}]
    assert [w.text.lower() for w in found] == [n.lower() for n in names]
    edge = 4.9 if name == "tag" else 8.9
    for w in placed:
        inside = min(w.left, w.top) > edge and w.right < kind.width - edge
        assert inside and w.bottom < kind.height - edge + 1, w


OTHERS = [k for k in KINDS if k.made_of == "document" and not k.main]


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("kind", OTHERS, ids=lambda k: k.name)
def test_random_documents(kind: Kind, seed: int, tmp_path: Path) -> None:
    """No word off the paper, each panel whole on its page or face, each step of a hand-out on one page."""
    draw_picture(tmp_path / "strut.png")
    marked = document(seed, "procedure")
    seen = view(tmp_path, marked.text)
    if kind not in kinds_for(seen):
        return
    placed = words(make(kind, seen))
    edge = 0 if kind.name == "pocket" else 8.9
    for w in placed:
        inside = min(w.left, w.top) > edge and w.right < kind.width - edge
        assert inside and w.bottom < kind.height - edge + 0.1, w
    ends = {n for own in marked.panels.values() for n in own} if kind.name == "pocket" else set()
    ends |= set(marked.steps) if kind.name == "handout" else set()
    for name in ends:
        start, end = ([w for w in placed if w.text.strip(".:") == f"{name}{e}"] for e in "az")
        assert len(start) == len(end) == 1 and start[0].page == end[0].page, name
        if kind.name == "pocket":
            assert (start[0].left > 105) is (end[0].left > 105), name
            assert (start[0].top > 148.5) is (end[0].top > 148.5), name


@pytest.mark.parametrize("text", ["Keep the deck on its props until all is in. ", "\n- Look."])
def test_pocket_card_fits_where_the_a5_card_does(text: str, tmp_path: Path) -> None:
    """The longest panel that the procedure card takes fits a face of the pocket card too."""
    pocket, main = OF["document", "pocket"], OF["document", "procedure"]
    end = "\n### Last\n:exit: left as found\n\nStop.\n"
    for count in range(60, 5, -2):
        body = f"## Do\n\n:::{{warning}} mains\n**Shock.** It kills.\n{text * count}\n:::\n\n### Step\n\nTurn it.\n"
        seen = view(tmp_path, procedure(body + end))
        try:
            make(main, seen)
        except CardProblems:
            continue
        assert count > 10 and make(pocket, seen).startswith(b"%PDF")
        return
    raise AssertionError("no length fits")


def test_a_row_higher_than_a_face_is_refused_never_cut() -> None:
    """What is handed to the template is what a longer panel would be."""
    kind = OF["document", "pocket"]
    data = kind.data(card(kind, "STR-110")[0], kind.width, kind.height)
    panel = {**data["panels"][0]["panel"], "blocks": data["panels"][0]["panel"]["blocks"] * 12}
    longer = {**data, "panels": [{"where": "Before stage 2", "panel": panel}]}
    with pytest.raises(TooTallError) as refused:
        Template(kind.template).pdf(longer)
    (found,) = refused.value.steps
    assert found.key == "What can hurt you" and found.need > found.room > 80


def test_a_card_that_can_not_be_made_is_left_out_with_a_warning(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The document and its other cards stay; the main card's trouble is no warning."""
    seen = view(tmp_path, procedure("## Do\n\n### Last\n:exit: left as found\n\nStop.\n"))
    trouble = too_tall(seen, "Pocket card", "Values", "", 200, 100)
    failing = {"pocket"}

    def press(kind: Kind, subject: Subject) -> bytes:
        if kind.name in failing:
            raise CardProblems([trouble])
        return make(kind, subject)

    monkeypatch.setattr("kilter.publish.cards.make.make", press)
    made = cards_for(seen)
    assert {"hrn-120.pdf", "hrn-120.handout.pdf"} == set(made.cards)
    (found,) = made.left_out
    assert (found.severity, found.rule) == (Severity.WARNING, "step-too-tall")
    assert found.message == "a row of `Values` is 200 mm high on the pocket card, its page has 100 mm"
    failing.add("procedure")
    with pytest.raises(CardProblems):
        cards_for(seen)
