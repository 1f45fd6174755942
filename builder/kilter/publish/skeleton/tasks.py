"""A new procedure, for each task: the same safe way in and out around the work that is its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from kilter.publish.skeleton.safe import Frame
from kilter.publish.skeleton.setting import switch_setting
from kilter.publish.skeleton.stages import TAG
from kilter.publish.skeleton.words import Stop

ORIGIN = ":origin: [fill in: where the values come from, such as maker's manual p. 12]"
WHY = ":hands: controls - [fill in: why nobody reaches inside here]"
TORQUE = "{torque}`[fill in: torque and tolerance, such as 2.0 ± 0.2 N·m]`"
LIMIT = "[fill in: name and limit, such as play: ≤ 0.5 mm]"
RIGHT, WRONG = "[fill in: what is seen when it is right]", "[fill in: anything else]"

Stages = list[tuple[str, list[Stop]]]


def _fault(frame: Frame) -> Stages:
    """Look from outside first; then inside, a measurement that parts the causes, and a repair for each."""
    first = frame.make_safe("measure-inside")
    look = Stop(
        "Look from outside",
        "[fill in: what is tried and watched with the covers on]",
        (WHY,),
        (
            ("[fill in: what the fault looks like]", first[0].slug if first else "measure-inside", ""),
            ("[fill in: what is seen when nothing is wrong]", "no-fault-found", ""),
            (WRONG, frame.stop, ""),
        ),
    )
    none = "[fill in: what to tell the ward]. Write down what was seen."
    found = Stop("No fault found", none, (":exit: left as found",))
    causes = (
        ("[fill in: reading and what it means]", "mend-the-first-cause", "{not-ok}"),
        ("[fill in: another reading and what it means]", "mend-the-second-cause", "{not-ok}"),
        ("[fill in: no known cause]", TAG, "{not-ok}"),
    )
    text = "Measure with the {tool}`[fill in: measuring instrument]`: {read}`" + LIMIT + "`."
    measure = Stop("Measure inside", text, (ORIGIN,), causes)
    repairs = [
        Stop("Mend the first cause", _do("what is mended"), (":go-to: #measure-again",)),
        Stop("Mend the second cause", _do("what is mended"), ()),
        Stop("Measure again", text, (ORIGIN,), _pass_or_tag("close-up")),
    ]
    return [
        ("Find where it is", [look, found]),
        ("Find why", [*first, measure, *repairs, *_closed(frame)]),
        _end(frame),
    ]


def _adjustment(frame: Frame) -> Stages:
    """As found, set, as left: the two readings of one name pair, and a failed one is set again."""
    switches = [*frame.profile.switches]
    more = f"; the profile also has {', '.join(switches[1:])}" if len(switches) > 1 else ""
    field, setting = switch_setting(frame.profile)
    tool = "{tool}`[fill in: measuring instrument]`"
    name = "[fill in: name and limits, such as gap: 7.8–8.2 mm]"
    work = [
        Stop(
            "Measure as found",
            f"[fill in: where and how it is measured{more}]. Write down {{read}}`as found, {name}` from the {tool}.",
            (ORIGIN,),
            (
                ("[fill in: inside the limits]", "close-up", ""),
                ("[fill in: outside the limits]", "set-it", ""),
            ),
        ),
        Stop(
            "Set it",
            "[fill in: what is loosened and moved]. "
            f"Set it to {{set}}`[fill in: setting and tolerance, such as {setting}]`.",
            (*filter(None, (field,)), ORIGIN),
        ),
        Stop(
            "Tighten it",
            f"Tighten the screws to {TORQUE} with the {{tool}}`[fill in: torque tool]`.",
            (ORIGIN,),
        ),
        Stop(
            "Measure as left",
            f"[fill in: measure in the same way]. Write down {{read}}`as left, {name}` from the {tool}.",
            (ORIGIN,),
            (
                ("[fill in: inside the limits]", "close-up", ""),
                ("[fill in: outside, for the first or second time]", "set-it", "{not-ok}"),
                ("[fill in: outside for the third time]", TAG, "{not-ok}"),
            ),
        ),
    ]
    return [("Set it right", [*frame.make_safe("measure-as-found"), *work, *_closed(frame)]), _end(frame)]


def _replacement(frame: Frame) -> Stages:
    work = [
        Stop("Take the old part out", _do("what is unplugged and undone")),
        Stop(
            "Fit the new part",
            "Fit a new {part}`[fill in: new part]`. "
            + _do("how it lies")
            + f" Tighten its screws to {TORQUE}"
            " with the {tool}`[fill in: torque tool]`.",
            (ORIGIN,),
        ),
        Stop("Look it over", _do("what is checked before the covers go on"), (), _pass_or_tag("close-up")),
    ]
    return [
        ("Change the part", [*frame.make_safe("take-the-old-part-out"), *work, *_closed(frame)]),
        _end(frame),
    ]


def _inspection(frame: Frame) -> Stages:
    read = "{read}`" + LIMIT + "`"
    work = [
        Stop("Look for wear", _do("what is looked at, and for what"), (), _pass_or_tag("measure-it")),
        Stop(
            "Measure it",
            f"Measure with the {{tool}}`[fill in: measuring instrument]`: {read}. Write the reading down.",
            (ORIGIN,),
            _pass_or_tag("close-up"),
        ),
    ]
    return [("Inspect", [*frame.make_safe("look-for-wear"), *work, *_closed(frame)]), _end(frame)]


def _test(frame: Frame) -> Stages:
    """Nothing is opened: look, measure from outside, then every test that the profile asks for."""
    look = Stop("Look it over", _do("what is looked at from outside"), (WHY,), (
        (RIGHT, "measure-from-outside", ""), (WRONG, frame.stop, "{not-ok}"),
    ))  # fmt: skip
    measure = Stop(
        "Measure from outside",
        "Measure with the {tool}`[fill in: measuring instrument]`: {read}`" + LIMIT + "`.",
        (WHY, ORIGIN),
        ((RIGHT, "test-1", ""), (WRONG, frame.stop, "{not-ok}")),
    )
    return [("Test", [look, measure, *frame.test(), frame.hand_back(), *frame.leave()])]


def _do(what: str) -> str:
    return f"[fill in: {what}, one instruction a sentence]."


def _pass_or_tag(then: str) -> tuple[tuple[str, str, str], ...]:
    return ((RIGHT, then, ""), (WRONG, TAG, "{not-ok}"))


def _closed(frame: Frame) -> Iterable[Stop]:
    text = "Look for tools and old parts. Take them out."
    yield Stop("Take out what is left inside", text, id="close-up")
    yield from frame.close()


def _end(frame: Frame) -> tuple[str, list[Stop]]:
    return "Return to service", [*frame.give_back(), *frame.test(), frame.hand_back(), *frame.leave()]


STAGES: dict[str, Callable[[Frame], Stages]] = {
    "fault-isolation": _fault,
    "adjustment": _adjustment,
    "replacement": _replacement,
    "inspection": _inspection,
    "test": _test,
}
