"""Questions as QTI, GIFT and table: checks of our own, escaping, same bytes."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from tests.training.papers import PICTURES, figures, front, papers, question, quiz

from kilter.publish.training.packages.data import quiz_data
from kilter.publish.training.packages.gift import escaped, gift
from kilter.publish.training.packages.qti import item, qti_package
from kilter.publish.training.packages.qti_check import faults
from kilter.publish.training.packages.table import questions_table
from kilter.publish.training.packages.wire import wire_id
from kilter.publish.training.questions.model import Paper

SIZES = {"pictures/picture-1.jpg": (400, 200)}


def items(tmp_path):
    data = quiz(tmp_path)
    return [item(q) for q in data["papers"][0]["questions"]]


def test_every_item_stands_its_checks(tmp_path):
    made = items(tmp_path)
    assert len(made) == 5
    assert [faults(each, SIZES) for each in made] == [[]] * 5
    kinds = [re.findall(rb"<(\w+Interaction)", each)[0] for each in made]
    assert kinds == [b"choiceInteraction"] * 3 + [b"hotspotInteraction", b"choiceInteraction"]


BROKEN = {
    "key names no choice": ("<value>A", "<value>Z"),
    "no key": (r"<correctResponse>.*?</correctResponse>", ""),
    "two of one identifier": ('identifier="B"', 'identifier="A"'),
    "declared nowhere": ('responseIdentifier="RESPONSE"', 'responseIdentifier="OTHER"'),
    "ordered": ('cardinality="single" baseType="identifier"', 'cardinality="ordered" baseType="identifier"'),
    "no maxChoices": (' maxChoices="1"', ""),
    "words outside": ("<itemBody>", "<itemBody>words"),
    "a script": ("<itemBody>", "<itemBody><script>x()</script>"),
    "identifier with a blank": ('assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p1" identifier="value', 'assessmentItem xmlns="http://www.imsglobal.org/xsd/imsqti_v2p1" identifier="a value'),
    "identifier that begins with a digit": ('identifier="B"', 'identifier="1"'),
    "an empty choice": (r'identifier="B">[^<]*<', 'identifier="B"><'),
    "nothing is asked": (r"<prompt>[^<]*</prompt>", ""),
    "not marked": (r"<responseProcessing[^>]*>", ""),
    "no score": (r"<outcomeDeclaration[^>]*>", ""),
    "one choice": (r'<simpleChoice identifier="[BCD]">[^<]*</simpleChoice>', ""),
    "no title": (r' title="[^"]*"', ""),
    "another standard": ("imsqti_v2p1", "imsqti_v3p0"),
    "no XML": ("</itemBody>", ""),
}  # fmt: skip
POINTS = {
    "circle of two numbers": (r'coords="\d+,', 'coords="'),
    "with decimals": (r'coords="(\d+),', r'coords="\1.5,'),
    "outside": (r'coords="\d+,', 'coords="395,'),
    "no circle": ('shape="circle"', 'shape="rect"'),
    "another size": ('width="400"', 'width="800"'),
    "picture not sent": ('data="pictures/picture-1', 'data="pictures/other'),
    "key names no place": (r"<value>\w", "<value>F"),
}


@pytest.mark.parametrize("name", [*BROKEN, *POINTS])
def test_broken_items_are_refused(tmp_path, name):
    made = items(tmp_path)
    (old, new), whole = (BROKEN[name], made[0]) if name in BROKEN else (POINTS[name], made[3])
    text = re.sub(old, new, whole.decode(), flags=re.DOTALL)
    assert text != whole.decode()
    assert faults(text.encode(), SIZES) != []


def test_the_qti_package_lists_what_travels_and_is_the_same_twice(tmp_path):
    made = qti_package(quiz(tmp_path, forms=2), PICTURES)
    assert qti_package(json.loads(json.dumps(quiz(tmp_path, forms=2))), PICTURES) == made
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        names = set(archive.namelist())
        root = etree.fromstring(archive.read("imsmanifest.xml"))
        listed = {e.get("href") for e in root.iter("{*}file")} | {"imsmanifest.xml"}
        marked = [n for n in names if n.endswith(".jpg") and archive.read(n) != PICTURES["picture-1.jpg"]]
    assert listed == names and sum(n.endswith(".xml") for n in names) == 6
    assert len(marked) == 1, "one place that is asked about is drawn into a picture of its own"


def test_qti_is_valid_by_the_published_schema(tmp_path):
    folder = Path(os.environ.get("KILTER_QTI_XSD", "/nonexistent"))
    if not (folder / "imsqti_v2p1.xsd").is_file():
        pytest.skip("KILTER_QTI_XSD names no folder with imsqti_v2p1.xsd: it is on no registry")
    schema = etree.XMLSchema(etree.parse(str(folder / "imsqti_v2p1.xsd"), etree.XMLParser(no_network=True)))
    for each in items(tmp_path):
        schema.assertValid(etree.fromstring(each))


def unescaped(text: str) -> str:
    return re.sub(r"\\([\\~=#{}:])", r"\1", text).removeprefix("\u200b")


@given(st.text(alphabet=st.characters(blacklist_categories=("Cs", "Cc")), max_size=60))
def test_gift_gives_words_back(words):
    made = escaped(words)
    assert unescaped(made) == " ".join(words.split()).removeprefix("\u200b")
    assert not re.search(r"(?<!\\)(?:\\\\)*[~=#{}:]", made)


def test_gift_holds_every_question_without_a_picture(tmp_path):
    text = gift(quiz(tmp_path)).decode()
    asked = re.findall(r"^::(.*?)::(.*) \{\n((?:  .*\n)+)\}$", text, re.MULTILINE)
    assert [a[1] for a in asked] == ["What is 0?", "What is 1?", "What is 4?"]
    for n, (_, _, rows) in zip((0, 1, 4), asked, strict=True):
        right = [row for row in rows.splitlines() if row.startswith("  =")]
        assert right == [f"  =right {n}.{n % 4}#because {n}.{n % 4}"] and rows.count("  ~") == 3
    assert text.count("// left out, needs its picture") == 2


def test_the_table_is_harmless_in_a_spreadsheet(tmp_path):
    asked = question(0, stem='=HYPERLINK("x")', objectives=("-1",))
    data = quiz_data(front(tmp_path), (Paper("TRN-1", "A", "A", 1, "C", (asked,)),), {})
    raw = questions_table(data)
    assert raw.startswith(b"\xef\xbb\xbf") and raw.count(b"\r\n") == 2
    (row,) = csv.DictReader(io.StringIO(raw.decode("utf-8-sig"), newline=""))
    assert row["question"] == '\'=HYPERLINK("x")' and row["objectives"] == "'-1"
    assert row["right"] == "A" and row["choice A"] == "right 0.0" and row["choice E"] == ""


@given(st.text(max_size=80), st.text(max_size=80))
def test_names_that_travel_are_names_and_stay_apart(one, two):
    for each in (one, two):
        assert re.fullmatch(r"[A-Za-z][A-Za-z0-9._-]{0,199}", wire_id(each))
    assert (wire_id(one) == wire_id(two)) == (one == two)


def test_pictures_of_forms_are_kept_once(tmp_path):
    made = papers(5, 3)
    data = quiz_data(front(tmp_path), made, figures(made))
    assert {q["figure"]["src"] for p in data["papers"] for q in p["questions"] if q["figure"]} == set(SIZES)
