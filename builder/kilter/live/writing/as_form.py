"""An existing profile as answers, where the form can say all that it says, and back into its file."""

from __future__ import annotations

import re

from kilter.diagnostic import Severity
from kilter.live.writing.answers import Answers
from kilter.live.writing.plain import prose
from kilter.live.writing.profile_form import answers_of, front_text, profile_text
from kilter.live.writing.store import Held
from kilter.model.front import ProfileFront
from kilter.read.document import read_text
from kilter.source import Source

_QUOTED = re.compile(r"\"(?:\\.|[^\"\\])*\"|'[^']*'")
_FRONT = re.compile(r"---[ \t]*\n.*?\n(?:---|\.\.\.)[ \t]*(?:\n|$)", re.DOTALL)


class NotAsFormError(Exception):
    """The form can't say all that this profile says; the message is why."""


def as_answers(held: Held) -> Answers:
    """A profile's answers; raises NotAsFormError if they would not give the same profile again."""
    profile = profile_in(held)
    front = _FRONT.match(held.text)
    if any(re.search(r"(^|\s)#", _QUOTED.sub("", row)) for row in (front[0] if front else "").split("\n")):
        raise NotAsFormError("Its front matter holds comments, which the form would drop.")
    try:
        answers = answers_of(profile)
    except ValueError:
        raise NotAsFormError("It holds words that are too long for the form.") from None
    again = read_text(Source("profile.md", front_text(answers))).document
    if again is None or again.front != profile:
        raise NotAsFormError("It says things that the form has no question for.")
    return answers


def profile_in(held: Held) -> ProfileFront:
    reading = read_text(Source("profile.md", held.text))
    if reading.document is None:
        first = next((d for d in reading.findings if d.severity is Severity.ERROR), None)
        why = f" (line {first.span.line}: {first.message})" if first else ""
        raise NotAsFormError(f"Its front matter can't be read{why}.")
    if not isinstance(reading.document.front, ProfileFront):
        raise NotAsFormError("It is no profile of a machine.")
    return reading.document.front


def rewritten(held: Held | None, answers: Answers) -> str:
    """The whole file: a new one, or the existing one with another front matter and nothing else changed.

    Raises NotAsFormError if the existing file can't be read any more.
    """
    if held is None:
        return profile_text(answers)
    before = profile_in(held)
    after = read_text(Source("profile.md", front_text(answers))).document
    if after is not None and after.front == before:
        return held.text
    rest = _FRONT.sub("", held.text, count=1)
    if before.title != answers.title:
        rest = re.sub(r"(?m)^# .*$", lambda _: f"# {prose(answers.title)}", rest, count=1)
    return profile_text(answers, rest or "\n")
