"""A second tool looks at every kind of card: `pdfua`, which checks 16 of the 106 rules of PDF/UA-1, as it says itself.

It is no certificate; what else is promised of the tags is in tests/publish/test_cards.py.
"""

from __future__ import annotations

from pathlib import Path

import pdfua
import pikepdf
import pytest

from kilter.publish.cards.family import KINDS, kinds_for, make
from kilter.publish.prepare import machines, prepare

from .frame import demo


@pytest.fixture(scope="module")
def cards(tmp_path_factory) -> dict[str, bytes]:
    """One card of each kind."""
    ready = prepare(demo(tmp_path_factory.mktemp("library")) / "procedures")
    found: dict[str, bytes] = {}
    for subject in (*ready.views, *machines(ready)):
        for kind in kinds_for(subject):
            name = f"{kind.made_of} {kind.name}"
            if name not in found:
                found[name] = make(kind, subject)
    return found


@pytest.mark.parametrize("name", sorted({f"{kind.made_of} {kind.name}" for kind in KINDS}))
def test_it_finds_nothing_in_any_kind_of_card(cards, tmp_path, name):
    file = tmp_path / "card.pdf"
    file.write_bytes(cards[name])
    report = pdfua.validate(str(file))
    assert [(f.rule_id, f.message) for f in report.findings] == [] and report.exit_code == 0
    assert report.outcomes, "rules were run"


def spoil_language(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.Lang


def spoil_tags(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.StructTreeRoot


def spoil_mark(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.MarkInfo


def spoil_title(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.Metadata


@pytest.mark.parametrize("spoil", [spoil_language, spoil_tags, spoil_mark, spoil_title])
def test_it_sees_a_card_that_is_spoilt(cards, tmp_path: Path, spoil):
    file, spoilt = tmp_path / "card.pdf", tmp_path / "spoilt.pdf"
    file.write_bytes(cards["document procedure"])
    with pikepdf.open(file) as pdf:
        spoil(pdf)
        pdf.save(spoilt)
    assert pdfua.validate(str(spoilt)).findings
