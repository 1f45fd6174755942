"""A calculation as pages, cards and data show it: one wording for all of them, in the words of `kilter calc`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from kilter.compute.calculation import InputError, Line, Result, calculator
from kilter.model.text import Calculation
from kilter.publish.drawings import picture_of
from kilter.publish.drawings.ink import Picture

Answerer = Callable[[Calculation], Result | InputError]
VERDICTS = {
    "holds": "It holds.",
    "fails": "It does not hold.",
    "too close to call": "Too close to call: that is not a pass.",
    "not judged": "Not judged.",
}
MAKER_FIRST = "The maker's service manual and local rules come first; a computed value replaces neither."


@dataclass(frozen=True)
class Worked:
    """An answer ready to be shown."""

    name: str
    title: str
    given: tuple[tuple[str, str], ...]
    """The author's inputs, in order."""
    lines: tuple[Line, ...]
    """What was asked for stands first."""
    verdict: str
    """In words; empty where nothing is judged."""
    formula: str
    source: str
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    picture: Picture | None


Answered = tuple[Calculation, Worked | InputError]


def worked(block: Calculation, result: Result) -> Worked:
    title = calculator(block.name).summary
    return Worked(
        name=block.name,
        title=title[:1].upper() + title[1:],
        given=tuple((g.name, g.value) for g in block.given),
        lines=tuple(sorted(result.lines, key=lambda each: not each.main)),
        verdict=VERDICTS.get(result.verdict, ""),
        formula=result.formula,
        source=result.source,
        assumptions=result.assumptions,
        cautions=result.cautions,
        picture=picture_of(result.drawing),
    )


def answered(block: Calculation, answer: Answerer) -> Answered:
    result = answer(block)
    return block, result if isinstance(result, InputError) else worked(block, result)


def unanswered(block: Calculation) -> InputError:
    """Stands where no library is at hand to answer."""
    return InputError("", f"`{block.name}` is not worked out here", "look at the page of the document")


def trouble_words(block: Calculation, trouble: InputError) -> str:
    """Said in place of an answer, in a preview of a document that has errors."""
    return f"Calculation `{block.name}` can't be worked out: {trouble.message}; {trouble.help}."
