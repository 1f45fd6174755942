"""`kilter data`: all of a document, taken apart rightly, and nothing of one that has errors."""

import json
import re

import pytest
from tests.demo import CHARGE, PROFILE, SOUND, edit

from kilter.cli import main


@pytest.fixture
def told(capsys):
    def run(*words):
        capsys.readouterr()
        code = main([*map(str, words)])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def data(told):
    def run(file):
        code, out, err = told("data", file)
        assert (code, err) == (0, "")
        return json.loads(out)

    return run


def steps(document):
    return {s["number"]: s for stage in document["stages"] for s in stage["steps"]}


@pytest.mark.parametrize("file", SOUND)
def test_the_ways_on_are_those_of_the_energy_graph(library, data, told, file):
    """The graph that the proof walks over is made by other code, from the same document."""
    document = data(file)
    links = json.loads(told("states", "--format", "json", file)[1])["links"]
    first = {stage["number"]: stage["steps"][0]["number"] for stage in document["stages"]}
    onward = ("same", "stage", "call")
    for number, step in steps(document).items():
        theirs = {k["to"] for k in links if k["start"] == number and k["kind"] in onward}
        said = {a["to"] for a in step["answers"]} | {step["goTo"], step["next"]}
        mine = said - {""} | ({first[step["does"]]} if step["does"] else set())
        assert mine == theirs, number
        texts = {k["answer"] for k in links if k["start"] == number and k["answer"]}
        assert {a["text"] for a in step["answers"]} == texts, number


@pytest.mark.parametrize("file", SOUND)
def test_a_step_goes_on_in_one_manner_only(library, data, file):
    for number, step in steps(data(file)).items():
        ways = [
            bool(step["answers"]),
            bool(step["exit"]),
            bool(step["goTo"]),
            bool(step["next"]),
            step["back"],
        ]
        assert sum(ways) == 1, number


@pytest.mark.parametrize("file", SOUND)
def test_states_are_those_that_the_reviewer_is_shown(library, data, told, file):
    shown = json.loads(told("states", "--format", "json", file)[1])
    worst = {
        (step["number"], line["source"]): line["level"]
        for stage in shown["stages"]
        for step in stage["steps"]
        for line in step["sources"]
    }
    levels = {"live": 0, "proved zero": 3}
    seen = 0
    for number, step in steps(data(file)).items():
        for state in step["states"]:
            if state["state"] in levels:
                assert worst[number, state["source"]] == levels[state["state"]], (number, state)
                seen += 1
    assert seen


@pytest.mark.parametrize("file", SOUND)
def test_no_word_is_lost(library, data, file):
    text = (library / file).read_text(encoding="utf-8").split("---\n", 2)[2]
    text = re.sub(r"<!--.*?-->", " ", text, flags=re.DOTALL)
    text = re.sub(r"^:(id|go-to|do):.*$|^:hands: [a-z]+|^:{3,}.*$", " ", text, flags=re.MULTILINE)
    text = re.sub(r"\]\([^)]*\)|\{[\w-]+\}|^:[\w-]+:|^:\d+: [\d.]+, ?[\d.]+", " ", text, flags=re.MULTILINE)
    wanted = set(re.findall(r"[^\W\d_]{3,}", text))
    held = {w.lower() for w in re.findall(r"[^\W\d_]{3,}", json.dumps(data(file), ensure_ascii=False))}
    assert len(wanted) > 80
    assert {w for w in wanted if w.lower() not in held} == set()


def test_values_are_taken_apart(library, data):
    """As they stand in the demo's text: 1.2 ± 0.1 N·m, 27.3 ± 0.3 V, ≥ 25.2 V."""
    found = {v["name"] or v["mark"]: v for s in steps(data(CHARGE)).values() for v in s["values"]}
    assert found["torque"]["quantity"] == {
        "form": "plus-minus", "unit": "N·m", "dimension": "torque", "nominal": 1.2, "low": 1.1, "high": 1.3,
    }  # fmt: skip
    assert (
        found["dock output"]["quantity"]["low"] == 27.0 and found["dock output"]["quantity"]["high"] == 27.6
    )
    assert found["pack at rest"]["quantity"]["high"] is None
    assert found["pack at rest"]["text"] == "pack at rest: ≥ 25.2 V"


def test_effects_failures_and_exits(library, data):
    by_number = steps(data(CHARGE))
    assert by_number["2.2"]["effects"] == [
        {"effect": "removes", "names": ["mast cover"]},
        {"effect": "removes", "names": ["base cover"]},
    ]
    proof = by_number["A.5"]
    assert {name for e in proof["effects"] for name in e["names"]} == {s["source"] for s in proof["states"]}
    assert [a["failed"] for a in proof["answers"]] == ["", "not-zero", "not-zero"]
    assert by_number["1.2"]["answers"][0]["link"] == "No fault found"
    assert [a["back"] for a in proof["answers"]] == [True, False, False]
    assert by_number["1.3"]["exit"] == "Left as found"
    assert by_number["2.1"]["does"] == "A" and by_number["2.1"]["next"] == "2.2"


def test_every_kind_of_block_and_run(library, data):
    odd = """Some **bold *and stressed* words**, `a legend`, a [page](https://example.invalid/x).\\
New line.

1. one
2. two

| Sign | Meaning |
|---|---|
| red | *stop* |

> Somebody said so.

```
as it  stands
```

"""
    edit(library, "Press each pad in with", odd + "Press each pad in with")
    blocks = next(s for s in steps(data(CHARGE)).values() if s["title"] == "Look at the pads")["blocks"]
    kinds = [b["kind"] for b in blocks]
    assert kinds == ["paragraph", "list", "table", "quote", "verbatim", "paragraph", "figure"]
    runs = blocks[0]["runs"]
    assert [r["kind"] for r in runs[:6]] == ["text", "strong", "text", "code", "text", "link"]
    assert runs[1]["runs"][1] == {"kind": "emphasis", "runs": [{"kind": "text", "text": "and stressed"}]}
    assert {"kind": "break"} in runs
    assert blocks[0]["text"].endswith("a page. New line.")
    assert blocks[1]["ordered"] and [i[0]["text"] for i in blocks[1]["items"]] == ["one", "two"]
    assert blocks[2]["rows"][0][1]["runs"][0]["kind"] == "emphasis"
    assert blocks[4]["text"].strip() == "as it  stands"
    marks = [r["mark"] for s in steps(data(CHARGE)).values() for b in s["blocks"] if b["kind"] == "paragraph"
             for r in b["runs"] if r["kind"] == "mark"]  # fmt: skip
    assert {"wait", "read", "item", "tool", "removes"} <= set(marks)


def test_figures_are_told_once_and_named_where_they_stand(library, data):
    document = data(CHARGE)
    (figure,) = [f for f in document["figures"] if f["id"] == "fig-path"]
    assert figure["path"] == "procedures/lift/pictures/charge-path.svg"
    assert len(figure["items"]) == 9
    assert figure["items"][0] == {"number": 1, "x": 331.0, "y": 996.0, "label": "Dock plunger"}
    assert steps(document)["1.1"]["figures"] == [figure["number"]]
    assert {"kind": "figure", "number": figure["number"]} in steps(document)["1.1"]["blocks"]
    assert figure["width"] > 0 and re.fullmatch("[0-9a-f]{64}", figure["sha256"])


def test_a_panel_names_sources_as_the_profile_writes_them(library, data):
    edit(library, ":::{warning} battery, boom,", ":::{warning} Battery, BOOM,")
    panel = next(b for stage in data(CHARGE)["stages"] for b in stage["blocks"] if b.get("word") == "warning")
    assert panel["sources"] == ["battery", "boom", "spreader spring"]


def test_hash_and_page_are_those_that_are_published(library, data, told):
    told("build", "--quiet")
    built = json.loads((library / "out" / "built.json").read_text(encoding="utf-8"))["documents"]
    for file in SOUND:
        document = data(file)
        published = built[document["number"]]
        assert (document["hash"], document["revision"]) == (published["hash"], published["revision"])
        assert published["page"] == f"site/{document['page']}"
        page = (library / "out" / published["page"]).read_text(encoding="utf-8")
        assert all(f'id="{step["anchor"]}"' in page for step in steps(document).values())


def test_same_document_same_bytes(library, told):
    first = told("data", CHARGE)
    assert told("data", CHARGE) == first
    assert first[1].endswith("}\n") and '"status": "draft"' in first[1]


def test_what_has_errors_is_not_written(library, told):
    edit(library, "### Make safe for the fuse\n:do: make-safe", "### Make safe for the fuse\n\nPress it.")
    code, out, err = told("data", CHARGE)
    assert (code, out) == (1, "")
    assert "open-before-released]" in err and "is not written before these are mended" in err


def test_what_stands_on_a_profile_with_errors_is_not_written(library, told):
    """The document itself has none, and is held back all the same, as the build does."""
    edit(library, "## ", "See [the leaflet](GONE-1).\n\n## ", PROFILE)
    assert told("check", CHARGE)[0] == 0
    code, out, err = told("data", CHARGE)
    assert (code, out) == (1, "")
    assert f"{PROFILE}:" in err and "procedure-link]" in err


@pytest.mark.parametrize(
    ("name", "text", "code", "words"),
    [
        (PROFILE, None, 2, "an equipment profile"),
        ("procedures/none.md", None, 2, "no such file"),
        ("procedures", None, 2, "no such file"),
        ("procedures/odd.md", b"\xff\xfe\x00", 1, "wrong-encoding]"),
        ("procedures/odd.md", b"", 1, "procedures/odd.md"),
        ("procedures/odd.md", b"---\nkind: [\n---\n", 1, "front-matter]"),
    ],
)
def test_what_is_no_document_is_said(library, told, name, text, code, words):
    if text is not None:
        (library / name).write_bytes(text)
    found = told("data", name)
    assert found[:2] == (code, "")
    assert words in found[2] and "Traceback" not in found[2]
