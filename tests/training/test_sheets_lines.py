"""Sign-off lines and the cards that are handed over, against the plan of the phone and against the limits."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.publish.cards_family_frame import ROOT, demo
from tests.publish.cards_frame import procedure, view

from kilter.compute.reading import parse_reading
from kilter.publish.run.plan import plan_of
from kilter.publish.training.paper.found import shown
from kilter.publish.training.paper.graph import ways_of
from kilter.publish.training.paper.lines import sign_off_steps
from kilter.publish.training.paper.signoff import read_through, talked_through
from kilter.publish.training.standing.today import documents_today
from kilter.publish.view import DocumentView
from kilter.read.library import read_library

TODAY = documents_today(read_library(ROOT / "procedures", base=ROOT))
DOCUMENTS = [s for s in demo() if isinstance(s, DocumentView)]
ANSWERS = [
    (step, answer.index)
    for document in DOCUMENTS
    for stage in document.stages
    for step in stage.steps
    for answer in step.answers
]


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda v: v.number)
def test_every_control_and_value_of_the_way_has_its_line(document):
    plan = {s["anchor"]: s for s in plan_of(document)["steps"]}
    way = ways_of(document).ways[0]
    by_number = {s["number"]: s for s in sign_off_steps(document, way)}
    for turn in way.turns:
        step, own = plan[turn.step.anchor], by_number.get(turn.step.number)
        lines = own["lines"] if own else []
        said = [line["what"] for line in lines if line["control"]]
        for name in (n for kind, names in step["effects"] if not step["do"] for n in names if kind != "wait"):
            assert any(name.casefold() in words.casefold() for words in said), (turn.step.number, name)
        assert sum(words.startswith("Waits:") for words in said) == len(step["waits"])
        assert sum(words.startswith("Stops and lets") for words in said) == bool(step["hold"])
        assert {r["limits"] for r in step["readings"]} <= {x["limits"].partition(" (")[0] for x in lines}
        assert own is None or own["hash"] == step["hash"]
        if turn.answer is not None:
            assert any(line["what"].startswith("Given “") for line in lines)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda v: v.number)
def test_what_the_way_does_not_see_is_talked_through(document):
    way = ways_of(document).ways[0]
    seen = {(t.step.anchor, t.answer) for t in way.turns}
    others = [
        a for g in document.stages for s in g.steps for a in s.answers if (s.anchor, a.index) not in seen
    ]
    assert len(talked_through(document, way)) == len(others)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda v: v.number)
def test_the_sheet_covers_every_step_that_a_signature_stands_for(document):
    """`kilter training sign` writes a row for each step of the document: each has its place on the sheet, with its facts."""
    way = ways_of(document).ways[0]
    lists = (sign_off_steps(document, way), talked_through(document, way), read_through(document, way))
    on_sheet = {(s["number"], s["hash"]) for found in lists for s in found}
    asked = {(s["number"], s["hash"]) for s in plan_of(document)["steps"]}
    assert on_sheet == asked
    assert {digest for _, digest in on_sheet} == set(TODAY[document.number.casefold()].steps.values())


def test_a_number_handed_over_is_on_the_side_that_the_answer_says():
    """The answer's mark and words are the outside fact: fails where it is marked or says so, passes else."""
    judged = 0
    for step, index in ANSWERS:
        card = shown(step, index)
        if not card.meter:
            continue
        (role,) = [r for r in step.step.roles if r.name == "read"]
        limit = parse_reading(role.text).quantity
        value = Decimal(card.meter.rpartition(": ")[2].split(" ")[0])
        inside = (limit.low is None or value >= limit.low) and (limit.high is None or value <= limit.high)
        answer = step.step.answers[index]
        says_bad = "utside" in answer.words or (
            answer.failure is not None and answer.failure.mark == "not-ok"
        )
        says_bad |= limit.low is None and answer.words.startswith("More than")
        assert inside is not says_bad, (answer.words, card.meter)
        assert value not in (limit.low, limit.high)
        judged += 1
    assert judged >= 30


@pytest.mark.parametrize(
    ("reading", "words", "meter", "more"),
    [
        ("play: 8.0–8.3 mm", "Outside 8.0 to 8.3 mm", "play: 8.6 mm", ""),
        ("play: 8.0–8.3 mm", "Inside 8.0 to 8.3 mm", "play: 8.1 mm", ""),
        ("dock: 27.3 ± 0.3 V", "Outside the limits", "dock: 28.2 V", ""),
        ("drop: ≤ 0.2 V", "More than 0.2 V, so the fuse is open", "drop: 0.30 V", "More than 0.2 V, so the fuse is open"),
        ("pack: ≥ 25.2 V", "Less than 25.2 V", "pack: 18.90 V", ""),
        ("pack: ≥ 25.2 V", "25.2 V or more", "pack: 27.72 V", ""),
        ("pack: ≥ 25.2 V", "Less than 24 V", "", "Less than 24 V"),
        ("pack: ≥ 25.2 V", "It hums", "", "It hums"),
        ("offset: -0.5–0.5 V", "Outside the limits", "", "Outside the limits"),
    ],
)  # fmt: skip
def test_a_number_is_handed_over_only_where_the_words_prove_it(tmp_path, reading, words, meter, more):
    body = f"## Look\n\n### Read it\n\nRead it: {{read}}`{reading}`.\n\n- {words}: [End](#end)\n- Else: [End](#end)\n\n### End\n:exit: left as found\n\nStop.\n"
    step = view(tmp_path, procedure(body)).stages[0].steps[0]
    assert shown(step, 0) == type(shown(step, 0))(meter, more)


def test_two_readings_hand_over_words_alone(tmp_path):
    body = "## Look\n\n### Read it\n\nRead {read}`a: ≤ 1 V` and {read}`b: ≤ 1 V`.\n\n- Inside the limits: [End](#end)\n- 1 V or less: [End](#end)\n\n### End\n:exit: left as found\n\nStop.\n"
    step = view(tmp_path, procedure(body)).stages[0].steps[0]
    assert [shown(step, n).meter for n in (0, 1)] == ["", ""]
