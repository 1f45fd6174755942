"""The YAML of the front matter, as plain lists, mappings and texts with their places.

Composed first and built by hand: PyYAML's own constructor takes duplicate keys, turns `no` into
False and `0120` into 80, and follows aliases that hold themselves. Every scalar stays a text here;
the model says what becomes a number or a date.
"""

from __future__ import annotations

from typing import Any

import yaml
from yaml import MappingNode, Node, ScalarNode, SequenceNode

from kilter.diagnostic import Fix
from kilter.model.front import Loc, Places
from kilter.read.cures import inserted, replaced, without_rows
from kilter.read.notes import Notes
from kilter.read.yaml_trouble import note_broken, note_hiding
from kilter.source import Source, Span, unseen

try:
    from yaml import CSafeLoader as Loader
except ImportError:  # PyYAML built without libyaml
    from yaml import SafeLoader as Loader  # type: ignore[assignment]

DEEPEST = 12
FENCE = "---"


class Front:
    """Plain data of a front matter and its places; `end_row` is the first row of the text."""

    def __init__(self, data: dict[str, Any], places: Places, end_row: int) -> None:
        self.data, self.places, self.end_row = data, places, end_row


def read_front(notes: Notes) -> Front | None:
    """The front matter of a file, or None with the reason noted."""
    source = notes.source
    if source.row(0).rstrip() != FENCE:
        if (late := _late(source)) is not None:
            help = "delete what stands above it"
            message = "the front matter does not begin in the first line"
            cure = replaced(
                "delete the blank rows above it",
                source.span(0, sum(map(len, source.lines[:late])) + late),
                "",
                alone=True,
            )
            notes.error("front-matter", message, source.whole_row(late), help, cure)
            return None
        notes.error(
            "front-matter",
            "no front matter",
            source.in_row(0, 0, min(3, len(source.row(0)))),
            "begin the file with `---`, a line `kind: procedure`, the other keys, and `---` again; "
            "`kilter new procedure` writes one",
        )
        return None
    end = next((n for n in range(1, len(source.lines)) if source.row(n).rstrip() in (FENCE, "...")), None)
    if end is None:
        notes.error(
            "front-matter",
            "the front matter does not end",
            source.in_row(0, 0, 3),
            "write a line `---` after its last key",
            _closed(source),
        )
        return None
    text = "\n".join(source.lines[1:end]) + "\n"
    return _compose(notes, text, end)


def _closed(source: Source) -> tuple[Fix, ...]:
    """The fence above the first row that can't be a key; none where no text follows."""
    row = next(
        (n for n, text in enumerate(source.lines) if n and (not text.strip() or text.startswith("#"))), None
    )
    if row is None or row < 2 or not any(source.lines[row:]):
        return ()
    return inserted(f"end it after line {row}", source.in_row(row), f"{FENCE}\n")


def _late(source: Source) -> int | None:
    """The row of a front matter that only blanks stand above."""
    row = next((n for n, text in enumerate(source.lines) if text.strip()), 0)
    return row if row and source.row(row).strip() == FENCE else None


def _compose(notes: Notes, text: str, end: int) -> Front | None:
    source = notes.source
    try:
        if note_hiding(notes, text, Loader):
            return None
        node = yaml.compose(text, Loader=Loader)
    except yaml.MarkedYAMLError as trouble:
        note_broken(notes, trouble)
        return None
    except yaml.YAMLError as trouble:
        notes.error("front-matter", f"front matter is not YAML: {trouble}", source.whole_row(0))
        return None
    except RecursionError:
        notes.error(
            "front-matter", "front matter is nested too deeply", source.whole_row(0), "make it flatter"
        )
        return None
    whole = source.rows(0, end + 1)
    if node is None:
        notes.error("front-matter", "the front matter is empty", whole, "write at least `kind: procedure`")
        return None
    builder = _Builder(notes)
    data = builder.build(node, ())
    if not isinstance(data, dict):
        notes.error(
            "front-matter", "the front matter is not a list of keys", whole, "write lines `key: value`"
        )
        return None
    if builder.broken:
        return None
    return Front(data, Places(builder.values, builder.keys, whole), end + 1)


class _Builder:
    """Walks the composed nodes once; each anchor, tag and doubled key is refused where it stands."""

    def __init__(self, notes: Notes) -> None:
        self.notes = notes
        self.values: dict[Loc, Span] = {}
        self.keys: dict[Loc, Span] = {}
        self.broken = False
        self._seen: set[int] = set()

    def build(self, node: Node, loc: Loc) -> Any:
        span = self._span(node)
        self.values[loc] = span
        if id(node) in self._seen:  # met already above; kept so that no ring can be walked
            return self._refuse(
                "yaml-alias", "an alias (`*name`) is not allowed", span, "write the value out"
            )
        self._seen.add(id(node))
        if len(loc) > DEEPEST:
            return self._refuse("front-matter", "front matter is nested too deeply", span, "make it flatter")
        if isinstance(node, ScalarNode):
            return self._scalar(node, span)
        if isinstance(node, SequenceNode):
            return [self.build(child, (*loc, n)) for n, child in enumerate(node.value)]
        assert isinstance(node, MappingNode)
        return self._mapping(node, loc)

    def _scalar(self, node: ScalarNode, span: Span) -> Any:
        if node.tag not in _PLAIN_TAGS:
            return self._refuse("yaml-alias", f"a tag (`{node.tag}`) is not allowed", span, "delete the tag")
        if node.tag == "tag:yaml.org,2002:null" and node.style is None:
            return None
        if any(map(unseen, node.value)):
            message = "a value that holds a character nobody sees"
            return self._refuse("control-character", message, span, "delete it, or the escape that makes it")
        return node.value

    def _mapping(self, node: MappingNode, loc: Loc) -> dict[str, Any]:
        data: dict[str, Any] = {}
        for key_node, value_node in node.value:
            span = self._span(key_node)
            if not isinstance(key_node, ScalarNode):
                self._refuse("front-matter", "a key must be plain words", span, "put quotes around it")
                continue
            key = key_node.value
            if key in data:
                first = self.keys[(*loc, key)]
                self._refuse(
                    "duplicate-key",
                    f"key `{key}` stands twice",
                    span,
                    f"keep one of them; the first is in line {first.line}",
                    self._second(key, loc, span, value_node, data[key]),
                )
                continue
            self.keys[(*loc, key)] = span
            data[key] = self.build(value_node, (*loc, key))
        return data

    def _span(self, node: Node) -> Span:
        start, end = node.start_mark, node.end_mark
        source = self.notes.source
        if isinstance(node, ScalarNode) or start.line == end.line:
            last_row, last_column = end.line + 1, end.column
        else:
            last_row = max(start.line + 1, end.line if end.column == 0 else end.line + 1)
            last_column = len(source.row(last_row)) if end.column == 0 else end.column
        return Span(source.path, start.line + 2, start.column + 1, last_row + 1, last_column + 1)

    def _second(self, key: str, loc: Loc, span: Span, value: Node, first: Any) -> tuple[Fix, ...]:
        """The second of two keys taken out, where it has a row to itself."""
        if loc or not isinstance(value, ScalarNode) or value.end_mark.line + 2 != span.line:
            return ()
        rows = without_rows(self.notes.source, span)
        return replaced(f"delete this `{key}`", rows, "", alone=value.value == first)

    def _refuse(
        self, rule: str, message: str, span: Span, help: str = "", fixes: tuple[Fix, ...] = ()
    ) -> None:
        self.broken = True
        self.notes.error(rule, message, span, help, fixes)


_PLAIN_TAGS = {
    f"tag:yaml.org,2002:{t}" for t in ("str", "null", "bool", "int", "float", "timestamp", "merge", "value")
}
