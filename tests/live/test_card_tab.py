"""The tab *Card*: each card of a document and of a machine is drawn there, and comes as PDF."""

from __future__ import annotations

import re

import pytest
from tests.live.frame import PROFILE, edit, get, library, opened

from kilter.publish.cards.family import KINDS


@pytest.fixture(scope="module")
def live(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tab")
    library(folder)
    with opened(folder) as live:
        yield live


def text(live, path: str) -> str:
    answer = get(live, path)
    assert answer.status == 200, path
    return answer.body.decode()


def test_the_list_names_documents_and_machines(live):
    html = text(live, "/card")
    assert 'href="/card/LFT-120"' in html and 'href="/card/equipment-egret-2"' in html


@pytest.mark.parametrize("subject", ["lft-120", "lft-010", "equipment-egret-2"])
def test_every_card_is_drawn_and_comes_as_pdf(live, subject: str):
    """The list of kinds leads to each; its drawings and its PDF are there."""
    whole = text(live, f"/card/{subject}")
    names = re.findall(rf'href="(/card/{subject}\.[a-z]+)"', whole)
    titles = {k.title for k in KINDS if f"<b>{k.title}</b>" in whole}
    assert (len(titles), len(names) > 1) == ((0, False) if subject == "lft-010" else (1, True))
    for name in [f"/card/{subject}", *names]:
        html = text(live, name)
        pages = re.findall(r'src="(/card-page/[^"?]+)', html)
        assert pages and all(get(live, p).type == "image/svg+xml" for p in pages), name
        (pdf,) = re.findall(r'href="(/cards/[^"]+\.pdf)"', html)
        assert get(live, pdf).body.startswith(b"%PDF"), pdf


@pytest.mark.parametrize(
    "path",
    ["/card/lft-120.tag", "/card/lft-999", "/card/equipment-none", "/cards/lft-120.tag.pdf",
     "/cards/equipment-egret-2.pdf", "/card-page/lft-120.pocket/9", "/card-page/equipment-egret-2.placard/x"],
)  # fmt: skip
def test_what_there_is_not_is_not_found(live, path: str):
    assert get(live, path).status == 404


def test_links_of_the_pages_lead_to_cards(live):
    """Every link of the print list of a document and of a machine gives a PDF."""
    for page in ("lft-120.html", "equipment-egret-2.html"):
        links = re.findall(r'href="(cards/[^"]+\.pdf)"', text(live, f"/{page}"))
        assert len(links) > 2
        assert all(get(live, f"/{link}").body.startswith(b"%PDF") for link in links)


def test_a_machine_card_follows_its_profile_and_goes_with_it(tmp_path):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        before = get(live, "/cards/equipment-egret-2.placard.pdf").body
        edit(procedures / PROFILE, "stand pin in.", "stand pin in and latched.")
        live.watcher.look()
        assert get(live, "/cards/equipment-egret-2.placard.pdf").body != before
        edit(procedures / PROFILE, "kind: gravity", "kind: levity")
        live.watcher.look()
        assert get(live, "/cards/equipment-egret-2.placard.pdf").status == 404
        assert "There is no card while the document has errors" in text(live, "/card/equipment-egret-2")
        assert "no card while" in text(live, "/card/LFT-120")
