"""Limits in answers: what is read, and gaps and overlaps against trying values one by one."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from kilter.check.limits import limit_at, limits_in
from kilter.check.rules.values.answer_limits import check
from kilter.check.run import Context
from kilter.model.library import Library
from kilter.read.document import read_bytes

FRONT = (
    "---\nkind: procedure\ntask: test\nnumber: X-1\nrevision: A\nequipment: x\ntitle: X\n---\n# X\n\n## Y\n\n"
)


@pytest.mark.parametrize(
    ("words", "low", "high", "ends"),
    [
        ("Below 1 V", None, 1, "[)"),
        ("1 V or more", 1, None, "[]"),
        ("Above 2 V, so it is live", 2, None, "(]"),
        ("0.3 Ω or less, steady", None, Fraction(3, 10), "[]"),
        ("All three below 10 V", None, 10, "[)"),
        ("Any of them at 10 V or more", 10, None, "[]"),
        ("40 mm or less at both ends", None, Fraction(4, 100), "[]"),
        ("Between 4 and 6 V", 4, 6, "[]"),
        ("Inside 22 to 26 V", 22, 26, "[]"),
        ("24 ± 1 V", 23, 25, "[]"),
        ("More than 2 MΩ", 2_000_000, None, "(]"),
    ],
)
def test_what_is_read(words: str, low: object, high: object, ends: str) -> None:
    found = limit_at(words)
    assert found is not None
    assert (found.low, found.high) == (low, high)
    assert ("[" if found.has_low else "(") + ("]" if found.has_high else ")") == ends


@pytest.mark.parametrize(
    "words",
    ["Both dead", "5 V", "Outside 3 to 8 mm", "More, or it wanders", "2 or more", "Below 1 V lamp", ""],
)
def test_what_is_no_limit(words: str) -> None:
    assert limit_at(words) is None


def test_limits_inside_a_text() -> None:
    found = list(limits_in("Voltmeter at the plug, below 1 V. Thermometer on the plate, 40 °C or less."))
    assert [f.text for f in found] == ["below 1 V", "40 °C or less"]


FORMS = {
    "Below {0} V": lambda x, a, b: x < a,
    "{0} V or less": lambda x, a, b: x <= a,
    "Above {0} V": lambda x, a, b: x > a,
    "{0} V or more": lambda x, a, b: x >= a,
    "{0} to {1} V": lambda x, a, b: a <= x <= b,
}
Answer = tuple[str, int, int]


def told(answers: list[Answer]) -> list[str]:
    """What the rule says of a step with these answers."""
    rows = "\n".join(f"- {form.format(a, b)}: [Z](#z)" for form, a, b in answers)
    text = f"{FRONT}### Z\n\nLook.\n\n{rows}\n"
    document = read_bytes("a.md", text.encode()).document
    assert document is not None
    return [found.message for found in check(Context(Library(None), document, None))]  # type: ignore[arg-type]


@given(some.lists(some.tuples(some.sampled_from(sorted(FORMS)), some.integers(1, 4), some.integers(5, 7)),
                  min_size=2, max_size=4))  # fmt: skip
def test_gaps_and_overlaps_are_those_of_trying_values(answers: list[Answer]) -> None:
    """Half volts from below all numbers to above them meet every end and every open stretch."""
    fits = [sum(FORMS[form](Fraction(n, 2), a, b) for form, a, b in answers) for n in range(-1, 18)]
    said = told(answers)
    if any(n > 1 for n in fits):
        assert len(said) == 1
        assert "can both be true" in said[0]
    else:
        assert any("no answer fits" in message for message in said) == (0 in fits)
        assert len(said) == sum(
            1 for n, count in enumerate(fits) if count == 0 and (n == 0 or fits[n - 1] != 0)
        )


def test_what_is_told() -> None:
    assert told([("Below {0} V", 1, 5), ("Above {0} V", 2, 5)]) == [
        "no answer fits between `Below 1 V` and `Above 2 V`"
    ]
    assert told([("Below {0} V", 3, 5), ("{0} V or more", 1, 5)]) == [
        "`Below 3 V` and `1 V or more` can both be true"
    ]
    assert told([("{0} to {1} V", 1, 5), ("Above {0} V", 5, 5)]) == [
        "no answer fits what is below `1 to 5 V`"
    ]
    assert told([("Below {0} V", 1, 5), ("Anything else", 1, 5)]) == []
    assert told([("Below {0} V, and steady", 3, 5), ("{0} V or more", 1, 5)]) == []
