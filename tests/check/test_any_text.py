"""Whatever the reader lets through, the rules say something about it or nothing, and never fall over."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE

from kilter.check.run import check_library
from kilter.model.library import Library
from kilter.read.document import read_bytes

PARTS = st.sampled_from(
    [
        "## Work\n",
        "## Grease {shared}\n",
        "### Undo it\n",
        "### Undo it\n:id: undo\n",
        "### Do it\n:do: grease\n",
        "### Do all\n:do: isolate-everything\n",
        "### Leave\n:exit: left locked out, tagged\n",
        "### Serve\n:exit: returned to service\n",
        "### Jump\n:go-to: #undo-it\n",
        "### Return\n:go-to: #back\n",
        ":hands: live battery - trimming needs the pack in\n",
        ":hands: controls\n",
        ":clear-of: boom, spring - they are behind the plate\n",
        ":zone: side\n",
        ":switch: door switch, from click\n",
        "Take the pack out and lock it: {isolates}`battery`.\n",
        "Pull: {releases}`spring` {proves}`spring, boom, capacitor`.\n",
        "Push it in: {restores}`battery`. Wind it: {loads}`spring`.\n",
        "Lift the {removes}`side cover` off. Fit the {refits}`side cover`.\n",
        "Run it ({runs-on}`battery`): {tests}`full run, lamp test`.\n",
        "Wait {wait}`5 min`. Wait {wait}`a while`.\n",
        "Set {set}`8.0 ± 0.1 mm`, {torque}`5 N`, {read}`as found: ≤ 5 V`, {read}`5 ± V`.\n",
        "See {item}`fig-a 1, 2` and {tool}`torque wrench` and {part}`actuatr`.\n",
        "See [this](#undo-it), [that](BENCH-1), [the web](https://x.org) and [no](a/b).\n",
        "- Green: [Undo](#undo-it)\n- Dark: [Leave](#leave) {not-zero battery}\n",
        "- Green: [Back](#back)\n- Dark: [Leave](#leave) {not-ok}\n",
        ":::{danger} battery, boom\n**Arc.** It can burn a hand. Take it out.\n:::\n",
        ":::{figure} a.png\n:id: fig-a\n:alt: A nut.\n:1: 5,5 Nut\n:::\n",
        "| a | b |\n|---|---|\n| {isolates}`boom` | x |\n",
    ]
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(PARTS, max_size=16), st.booleans())
def test_no_text_makes_a_rule_fall_over(parts: list[str], framed: bool) -> None:
    body = "\n".join(parts)
    text = f"{SAFE}\n{body}\n{END}" if framed else f"# Change the worn part\n\n{body}"
    library = Library(Path("procedures"))
    library.add(read_bytes("rig.md", f"---\n{PROFILE}---\n{PROFILE_BODY}".encode()))
    library.add(read_bytes("a.md", f"---\n{FRONT}---\n{text}".encode()))
    assert [d.message for d in check_library(library).all() if d.rule == "tool-fault"] == []
