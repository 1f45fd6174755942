"""People who know nothing of the matter and choose by how the choices look. Ties are shared out evenly."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from kilter.publish.training.questions import Question

Guess = Callable[[Sequence[str]], Sequence[float]]
"""Scores of the choices; the highest is taken."""


def _numbers(text: str) -> list[float]:
    return [float(n.replace("−", "-")) for n in re.findall(r"[−-]?\d+(?:\.\d+)?", text)]


def _decimals(text: str) -> int:
    return max((len(d) for d in re.findall(r"\.(\d+)", text)), default=0)


def _size(text: str) -> float:
    return (_numbers(text.rpartition(": ")[2]) or [0.0])[0]


def _alike(pieces: Callable[[str], list[str]]) -> Guess:
    """The one that has most in common with the others."""

    def score(texts: Sequence[str]) -> list[float]:
        found = []
        for n, text in enumerate(texts):
            total = 0
            for m, other in enumerate(texts):
                left = pieces(other)
                for piece in pieces(text) if n != m else ():
                    if piece in left:
                        left.remove(piece)
                        total += 1
            found.append(float(total))
        return found

    return score


def _place(at: int) -> Guess:
    return lambda texts: [float(n == at) for n in range(len(texts))]


def _middle(texts: Sequence[str]) -> list[float]:
    order = sorted(range(len(texts)), key=lambda n: (_size(texts[n]), len(texts[n])))
    inner = set(order[1:-1])
    return [float(n in inner) for n in range(len(texts))]


GUESSERS: dict[str, Guess] = {
    "longest": lambda texts: [len(t) for t in texts],
    "shortest": lambda texts: [-len(t) for t in texts],
    "middle": _middle,
    "smallest": lambda texts: [-_size(t) for t in texts],
    "largest": lambda texts: [_size(t) for t in texts],
    "most decimals": lambda texts: [_decimals(t) for t in texts],
    "most shared digits": _alike(lambda t: [c for c in t if c.isdigit()]),
    "fewest shared digits": lambda texts: [-s for s in GUESSERS["most shared digits"](texts)],
    "most shared words": _alike(str.split),
    "fewest shared words": lambda texts: [-s for s in GUESSERS["most shared words"](texts)],
    **{f"place {n + 1}": _place(n) for n in range(4)},
}


def rates(questions: Iterable[Question]) -> dict[str, float]:
    """Share of questions that each of them gets right."""
    total, hits = 0, defaultdict[str, float](float)
    for question in questions:
        texts = [c.text for c in question.choices]
        total += 1
        for name, guess in GUESSERS.items():
            scores = guess(texts)
            best = [n for n, score in enumerate(scores) if score == max(scores)]
            hits[name] += (question.key in best) / len(best)
    return {name: hits[name] / max(1, total) for name in GUESSERS}
