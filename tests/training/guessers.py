"""People who know nothing of the matter and choose by how the choices look. Ties are shared out evenly."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence

from kilter.publish.training.questions import Question

Guess = Callable[[Sequence[str]], Sequence[float]]
"""Scores of the choices; the highest is taken."""
Listed = re.compile(r"[:;.] ?([^:;.]+): ([^:;.]+)(?=[;.])")
VERBS = {
    "isolate the {}": "isolated", "release the {}": "released", "prove the {}": "proved", "remove the {}": "removed",
    "load the {}": "loaded", "put back the {}": "put back", "restore the {}": "restored", "clear the {}": "cleared",
    "test the {}": "tested",
}  # fmt: skip
"""How a list of what was done says the same thing."""


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
    "most shared parts": _alike(lambda t: t.split(", ")),
    "fewest shared parts": lambda texts: [-s for s in GUESSERS["most shared parts"](texts)],
    **{f"place {n + 1}": _place(n) for n in range(4)},
}


def _echo(texts: Sequence[str], stem: str) -> list[float]:
    """Words of a choice that stand in the question, of all its words."""
    asked = set(re.findall(r"\w+", stem.casefold()))
    words = [re.findall(r"\w+", t.casefold()) for t in texts]
    return [sum(w in asked for w in each) / max(1, len(each)) for each in words]


def _listed(texts: Sequence[str], stem: str) -> list[float]:
    """Whether what a choice says is in the question's list of what was done already."""
    done = {
        (verb.casefold().lstrip(), name) for verb, names in Listed.findall(stem) for name in names.split(", ")
    }
    return [float(any(_says(t, words, done) for words in VERBS)) for t in texts]


def _says(text: str, words: str, done: set[tuple[str, str]]) -> bool:
    match = re.fullmatch(re.escape(words).replace(r"\{\}", "(.+)"), text.removesuffix(" zero"))
    return match is not None and (VERBS[words], match[1]) in done


READERS: dict[str, Callable[[Sequence[str], str], Sequence[float]]] = {
    "most said in stem": _echo,
    "least said in stem": lambda texts, stem: [-s for s in _echo(texts, stem)],
    "not listed in stem": lambda texts, stem: [-s for s in _listed(texts, stem)],
}
"""Those who read the question as well, and know nothing of the matter either."""


def rates(questions: Iterable[Question]) -> dict[str, float]:
    """Share of questions that each of them gets right."""
    total, hits = 0, defaultdict[str, float](float)
    for question in questions:
        texts = [c.text for c in question.choices]
        total += 1
        made = {name: guess(texts) for name, guess in GUESSERS.items()}
        made |= {name: guess(texts, question.stem) for name, guess in READERS.items()}
        for name, scores in made.items():
            best = [n for n, score in enumerate(scores) if score == max(scores)]
            hits[name] += (question.key in best) / len(best)
    return {name: hits[name] / max(1, total) for name in (*GUESSERS, *READERS)}
