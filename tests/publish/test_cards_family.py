"""What holds for every kind of card, of each the first that the demo library has."""

from __future__ import annotations

import io
from collections import Counter
from pathlib import Path

import pikepdf
import pytest
import zxingcpp

from kilter.publish.cards.family import KINDS, Kind, code_of, file_name, make
from kilter.publish.cards.template import FOLDER, Template
from kilter.publish.machine import MachineView
from kilter.publish.view import DRAFT, STANDING

from .cards_family_frame import (
    IDS,
    card,
    every,
    grey_pages,
    ink_share,
    photocopied,
)
from .cards_frame import fonts, pages_text, structure, words

SIGNAL = ("DANGER", "WARNING", "CAUTION", "NOTICE")
of_each = pytest.mark.parametrize("kind", KINDS, ids=IDS)


def test_registry_is_in_order() -> None:
    """Name and subject name one kind; every template is there, and no card has another's file."""
    assert max(Counter((k.made_of, k.name) for k in KINDS).values()) == 1
    assert all((FOLDER / k.template).is_file() for k in KINDS)
    names = [file_name(kind, subject) for kind, subject in every()]
    assert len(names) == len(set(names)) > 30


@of_each
def test_is_tagged(kind: Kind) -> None:
    """Language, marks, identifier, title and bookmarks; one main heading; no figure without words."""
    _, made = card(kind)
    pdf = pikepdf.open(io.BytesIO(made))
    assert pdf.Root.Lang == "en-GB"
    assert pdf.Root.MarkInfo.Marked
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    assert b"pdfuaid" in bytes(pdf.Root.Metadata.read_bytes())
    assert "/Outlines" in pdf.Root
    elements = structure(pdf)
    kinds = [str(n.S) for n in elements]
    assert kinds.count("/H1") == 1 and "/H2" in kinds
    alts = [str(n.get("/Alt", "")) for n in elements if n.S == "/Figure"]
    assert alts and all(alts)


@of_each
def test_only_our_font(kind: Kind) -> None:
    names = fonts(pikepdf.open(io.BytesIO(card(kind)[1])))
    assert names and all("AtkinsonHyperlegible" in name for name in names), names


@of_each
def test_paper(kind: Kind) -> None:
    """The paper is what the registry says, on every page."""
    for page in pikepdf.open(io.BytesIO(card(kind)[1])).pages:
        size = [round(float(v) * 25.4 / 72) for v in page.mediabox[2:]]
        assert size == [kind.width, kind.height]


@of_each
def test_each_page_says_what_it_is(kind: Kind) -> None:
    """A loose page shows number, state, hash, and that paper is not controlled; the first one the standing words."""
    subject, made = card(kind)
    pages = [" ".join(p.split()) for p in pages_text(made)]
    for n, text in enumerate(pages, 1):
        for part in (subject.number, DRAFT, code_of(kind, subject).hash, "Uncontrolled when printed"):
            assert part in text, (n, part)
    assert STANDING in pages[0]


@of_each
def test_code_reads_from_grey_paper(kind: Kind, tmp_path: Path) -> None:
    """At 150 dots an inch in grey: address, revision and hash, on every page that has a code."""
    subject, made = card(kind)
    code = code_of(kind, subject)
    pages = grey_pages(made, tmp_path)
    found = [[c.text for c in zxingcpp.read_barcodes(p, zxingcpp.BarcodeFormat.QRCode)] for p in pages]
    wanted = f"{code.address}?rev={code.revision}&hash={code.hash}"
    assert [wanted] in found and all(each in ([wanted], []) for each in found)
    if kind.name not in ("tag", "pocket"):
        assert found == [[wanted]] * len(pages)
    assert code.address.startswith("https://") and code.number.lower() in code.address


@of_each
def test_signal_words_survive_the_photocopier(kind: Kind, tmp_path: Path) -> None:
    """Each point black or white: inside the word's box there is both, so the word can be read."""
    subject, made = card(kind, "WCB-230" if kind.made_of == "document" and kind.name != "check" else "")
    pages = [photocopied(p) for p in grey_pages(made, tmp_path)]
    found = [w for w in words(made) if w.text in SIGNAL]
    assert found or kind.name in ("check", "record", "settings"), subject.number
    for w in found:
        share = ink_share(pages[w.page - 1], (w.left, w.top, w.right, w.bottom))
        assert 0.1 < share < 0.9, (w, share)


def test_the_photocopier_test_sees_a_lost_word(tmp_path: Path) -> None:
    """Black words on a dark field, as a colour print has it, are found out."""
    kind = next(k for k in KINDS if k.name == "placard")
    subject, _ = card(kind)
    folder = tmp_path / "cards"
    folder.mkdir()
    for file in FOLDER.glob("*.typ"):
        (folder / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    parts = folder / "parts.typ"
    old = "fill: if danger { ink } else { white },"
    text = parts.read_text(encoding="utf-8")
    assert old in text
    parts.write_text(text.replace(old, 'fill: rgb("#9b2423"),'), encoding="utf-8")
    made = Template(kind.template, folder).pdf(kind.data(subject, kind.width, kind.height))
    pages = [photocopied(p) for p in grey_pages(made, tmp_path)]
    shares = [
        ink_share(pages[w.page - 1], (w.left, w.top, w.right, w.bottom))
        for w in words(made)
        if w.text in ("WARNING", "CAUTION")
    ]
    assert shares and max(shares) > 0.9


@of_each
def test_same_bytes_each_time(kind: Kind) -> None:
    """A kept template and a new one give the same file."""
    subject, made = card(kind)
    assert make(kind, subject) == made
    assert Template(kind.template).pdf(kind.data(subject, kind.width, kind.height)) == made


def test_every_card_of_the_demo_stays_on_its_paper() -> None:
    """No word of any card reaches out of the room for lamination."""
    for kind, subject in every():
        edge = 4.9 if kind.name == "tag" else 5.5 if kind.name == "pocket" else 8.9
        for w in words(card(kind, subject.number)[1]):
            if kind.name == "pocket" and w.text in ("fold", "1:", "2:", "to", "the", "back"):
                continue
            inside = min(w.left, w.top) > edge and w.right < kind.width - edge
            assert inside and w.bottom < kind.height - edge + 1, (kind.name, subject.number, w)


def test_a_machine_says_its_date_for_a_revision() -> None:
    """The table of values hangs on the documents too: its hash is another one."""
    machine = next(s for k, s in every() if k.name == "tag")
    assert isinstance(machine, MachineView)
    kinds = {k.name: k for k in KINDS if k.made_of == "equipment"}
    assert code_of(kinds["tag"], machine).revision == machine.front.date.isoformat()  # type: ignore[union-attr]
    assert code_of(kinds["settings"], machine).hash != code_of(kinds["tag"], machine).hash
