"""`kilter print` as a person meets it: what is in the file, what is refused, what is left on the disk."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from tests.publish.cards_frame import pages_text, words

from kilter.cli import main
from kilter.publish.cards.make import main_card
from kilter.publish.prepare import prepare

from .frame import demo

BROKEN = (
    "---\nkind: procedure\ntask: replacement\nnumber: BAD-1\nrevision: A\nequipment: egret-2\ntitle: Bad\n---\n"
    "# Bad\n\n## Stage\n\n### Reach in\nReach in.\n"
)


@pytest.fixture
def library(tmp_path, monkeypatch):
    monkeypatch.chdir(demo(tmp_path))
    return tmp_path


def outline(file: Path) -> list[tuple[str, int]]:
    with pikepdf.open(file) as pdf, pdf.open_outline() as lines:
        pages = [page.obj.objgen for page in pdf.pages]
        return [(str(i.title), pages.index(i.destination[0].objgen) + 1) for i in lines.root]


def test_one_file_with_contents_and_cards(library, capsys):
    assert main(["print", "LFT-120", "roan-3", "--cards", "procedure,tag,placard"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("print.pdf: 3 cards on ") and "for the printer only" in said
    data = (library / "print.pdf").read_bytes()
    pages = pages_text(data)
    first = " ".join(pages[0].split())
    for words_ in (
        "LFT-120",
        "Lockout tag",
        "Energy placard",
        "actual size (100 %)",
        "flip on the long edge",
        "DRAFT",
    ):
        assert words_ in first
    places = dict(outline(library / "print.pdf"))
    assert places.pop("Contents") == 1 and len(places) == 3
    for title, page in places.items():
        assert page % 2 == 1, "a card begins on a front"
        number = title.split()[0]
        assert number in pages[page - 1] or number in pages[page]
        assert str(page) in first.split("Page", 1)[1].split()


def test_the_contents_name_number_revision_hash_and_page_of_the_card(library):
    assert main(["print", "--all", "--cards", "procedure,check", "--flip", "none"]) == 0
    data = (library / "print.pdf").read_bytes()
    pages, rows = pages_text(data), 0
    table = " ".join(pages[0].split())
    for title, page in outline(library / "print.pdf")[1:]:
        number = title.split()[0]
        card = pages[page - 1]
        (digest,) = {w for w in card.split() if len(w) == 12 and set(w) <= set("0123456789abcdef")}
        row = table.split(f" {number} ", 1)[1].split()
        at = row.index(digest)
        assert row[at + 1 : at + 3] == ["1", str(page)] and row[at - 1] in ("A", "B", "C", "D")
        rows += 1
    assert rows == 8, "as many as the demo library has documents"


def test_the_line_for_measuring_is_a_hundred_millimetres_long(library):
    assert main(["print", "LFT-010"]) == 0
    with pikepdf.open(library / "print.pdf") as pdf:
        form = next(iter(pdf.pages[0].Resources.XObject.values()))
        found = set()
        for operands, operator in pikepdf.parse_content_stream(form):
            if str(operator) == "l":
                found |= {round(float(operands[0]) / 72 * 25.4, 1), round(float(operands[1]) / 72 * 25.4, 1)}
    assert 100.0 in found


def test_a_machines_cards_and_those_of_its_documents(library):
    assert main(["print", "--equipment", "roan-3", "--out", "a.pdf"]) == 0
    assert main(["print", "roan-3", "--out", "b.pdf"]) == 0
    both, alone = ([t.split()[0] for t, _ in outline(library / f)[1:]] for f in ("a.pdf", "b.pdf"))
    assert set(alone) == {"roan-3"} and {"STR-010", "STR-110", "STR-130", "roan-3"} == set(both)


def test_a_list_of_a_training_day(library):
    (library / "day.txt").write_text(
        "﻿# Tuesday\nLFT-120   # in pairs\n\nprocedures/stretcher/str-110-rail-latch-switch.md\n"
    )
    assert main(["print", "--list", "day.txt"]) == 0
    assert [t.split()[0] for t, _ in outline(library / "print.pdf")] == ["Contents", "LFT-120", "STR-110"]


def test_what_has_errors_is_refused_by_name_and_the_rest_is_printed(library, capsys):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    assert main(["print", "bad-1", "LFT-120"]) == 1
    said = capsys.readouterr().out
    assert "not printed: BAD-1 Bad (procedures/bad.md): " in said
    assert "procedures/bad.md:13:1: error" in said
    pages = pages_text((library / "print.pdf").read_bytes())
    assert "Not printed" in pages[0] and "BAD-1 Bad" in pages[0]
    assert not any("BAD-1" in page for page in pages[1:])


def test_where_all_is_refused_nothing_is_written(library, capsys):
    (library / "procedures" / "bad.md").write_text(BROKEN)
    (library / "print.pdf").write_bytes(b"of yesterday")
    assert main(["print", "BAD-1"]) == 1
    assert "nothing is written; print.pdf is left from before" in capsys.readouterr().out
    assert (library / "print.pdf").read_bytes() == b"of yesterday"


def test_a_broken_profile_refuses_its_documents_and_its_own_cards(library, capsys):
    profile = library / "procedures" / "lift" / "profile.md"
    profile.write_text(
        profile.read_text(encoding="utf-8").replace("kind: battery", "kind: batery"), encoding="utf-8"
    )
    assert main(["print", "LFT-120", "STR-110"]) == 1
    assert "not printed: LFT-120" in capsys.readouterr().out
    assert [t.split()[0] for t, _ in outline(library / "print.pdf")] == ["Contents", "STR-110"]


@pytest.mark.parametrize(
    ("arguments", "words_"),
    [
        (["print"], "say what to print"),
        (["print", "LFT-12"], "did you mean LFT-120?"),
        (["print", "--equipment", "roan-4"], "did you mean roan-3?"),
        (["print", "LFT-120", "--cards", "procedur"], "is no kind of card; the kinds are procedure,"),
        (
            ["print", "LFT-120", "--cards", "pocket", "--sheet", "letter"],
            "210 x 297 mm does not fit on letter",
        ),
        (["print", "roan-3", "--cards", "pocket"], "no card of those kinds"),
        (["print", "LFT-120", "--out", "procedures"], "is a folder"),
        (["print", "LFT-120", "--library", "nowhere"], "no such folder"),
        (["print", "--list", "nowhere.txt"], "nowhere.txt"),
        (["print", "--list", "empty.txt"], "no numbers in it"),
        (["print", "--list", "bytes.txt"], "not UTF-8"),
    ],
)
def test_what_could_not_run_says_why_and_writes_nothing(library, capsys, arguments, words_):
    (library / "empty.txt").write_text("# nothing\n")
    (library / "bytes.txt").write_bytes(b"\xff\xfe\x00")
    assert main(arguments) == 2
    error = capsys.readouterr().err
    assert error.startswith("kilter: ") and words_ in error and "Traceback" not in error
    assert not list(library.glob("*.pdf")) and not list(library.glob(".print*"))


@pytest.mark.parametrize("copies", ["0", "501", "-1", "many", "١"])
def test_a_number_of_copies_that_is_none(library, capsys, copies):
    with pytest.raises(SystemExit) as left:
        main(["print", "LFT-120", f"--copies={copies}"])
    assert left.value.code == 2 and "write 1 to 500" in capsys.readouterr().err


def test_the_same_bytes_whatever_the_seed_of_hashing(library):
    made = []
    for seed in ("1", "77"):
        out = library / f"{seed}.pdf"
        command = [sys.executable, "-m", "kilter", "print", "WCB-230", "LFT-010", "egret-2"]
        more = ["--out", str(out), "--layout", "same", "--crop-marks"]
        subprocess.run(
            [*command, *more], env={**os.environ, "PYTHONHASHSEED": seed}, check=True, capture_output=True
        )
        made.append(out.read_bytes())
    assert made[0] == made[1]


def test_words_of_a_card_keep_their_size_and_place(library):
    """A word of the tagged card stands on the sheet as large as there, moved as the plan says."""
    assert main(["print", "LFT-120", "--layout", "same"]) == 0
    (document,) = [v for v in prepare(library / "procedures").views if v.number == "LFT-120"]
    sheet = [w for w in words((library / "print.pdf").read_bytes()) if w.page == 3]
    card = [w for w in words(main_card(document)) if w.page == 1]
    assert len(sheet) == 2 * len(card) > 100
    boxes = {(w.text, round(w.left, 1), round(w.top, 1), round(w.right, 1)) for w in sheet}
    for word in card:
        for shift in (0.5, 148.5):
            near = {
                (word.text, round(word.left + shift + d, 1), round(word.top + e, 1))
                for d in (-0.1, 0, 0.1)
                for e in (-0.1, 0, 0.1)
            }
            assert near & {box[:3] for box in boxes}, word


def test_the_printers_file_is_not_tagged_and_says_so(library):
    assert main(["print", "LFT-010"]) == 0
    data = (library / "print.pdf").read_bytes()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert "/StructTreeRoot" not in pdf.Root
    assert "screen reader" in pages_text(data)[0]
