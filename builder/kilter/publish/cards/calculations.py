"""Calculations and windows of switches as data for the templates; their pictures are the page's own."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypedDict

from kilter.compute.calculation import InputError
from kilter.publish.cards.inline import printable
from kilter.publish.drawings.ink import WIDTH, Picture
from kilter.publish.values import unbroken
from kilter.publish.window import WindowView
from kilter.publish.worked import Answered, Worked, trouble_words


class PictureData(TypedDict):
    """A drawing in ink; `ratio` is its height over its width."""

    svg: str
    alt: str
    ratio: float


class LineData(TypedDict):
    """One line of an answer."""

    name: str
    text: str
    main: bool


class WorkedData(TypedDict):
    """A calculation; formula and source stand on the page."""

    title: str
    given: str
    lines: list[LineData]
    verdict: str
    cautions: list[str]
    picture: PictureData | None


class WindowData(TypedDict):
    """The window of a switch, in words and drawn."""

    title: str
    text: str
    picture: PictureData | None


def worked_data(answered: Answered) -> WorkedData:
    block, answer = answered
    if isinstance(answer, InputError):
        words = printable(trouble_words(block, answer))
        return {"title": words, "given": "", "lines": [], "verdict": "", "cautions": [], "picture": None}
    return {
        "title": printable(answer.title),
        "given": printable(_given(answer)),
        "lines": [
            {"name": e.name, "text": unbroken(printable(e.text)), "main": e.main} for e in answer.lines
        ],
        "verdict": answer.verdict,
        "cautions": [printable(each) for each in answer.cautions],
        "picture": _picture(answer.picture),
    }


def _given(answer: Worked) -> str:
    """What went in, and what was taken for granted: a verdict hangs on both."""
    given = "; ".join(f"{name.replace('-', ' ')} {value}" for name, value in answer.given)
    return ". Assumed: ".join(part for part in (given, "; ".join(answer.assumptions)) if part)


def windows_data(windows: Iterable[WindowView]) -> list[WindowData]:
    return [
        {
            "title": printable(w.title),
            "text": printable(f"{w.text}. {w.said}".strip()),
            "picture": _picture(w.picture),
        }
        for w in windows
    ]


def _picture(picture: Picture | None) -> PictureData | None:
    if picture is None:
        return None
    return {"svg": picture.svg, "alt": picture.said, "ratio": picture.height / WIDTH}
