"""Wrong choices picked so that the right one does not stand out by length or likeness."""

from __future__ import annotations

from collections import Counter

from kilter.publish.training.questions.cues import echo, least_telling, length, place, shared
from kilter.publish.training.questions.draw import Draw

alike = shared(r"\w+")


def picked(right, pool, seed=0):
    return next(least_telling(Draw(seed), right, pool, str), None)


def test_level_choices_are_taken_where_there_are_some():
    pool = ["open a lid", "cut the line", "hold the lid", "pull the pin", "lift the arm"]
    texts = ["test the box", *picked("test the box", pool)]
    assert len(set(alike(texts))) == 1
    assert {len(t) for t in texts} == {12}


def test_where_no_level_is_to_be_had_the_right_one_takes_every_place():
    pool = ["a", "bb", "ccc", "ddddd", "eeeeee", "fffffff"]
    places = Counter(place(length(["xxxx", *picked("xxxx", pool, n)])) for n in range(200))
    assert set(places) == {0, 1, 2, 3}
    assert min(places.values()) > 25


def test_a_right_one_that_stands_out_from_all_gives_no_question():
    assert picked("lock it", ["test the deck", "test the mains", "test the lid", "test the pin"]) is None
    assert picked("lock it", ["a", "b"]) is None


def test_an_echo_is_the_share_of_words_that_the_question_says():
    assert list(echo("Proved zero: mains")(["prove the mains", "test the lid"])) == [1 / 3, 0]
