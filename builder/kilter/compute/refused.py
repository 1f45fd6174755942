"""Why a value can't be read: what is wrong, where, and what to write instead."""

from __future__ import annotations

import re
import unicodedata
from typing import Literal

About = Literal["value", "unit", "range"]


class QuantityError(ValueError):
    """A text that states no value; `start` and `end` are offsets of the trouble in the text."""

    def __init__(
        self, about: About, message: str, help: str, start: int, end: int, instead: str = ""
    ) -> None:
        super().__init__(message)
        self.about: About = about
        self.message, self.help = message, help
        self.start, self.end = start, max(end, start + 1)
        self.instead = instead
        """What should stand from `start` to `end`, where that is known."""

    def moved(self, by: int) -> QuantityError:
        """The same, in a text that begins `by` characters earlier."""
        start, end = self.start + by, self.end + by
        return QuantityError(self.about, self.message, self.help, start, end, self.instead)


NO_POWERS = "write the plain number with a larger or smaller unit, such as `2 MΩ`"
_NUMBER_FIRST = "begin with the number: `0.6 ± 0.1 N·m`, `5–7 mm`, `≥ 24.0 V`"
_NOT = (
    (r"^(~|≈|≃|∼|ca?\.?\s|circa\b|approx\w*\.?|about\b|around\b|roughly\b)",
     "`{}` says no limit",
     "write how far off it may be, such as `5 ± 0.5 mm`"),
    (r"[0-9]\s?[~≈∼]",
     "`{}` says no limit",
     "a range is `5–7 mm`; a voltage is `230 V a.c.`"),
    (r"(?i)^(?:max|min)\w*\b\.?|^(?:not|no|up|over|under|less|more|below|above|between)\s.*?(?=[0-9]|$)",
     "a limit in words: `{}`",
     "write `≥ 5 mm`, `≤ 5 mm` or `5–7 mm`"),
    (r"(?i)\bnan\b|\binf(inity)?\b|∞",
     "`{}` is no number",
     "write the number that the meter shows"),
    (r"[0-9],[0-9]",
     "a comma in a number: `{}`",
     "write a point for decimals (`1.5`), and thousands without a sign (`1500`)"),
    (r"[0-9](?:\.[0-9]+)?(?:[eE][+-]?[0-9]+|\s?[×x*·]\s?10\s?[\^⁻⁺⁰¹²³⁴-⁹]\S*)",
     "a power of ten: `{}`",
     NO_POWERS),
    (r"[0-9]+\s?[/⁄]\s?[0-9]+|[¼½¾⅓⅔⅛⅜⅝⅞]",
     "a fraction: `{}`",
     "write it with a point, such as `0.5 turns`"),
    (r"[0-9]+\.\.+\s?[0-9]+",
     "points between two numbers: `{}`",
     "write a range as `5–7 mm`"),
    (r"(?<![0-9])\.[0-9]+",
     "a number without its zero: `{}`",
     "write `0.5`, not `.5`: a lost point makes it ten times as large"),
    (r"[0-9](?:['’ʼ_`´]|\s?[·⋅∙•]\s?)[0-9]",
     "a sign between the digits: `{}`",
     "write a point for decimals (`1.5`), and thousands without a sign (`1500`)"),
    (r"[0-9]+[RkKMmVµ][0-9]+",
     "a letter for the point: `{}`",
     "write it as `4.7 kΩ`"),
    (r"[0-9]+\.(?![0-9.])",
     "a point without a digit after it: `{}`",
     "write the digit, or leave the point out"),
    (r"[0-9]+(?:\.[0-9]+){2,}",
     "a number with two points: `{}`",
     "write one point, for the decimals"),
    (r"[0-9]+\s[0-9]+",
     "two numbers: `{}`",
     "write a number without blanks; a range is `5–7 mm`, a tolerance `6 ± 1 mm`"),
    (r"±\s*[0-9.]+\s*%\s*\S+",
     "a percentage inside a value: `{}`",
     "write the unit first: `22 N·m ± 10 %`"),
    (r"%\s?/",
     "a tolerance of two percentages",
     "write how far off it may be in the unit of the value: `4 +0.5/−0.2 mm`"),
    (r"(?i)\((?:g|a|abs|gauge|vac)\w*\.?\)",
     "a word about where the pressure counts from: `{}`",
     "write it as a gauge shows it against the air; a vacuum below zero: `−80 kPa`"),
    (r"[a-zµ]+\s?\^\s?-?[0-9]",
     "a power of a unit: `{}`",
     "write it as `mm²`"),
    (r"^[+−-]?[0-9.]+[^0-9]*?\s\+\s?[0-9.]+(?!.*/)",
     "a tolerance one way only: `{}`",
     "write both ways, such as `4 +0.5/−0 mm`"),
    (r":",
     "a name in front of a value",
     "only a reading has a name: delete it and its colon"),
)  # fmt: skip
_KNOWN_TROUBLE = tuple((re.compile(pattern), message, help) for pattern, message, help in _NOT)
_LETTERS_AT_HOME = set("µμΩΩ°·⋅∙•×−–—±≤≥⩾⩽…²³₂⁻¹℃℉\u00a0\u2009\u202f‑‐")


def diagnose(text: str) -> QuantityError:
    """What is wrong with a text that has none of the accepted forms."""
    if not text:
        return QuantityError("value", "no value", _NUMBER_FIRST, 0, 1)
    strange = stranger(text)
    if strange is not None and unicodedata.category(text[strange]) == "Nd":
        sign = text[strange]
        digit = unicodedata.digit(sign)
        message = f"a digit of another script: {name_of(sign)}"
        return QuantityError("value", message, f"write `{digit}`", strange, strange + 1, str(digit))
    for pattern, message, help in _KNOWN_TROUBLE:
        match = pattern.search(text)
        if match is not None:
            shown = short(match.group().strip())
            instead = f"0{match.group()}" if match.group().startswith(".") else ""
            return QuantityError("value", message.format(shown), help, match.start(), match.end(), instead)
    if not any(c.isdigit() for c in text):
        return QuantityError("value", f"no number in `{short(text)}`", _NUMBER_FIRST, 0, len(text))
    if strange is not None:
        sign = text[strange]
        return QuantityError("value", f"a strange sign: {name_of(sign)}", _NUMBER_FIRST, strange, strange + 1)
    start = _first_unread(text)
    return QuantityError("value", f"`{short(text)}` is no value", _NUMBER_FIRST, start, len(text))


def name_of(sign: str) -> str:
    """A character named so that it can be told from its look-alikes."""
    return f"U+{ord(sign):04X} {unicodedata.name(sign, 'without a name').lower()}"


def stranger(text: str) -> int | None:
    """Where the first sign stands that belongs in no value."""
    return next((n for n, c in enumerate(text) if ord(c) > 126 and c not in _LETTERS_AT_HOME), None)


def _first_unread(text: str) -> int:
    lead = re.match(r"[+\-−–≥≤<>=±\s]*[0-9.]*\s*", text)
    at = lead.end() if lead else 0
    return at if at < len(text) else 0


def short(text: str) -> str:
    """As much of a text as a message has room for."""
    return text if len(text) <= 40 else text[:37] + "..."
