"""A seeded writer: types, deletes, pastes, undoes, breaks things, moves files; and what a fresh check says."""

from __future__ import annotations

import random
import time
from functools import lru_cache
from pathlib import Path

from tests.lsp.client import Client

from kilter.check.run import check_library
from kilter.diagnostic import Severity
from kilter.model.library import Library
from kilter.read.document import read_bytes
from kilter.read.library import document_files, read_settings, shown_path

SEVERITY = {Severity.ERROR: 1, Severity.WARNING: 2, Severity.HINT: 3}
WORDS = (
    "battery", "{isolates}`boom`", "{wait}`5 min`", "`", "{", "### New step\n", "\n", ":::", ":::{warning} battery\n",
    "- ", "[there](#stop-and-tag)", "😀", "e\u0301", "\t", "  ", "---\n", ":do: make-safe\n", "{tool}`tension kay`", "\r\n",
)  # fmt: skip
Seen = tuple[int, int, int, int, int, str, str]


@lru_cache(maxsize=512)
def reading(path: str, data: bytes):
    return read_bytes(path, data)


def fresh(root: Path, texts: dict[Path, str]) -> dict[str, set[Seen]]:
    """What a new check says of the files on the disk with the unsaved texts over them, by address."""
    library = Library(root, settings=read_settings(root))
    for file in sorted({*document_files(root), *texts}):
        path = shown_path(file, root.parent)
        library.files[path] = file
        library.add(reading(path, texts[file].encode() if file in texts else file.read_bytes()))
    found: dict[str, set[Seen]] = {}
    for each in check_library(library).all():
        span = each.span
        rows = library.sources[span.path].lines if span.path in library.sources else []
        file = library.files.get(span.path, root.parent / span.path)
        place = (*_units(rows, span.line, span.column), *_units(rows, span.end_line, span.end_column))
        seen = (*place, SEVERITY[each.severity], f"{each.code} {each.rule}", each.message)
        found.setdefault(file.as_uri(), set()).add(seen)
    return found


def _units(rows: list[str], line: int, column: int) -> tuple[int, int]:
    row = rows[line - 1] if line <= len(rows) else ""
    return line - 1, len(row[: column - 1].encode("utf-16-le")) // 2


def published(client: Client) -> dict[str, set[Seen]]:
    """What the editor shows, by address."""
    found: dict[str, set[Seen]] = {}
    for uri, params in list(client.published.items()):
        for d in params["diagnostics"]:
            start, end = d["range"]["start"], d["range"]["end"]
            place = (start["line"], start["character"], end["line"], end["character"])
            message = d["message"].split("\n")[0]
            found.setdefault(uri, set()).add((*place, d["severity"], d["code"], message))
    return found


class Writer:
    """Edits a library through an editor; `acts` tells what was done, for a failure's report."""

    def __init__(self, client: Client, root: Path, seed: int) -> None:
        self.client, self.root, self.random = client, root, random.Random(seed)
        self.texts: dict[Path, str] = {}
        self.before: dict[Path, list[str]] = {}
        self.first = {f: f.read_text(encoding="utf-8") for f in document_files(root)}
        self.acts: list[str] = []
        self.made = 0
        for file in list(self.first)[:3]:
            self._open(file)

    def act(self) -> None:
        acts = (
            [self._type] * 5 + [self._delete] * 3 + [self._paste] * 2 + [self._undo] * 4 + [self._restore] * 3
        )
        acts += [self._profile] * 3 + [self._front, self._save, self._close, self._rename, self._lose]
        acts += [self._picture, self._settings, self._elsewhere, self._new, self._question, self._question]
        act = self.random.choice(acts)
        self.acts.append(act.__name__)
        act()

    def settled(self, timeout: float = 30) -> None:
        """Wait until the editor shows what a fresh check says; raises AssertionError when it never does."""
        wanted = fresh(self.root, self.texts)
        end = time.perf_counter() + timeout
        while (shown := published(self.client)) != wanted:
            if time.perf_counter() > end:
                for uri in {*shown, *wanted}:
                    gone, more = (
                        shown.get(uri, set()) - wanted.get(uri, set()),
                        wanted.get(uri, set()) - shown.get(uri, set()),
                    )
                    assert not gone and not more, (
                        uri,
                        "stale",
                        gone,
                        "missing",
                        more,
                        self.acts[-8:],
                        self.client.errors[-9:],
                    )
            time.sleep(0.002)

    # the acts

    def _pick(self) -> Path:
        if not self.texts:
            self._open(self.random.choice(document_files(self.root)))
        return self.random.choice(sorted(self.texts))

    def _open(self, file: Path) -> None:
        if file not in self.texts and file.exists():
            self.texts[file] = file.read_bytes().decode()
            self.before.setdefault(file, [])
            self.client.open(file, self.texts[file])

    def _set(self, file: Path, text: str) -> None:
        self.before[file].append(self.texts[file])
        self.texts[file] = text
        self.client.change(file, text)

    def _type(self) -> None:
        """A burst of letters, each a change of its own."""
        file = self._pick()
        at = self.random.randrange(len(self.texts[file]) + 1)
        for sign in self.random.choice(WORDS):
            self._set(file, self.texts[file][:at] + sign + self.texts[file][at:])
            at += 1

    def _delete(self) -> None:
        file = self._pick()
        text = self.texts[file]
        at = self.random.randrange(len(text) + 1)
        self._set(file, text[:at] + text[at + self.random.choice((1, 1, 5, 40, 300)) :])

    def _paste(self) -> None:
        file, rows = self._pick(), self.random.choice(sorted(self.first.values())).split("\n")
        at = self.random.randrange(len(rows))
        into = self.texts[file].split("\n")
        there = self.random.randrange(len(into) + 1)
        self._set(file, "\n".join(into[:there] + rows[at : at + 6] + into[there:]))

    def _undo(self) -> None:
        file = self._pick()
        if self.before[file]:
            text = self.before[file].pop(max(0, len(self.before[file]) - self.random.randrange(1, 4)))
            self._set(file, text)

    def _restore(self) -> None:
        file = self._pick()
        self._set(file, self.first.get(file, self.texts[file]))

    def _front(self) -> None:
        file = self._pick()
        old, new = self.random.choice(
            (("---\n", ""), ("kind: ", "kind: ["), ("title:", "titel:"), ("\nnumber: ", "\nnumber: X"))
        )
        self._set(file, self.texts[file].replace(old, new, 1))

    def _profile(self) -> None:
        """What every procedure of the machine leans on."""
        profiles = [f for f in document_files(self.root) if b"kind: equipment" in f.read_bytes()]
        if not profiles:
            return
        file = self.random.choice(profiles)
        self._open(file)
        changes = (
            ("  battery:", "  pack:"), ("lockable: true", "lockable: false"), ("guards: [", "guards: [lid, "),
            ("id: egret-2", "id: egret-3"), ("word: warning", "word: danger"), ("{shared}", ""), ("release: action\n", ""),
            ("## Make safe", "## Make it safe"), ("prove-from: outside", "prove-from: inside"), ("zones:\n", "zones:\n  all: [boom]\n"),
        )  # fmt: skip
        old, new = self.random.choice(changes)
        self._set(file, self.texts[file].replace(old, new, 1))

    def _save(self) -> None:
        file = self._pick()
        file.write_text(self.texts[file], encoding="utf-8", newline="")
        self.client.saved(file)

    def _close(self) -> None:
        """What was not saved is lost."""
        if len(self.texts) > 1:
            file = self._pick()
            del self.texts[file]
            self.client.shut(file)

    def _rename(self) -> None:
        """The editor closes the old file and opens the new one."""
        file = self._pick()
        to = file.with_name(f"moved-{self.made}.md")
        self.made += 1
        if file.exists():
            self.client.shut(file)
            del self.texts[file]
            file.rename(to)
            self.first[to] = self.first.pop(file, "")
            self.client.on_disk(file, kind=3)
            self.client.on_disk(to, kind=1)
            self._open(to)

    def _lose(self) -> None:
        """A file goes, or comes back."""
        gone = [f for f in self.first if not f.exists()]
        if gone:
            gone[0].write_text(self.first[gone[0]], encoding="utf-8")
            self.client.on_disk(gone[0], kind=1)
        else:
            file = self.random.choice(sorted(self.first))
            file.unlink()
            self.client.on_disk(file, kind=3)

    def _picture(self) -> None:
        pictures = sorted(self.root.rglob("*.png*"))
        file = self.random.choice(pictures)
        to = file.with_suffix("") if file.suffix == ".gone" else file.with_name(f"{file.name}.gone")
        file.rename(to)
        self.client.on_disk(file, kind=3)
        self.client.on_disk(to, kind=1)

    def _settings(self) -> None:
        file = self.root.parent / "mkdocs.yml"
        word = self.random.choice(("stand", "case", "pin", "wedge"))
        file.write_text(f"site_name: Demo\nplugins:\n  - kilter: {{hold-words: [{word}]}}\n")
        self.client.on_disk(file)

    def _elsewhere(self) -> None:
        """Another program writes a file that is not open."""
        files = [f for f in document_files(self.root) if f not in self.texts]
        if files:
            file = self.random.choice(files)
            text = self.random.choice(
                (self.first.get(file, ""), file.read_text().replace("{isolates}", "", 1), "no front")
            )
            file.write_text(text, encoding="utf-8")
            self.client.on_disk(file)

    def _new(self) -> None:
        """A file that was never saved."""
        file = self.root / "lift" / f"new-{self.made}.md"
        self.made += 1
        self.texts[file] = text = self.random.choice(sorted(self.first.values()))
        self.before[file] = []
        self.client.open(file, text)

    def _question(self) -> None:
        """In the middle of typing; an answer comes, whatever it is."""
        file = self._pick()
        rows = self.texts[file].split("\n")
        line = self.random.randrange(len(rows))
        at = self.random.randrange(len(rows[line]) + 1)
        self._set(file, self.texts[file] + self.random.choice(("", "\n", " {")))
        for method in ("completion", "hover", "definition"):
            self.client.ask(method, file, line, at)
        self.client.ask("references", file, line, at, context={"includeDeclaration": True})
        self.client.request("textDocument/documentSymbol", {"textDocument": {"uri": file.as_uri()}})
        everything = {"start": {"line": 0, "character": 0}, "end": {"line": len(rows), "character": 0}}
        document = {"textDocument": {"uri": file.as_uri()}, "range": everything}
        self.client.request("textDocument/codeAction", document | {"context": {"diagnostics": []}})
