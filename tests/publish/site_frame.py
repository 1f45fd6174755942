"""A small library to publish, and the ways to build and read its site."""

from __future__ import annotations

import logging
import re
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config
from PIL import Image

ROOT = Path(__file__).parents[2]
GUIDE = files("kilter.publish.site").joinpath("pages/guide.md").read_text(encoding="utf-8")
MKDOCS = "site_name: Test library\ndocs_dir: procedures\ntheme: {name: material}\nplugins:\n  - kilter: {contact: Desk 1}\n"


def guide_example(kind: str) -> str:
    """The example document of the guide, so that one small library serves both."""
    found = re.search(rf"```kilter {kind}\n(.*?)\n```", GUIDE, re.DOTALL)
    assert found, f"the guide has no example `{kind}`"
    return found[1] + "\n"


def small_library(folder: Path, copies: int = 1) -> Path:
    """The guide's machine with its procedure, `copies` times under different numbers; returns `procedures/`."""
    procedures = folder / "procedures"
    procedures.mkdir(parents=True)
    (folder / "mkdocs.yml").write_text(MKDOCS, encoding="utf-8")
    (procedures / "profile.md").write_text(guide_example("profile"), encoding="utf-8")
    for n in range(copies):
        text = guide_example("procedure").replace("TRL-110", f"TRL-{110 + n}")
        (procedures / f"trl-{110 + n}.md").write_text(text, encoding="utf-8")
    Image.new("RGB", (400, 300), "white").save(procedures / "back.png")
    return procedures


def build_site(folder: Path, out: Path, cards: Mapping[str, bytes] | None = None) -> Path:
    """`mkdocs build` of the library in `folder`."""
    config = load_config(str(folder / "mkdocs.yml"), site_dir=str(out))
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    if cards is not None:
        from kilter.publish.prepare import prepare

        config.plugins["kilter"].use(prepare(folder / "procedures"), cards)
    build(config)
    return out


class Read(HTMLParser):
    """What a page holds: tags, references, ids, words."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.words: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {k: v or "" for k, v in attrs}))

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def ids(self) -> list[str]:
        return [a["id"] for _, a in self.tags if "id" in a]

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split())

    def references(self) -> Iterator[str]:
        """Every address the browser may follow or fetch; the canonical one is a name, not a request."""
        for tag, attributes in self.tags:
            if tag == "link" and attributes.get("rel") == "canonical":
                continue
            for key in ("href", "src", "action", "data", "poster"):
                if key in attributes:
                    yield attributes[key]
            for part in attributes.get("srcset", "").split(","):
                if part.strip():
                    yield part.split()[0]


def read(file: Path) -> Read:
    return Read(file.read_text(encoding="utf-8"))


def all_bytes(site: Path) -> dict[str, bytes]:
    return {p.relative_to(site).as_posix(): p.read_bytes() for p in sorted(site.rglob("*")) if p.is_file()}
