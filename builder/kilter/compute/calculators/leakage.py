"""Electrical safety after repair: which limit holds, is it kept, and what has changed since before."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict
from kilter.compute.decision import judge
from kilter.compute.electrical import (
    FACTS,
    MEASURES,
    Limit,
    TableError,
    choose,
    compare,
    read_table,
    shipped,
    undecided,
)
from kilter.compute.rounding import about
from kilter.compute.value import Quantity

_READ = ("resistance", "current")
INPUTS = (
    Input(
        "measure",
        "what is measured",
        "choice",
        choices=tuple(MEASURES),
        example="protective earth",
        needed=True,
    ),
    Input("standard", "the standard that the hospital works by", "words", example="IEC 62353"),
    Input("class", "the protection class", "choice", choices=("I", "II", "internal"), example="I"),
    Input("part", "the type of applied part", "choice", choices=("B", "BF", "CF"), example="BF"),
    Input("cord", "the cord, or the state of its ground", "words", example="fixed"),
    Input("method", "the method", "choice", choices=("alternative", "direct"), example="direct"),
    Input("read", "the reading after the repair", "quantity", _READ, "180 mΩ"),
    Input("before", "the reading before the repair", "quantity", _READ, "120 mΩ"),
    Input("uncertainty", "the tester's expanded uncertainty", "quantity", _READ, "10 mΩ"),
    Input("table", "the library's own table of limits, as text", "words"),
)
_WORDS: dict[str, Verdict] = {
    "pass": "holds",
    "fail": "fails",
    "too close to call": "too close to call",
    "not judged": "not judged",
}


def work(given: Mapping[str, Any]) -> Result:
    """The limit with its edition and mark, the verdict, the comparison; raises InputError."""
    row = _limit(given)
    lines = [Line("limit", f"{row.limit.text} ({row.standard}:{row.edition})", main=True)]
    if row.note:
        lines.append(Line("how", row.note))
    verdict: Verdict = ""
    cautions = []
    if row.mark == "memory":
        cautions.append("this limit is from memory: look it up in the edition that your hospital uses")
    if "read" in given:
        read = _plain(given["read"], "read", row.limit)
        by = _plain(given["uncertainty"], "uncertainty", row.limit) if "uncertainty" in given else None
        said = judge(read, by, row.limit.base_low, row.limit.base_high)
        verdict = _WORDS[said]
        lines.insert(0, Line("verdict", said, main=True))
        if "before" in given:
            lines.append(_compared(_plain(given["before"], "before", row.limit), read, row.limit, cautions))
    return Result(
        lines=tuple(lines),
        formula="the reading, with the tester's uncertainty, against the limit; change = (after − before) / before",
        source=f"{row.standard}:{row.edition} ({'read' if row.mark == 'read' else 'from memory'})",
        assumptions=()
        if "uncertainty" in given or "read" not in given
        else ("the tester is exact: no uncertainty was given",),
        cautions=(*cautions, "where the maker or a local rule is stricter, that counts"),
        verdict=verdict,
    )


def _limit(given: Mapping[str, Any]) -> Limit:
    facts = {name: given[name] for name in FACTS if name in given}
    table = shipped()
    if "table" in given:
        try:
            table = (*read_table(given["table"]), *table)
        except TableError as trouble:
            raise InputError("table", f"the table of limits: {trouble}", "mend the table") from None
    rows = choose(table, given["measure"], facts, given.get("standard", ""))
    if not rows:
        known = sorted({r.standard for r in table if r.measure == given["measure"]})
        raise InputError(
            "measure",
            "no row of the table holds for this",
            f"{given['measure']} is in: {', '.join(known) or 'no standard of the table'}",
        )
    standards = sorted({r.standard for r in rows})
    if len(standards) > 1:
        raise InputError(
            "standard", "`standard` is missing: the limit depends on it", f"possible: {', '.join(standards)}"
        )
    first = rows[0]
    rivals = [
        r for r in rows if _known(r, facts) == _known(first, facts) and r.limit.text != first.limit.text
    ]
    for name, words in undecided([first, *rivals], facts).items() if rivals else ():
        raise InputError(
            name, f"`{name}` is missing: the limit depends on it", f"possible: {', '.join(words)}"
        )
    return first


def _known(row: Limit, facts: Mapping[str, str]) -> int:
    return sum(name in facts for name, _ in row.facts)


def _plain(quantity: Quantity, name: str, limit: Quantity) -> Fraction:
    if quantity.form != "plain" or quantity.base_nominal is None:
        raise InputError(
            name, f"`{quantity.text}` is no single value", "write what the tester shows, such as `180 mΩ`"
        )
    if quantity.dimension != limit.dimension:
        raise InputError(
            name,
            f"`{name}` is a {quantity.dimension}, the limit a {limit.dimension}",
            f"write it in {limit.unit}",
        )
    if quantity.base_nominal < 0:
        raise InputError(name, f"`{name}` is below zero", "delete its sign")
    return quantity.base_nominal


def _compared(before: Fraction, after: Fraction, limit: Quantity, cautions: list[str]) -> Line:
    if before == 0:
        raise InputError("before", "a reading of nothing can't be compared with", "leave it out")
    found = compare(before, after, limit)
    share = about(abs(found.worse_by) * 100, 2)
    if found.remarkable:
        cautions.append("it got clearly worse in this repair: find out why before it goes back")
    text = (
        "as before"
        if found.worse_by == 0
        else f"{share} % {'worse' if found.worse_by > 0 else 'better'} than before"
    )
    return Line("change", text, float(found.worse_by * 100), unit="%")


CALCULATOR = Calculator(
    "leakage", "which limit of electrical safety holds after a repair, and is it kept", INPUTS, work
)
