"""Slides, 16:9: one thing a slide, in the words of the module and of its documents."""

from __future__ import annotations

from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.training.paper.subject import Subject
from kilter.publish.training.paper.taken import module_data

SCALE = 2.0
"""Body 20 pt on a slide 320 mm wide: a letter's x-height is 1/90 of the slide's height. Common practice, no source."""


def slides_data(subject: Subject, width: int, height: int) -> Data:
    audience = printable(subject.module.front.audience or "")
    head = subject.head(width, height, "Slides")
    return {**head, **module_data(subject), "scale": SCALE, "audience": audience}
