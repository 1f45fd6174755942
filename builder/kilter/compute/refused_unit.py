"""Why a unit is not known, and what was probably meant.

A unit is never guessed across a prefix: `MF`, `MW` and `mPa` are units of their own, a thousand million times
off from the one in the table, so no replacement is offered for them.
"""

from __future__ import annotations

import re
import unicodedata

from kilter.compute.refused import NO_POWERS, QuantityError, name_of, short, stranger
from kilter.compute.units import PREFIXES, UNITS, WITH_PREFIX, find_unit, in_another_case, nearest_unit

_TWINS = dict(
    zip("АВЕКМНОРСТХаеорсхуімΑΒΕΗΚΜΝΟΡΤΧνоѕԝ", "ABEKMHOPCTXaeopcxyimABEHKMNOPTXvosw", strict=True)
) | {"º": "°", "˚": "°", "∆": "Δ", "Ѵ": "V", "ɡ": "g"}  # fmt: skip
_SAID = (
    (r"(?i).*(?:[\s(](?:g|a|abs|absolute|gauge|gage|vac|vacuum)\b.*|(?<=psi)[ag]|(?<=bar)[ag])",
     "a word about where the pressure counts from: `{}`",
     "write it as a gauge shows it against the air; a vacuum below zero: `−80 kPa`"),
    (r"(?i).*\s(?:max|min|maximum|minimum)\.?",
     "a limit in words: `{}`",
     "put the sign in front: `≥ 5 mm` or `≤ 5 mm`"),
    (r"(?i)f",
     "unit `{}` may be farad or Fahrenheit",
     "write `°F` for a temperature, `mF` or `µF` for a capacitance"),
    (r"(?i)c", "unit `{}` may be Celsius or coulomb", "write `°C` for a temperature, `µC` for a charge"),
    (r"nm", "unit `nm` is the nanometre", "write `N·m` for a torque, `µm` for a length"),
    (r"[MGkµun]", "a prefix without its unit: `{}`", "write the whole unit, such as `kΩ`, `MΩ` or `µA`"),
    (r"/", "a slash between two numbers", "write a range as `5–7 mm`, a tolerance as `4 +0.5/−0.2 mm`"),
    (r"['′]", "unit `{}` may be feet or minutes", "write `ft`, `min` or `°`"),
    (r"[\"″]|''", "unit `{}` may be inches or seconds", "write `in` or `s`"),
    (r"#", "unit `#` has several meanings", "write `lb` or `lbf`"),
    (r"[eE]", "a power of ten", NO_POWERS),
    (r"V?A[rR]|k?VA", "apparent power is not among the units: `{}`", "write the power in `W` or the current in `A`"),
)  # fmt: skip
_KNOWN_TROUBLE = tuple((re.compile(pattern), message, help) for pattern, message, help in _SAID)


def unit_trouble(written: str, start: int) -> QuantityError:
    """What is wrong with a unit that is not in the table; `start` is where it stands."""
    end = start + len(written)
    for pattern, message, help in _KNOWN_TROUBLE:
        if pattern.fullmatch(written):
            instead = "N·m" if written == "nm" else ""
            return QuantityError("unit", message.format(short(written)), help, start, end, instead)
    strange = stranger(written)
    if strange is not None:
        return _strange(written, strange, start)
    message = f"unit `{short(written)}` is not known"
    dimension = _without_prefix(written)
    if dimension:
        help = "write the value in " + _list([s for s, u in UNITS.items() if u.dimension == dimension])
        return QuantityError("unit", message, help, start, end)
    near, certain = nearest_unit(written), in_another_case(written)
    help = f"did you mean `{near}`?" if near else "possible: " + _list([s for s in UNITS if len(s) < 5])
    return QuantityError("unit", message, help, start, end, str(certain) if certain else "")


def _strange(written: str, at: int, start: int) -> QuantityError:
    """A sign that is no part of any unit; its look-alike is offered where that makes a unit."""
    sign = written[at]
    message = f"unit with a strange sign: {name_of(sign)}"
    twin = _twin(sign)
    if twin == sign:
        return QuantityError("unit", message, "write one such as `mm` or `N·m`", start + at, start + at + 1)
    known = find_unit("".join(c if ord(c) < 127 else _twin(c) for c in written)) is not None
    help = f"write `{twin}`; it only looks alike"
    return QuantityError("unit", message, help, start + at, start + at + 1, twin if known else "")


def _twin(sign: str) -> str:
    """What a sign looks like. A raised or circled digit is no twin of the plain one: it says another number."""
    twin = _TWINS.get(sign) or unicodedata.normalize("NFKC", sign)
    return sign if any(c.isdigit() for c in twin) and not sign.isalpha() and len(twin) < 3 else twin


def _without_prefix(written: str) -> str:
    """The dimension of what is left when the first letter is taken for a prefix; empty where that is no unit."""
    if written[:1] not in PREFIXES or written[1:] not in WITH_PREFIX:
        return ""
    unit = find_unit(written[1:])
    return unit.dimension if unit else "capacitance"


def _list(symbols: list[str]) -> str:
    return ", ".join(f"`{symbol}`" for symbol in symbols)
