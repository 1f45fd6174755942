"""JSON with the place of each of its values, for records: objects, lists and strings, nothing else.

The standard reader tells no places, lets a key stand twice and takes numbers; here each of these is a finding.
"""

from __future__ import annotations

import json.decoder
import re
from typing import Any

DEEPEST = 12
_BLANKS = re.compile(r"[ \t\n\r]*")
_OTHER = re.compile(r"-?[A-Za-z0-9+.]+")
Way = tuple[str | int, ...]
"""Keys and positions from the outermost value to one inside."""
Places = dict[Way, tuple[int, int]]
"""Offsets of each value."""


class NotRecordError(Exception):
    """Text that no record can be in; `start` and `end` are offsets."""

    def __init__(self, message: str, start: int, end: int, help: str = "") -> None:
        super().__init__(message)
        self.message, self.start, self.end, self.help = message, start, end, help


def read_json(text: str) -> tuple[Any, Places]:
    """The value and the places in it. Raises NotRecordError."""
    reader = _Reader(text)
    value = reader.value(())
    reader.blanks()
    if reader.at < len(text):
        raise NotRecordError("something stands after the end of the JSON", reader.at, reader.at + 1)
    return value, reader.places


class _Reader:
    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.places: Places = {}

    def blanks(self) -> None:
        found = _BLANKS.match(self.text, self.at)
        self.at = found.end() if found else self.at

    def value(self, way: Way) -> Any:
        self.blanks()
        start = self.at
        if len(way) > DEEPEST:
            raise NotRecordError("more levels than any record has", start, start + 1)
        sign = self.text[start : start + 1]
        if sign == "{":
            found: Any = self._object(way)
        elif sign == "[":
            found = self._list(way)
        elif sign == '"':
            found = self._string()
        else:
            raise self._no_string(start)
        self.places[way] = (start, self.at)
        return found

    def _no_string(self, start: int) -> NotRecordError:
        other = _OTHER.match(self.text, start)
        if other is None:
            return NotRecordError(
                "not JSON: a value is missing here", start, start + 1, "the file may be cut off"
            )
        what = f"`{other[0]}` is no string; a record holds strings only"
        return NotRecordError(what, start, other.end(), f'write it as "{other[0]}"')

    def _object(self, way: Way) -> dict[str, Any]:
        found: dict[str, Any] = {}
        self.at += 1
        while self._more("}", bool(found)):
            self.blanks()
            start = self.at
            if self.text[start : start + 1] != '"':
                raise NotRecordError("not JSON: a key in quotes is missing here", start, start + 1)
            key = self._string()
            if key in found:
                raise NotRecordError(
                    f"`{key}` stands twice", start, self.at, "one of the two is no part of the record"
                )
            self.blanks()
            if self.text[self.at : self.at + 1] != ":":
                raise NotRecordError("not JSON: `:` is missing here", self.at, self.at + 1)
            self.at += 1
            found[key] = self.value((*way, key))
        return found

    def _list(self, way: Way) -> list[Any]:
        found: list[Any] = []
        self.at += 1
        while self._more("]", bool(found)):
            found.append(self.value((*way, len(found))))
        return found

    def _more(self, end: str, some: bool) -> bool:
        """Whether another one follows; goes past the comma, or past the end."""
        self.blanks()
        sign = self.text[self.at : self.at + 1]
        if sign == end:
            self.at += 1
            return False
        if some:
            if sign != ",":
                raise NotRecordError(
                    f"not JSON: `,` or `{end}` is missing here",
                    self.at,
                    self.at + 1,
                    "the file may be cut off",
                )
            self.at += 1
        return True

    def _string(self) -> str:
        start = self.at
        try:
            found, self.at = json.decoder.scanstring(self.text, start + 1, True)  # type: ignore[attr-defined]
        except ValueError as trouble:
            at = getattr(trouble, "pos", start)
            raise NotRecordError(
                f"not JSON: {getattr(trouble, 'msg', 'a string does not end').lower()}", at, at + 1
            ) from None
        if any("\ud800" <= sign <= "\udfff" for sign in found):
            raise NotRecordError("half a character stands in a string", start, self.at)
        return str(found)
