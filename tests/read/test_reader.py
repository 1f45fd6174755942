"""Places are exact, and nothing that is read makes the reader fall over."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE
from tests.read.spans import inside, runs_of, spans_of, text_at, words_at

from kilter.model.document import Document
from kilter.model.reading import Reading
from kilter.model.text import Link, Role, Text
from kilter.read.document import read_bytes, read_text
from kilter.source import Source

BODY = """\
# Über die Prüfung

## Vor Ort

:::{warning} boom, link capacitor
**Crushing.** The boom can drop. It can break a hand. Park it.
:::

### Prüfe μ und Ω
:id: pruefe
:hands: live mains, battery - trimming needs the charger
:go-to: #weiter

Lies *den* Wert: {read}`as found: ≤ 5 µA`, dann {isolates}`battery,  Kondensator`.
Zweite Zeile mit {tool}`torque wrench` und `OK` und [Notiz](https://example.org/a%20b).

- eingerückt
\t- mit Tab {part}`nut`

| Nut | Torque | Again |
|---|---|---|
| {part}`nut` | {torque}`22 ± 2 N·m` | {part}`nut` |
| a \\| b | x | {part}`bolt` |

### Weiter

Look.

- Grün, {item}`fig-a 3, 4`: [Weiter](#weiter)
- Dark:  [Ende](#ende) {not-zero battery, boom}

### Ende
:exit: left as found

Gone.
"""


def _read(body: str, line_end: str = "\n") -> tuple[Source, Document]:
    text = f"---\n{FRONT}---\n{body}"
    reading = read_bytes("a.md", text.replace("\n", line_end).encode())
    assert reading.document is not None, reading.findings
    return reading.source, reading.document


def _roles(document: Document) -> list[Role]:
    return [run for run in runs_of(document) if isinstance(run, Role)]


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_a_heading_is_shown_without_the_blanks_around_it(line_end: str) -> None:
    source, document = _read(BODY, line_end)
    assert text_at(source, document.title_span) == "# Über die Prüfung"
    assert text_at(source, document.stages[0].heading_span) == "## Vor Ort"
    headings = [text_at(source, step.heading_span) for _, step in document.all_steps()]
    assert headings == ["### Prüfe μ und Ω", "### Weiter", "### Ende"]


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_a_role_stands_where_it_says(line_end: str) -> None:
    source, document = _read(BODY, line_end)
    for role in _roles(document):
        assert text_at(source, role.span) == f"{{{role.name}}}`{text_at(source, role.text_span)}`"
        assert text_at(source, role.text_span).strip() == role.text
        assert [text_at(source, name.span) for name in role.names] == [name.text for name in role.names]
    assert len(_roles(document)) == 9


def test_cells_of_one_row_that_hold_the_same_have_their_own_places() -> None:
    source, document = _read(BODY)
    nuts = [role.span for role in _roles(document) if role.text == "nut"]
    row = 1 + source.lines.index("| {part}`nut` | {torque}`22 ± 2 N·m` | {part}`nut` |")
    assert [(span.line, span.column) for span in nuts if span.line == row] == [(row, 3), (row, 40)]


def test_a_cell_behind_an_escaped_bar_has_its_own_place() -> None:
    source, document = _read(BODY)
    bolt = next(role for role in _roles(document) if role.text == "bolt")
    assert text_at(source, bolt.span) == "{part}`bolt`"


def test_a_link_and_its_target_stand_where_they_say() -> None:
    source, document = _read(BODY)
    links = [run for run in runs_of(document) if isinstance(run, Link)]
    assert [text_at(source, link.span) for link in links] == [
        "[Notiz](https://example.org/a%20b)",
        "[Weiter](#weiter)",
        "[Ende](#ende)",
    ]
    assert [text_at(source, link.target_span) for link in links[1:]] == ["#weiter", "#ende"]


def test_names_of_panels_fields_and_failed_proofs_stand_where_they_say() -> None:
    source, document = _read(BODY)
    panel = document.stages[0].panels[0]
    assert text_at(source, panel.word_span) == "warning"
    assert [text_at(source, name.span) for name in panel.sources] == ["boom", "link capacitor"]
    field = document.stages[0].steps[0].field("hands")
    assert field is not None
    assert text_at(source, field.name_span) == "hands"
    assert text_at(source, field.value_span) == "live mains, battery - trimming needs the charger"
    failure = document.stages[0].steps[1].answers[1].failure
    assert failure is not None
    assert text_at(source, failure.span) == "{not-zero battery, boom}"
    assert [text_at(source, name.span) for name in failure.sources] == ["battery", "boom"]


def test_a_wrong_front_value_is_shown_without_its_key() -> None:
    text = f"---\n{FRONT.replace('date: 2026-05-04', 'date:   4. Mai')}---\n# Ä\n"
    reading = read_text(Source("a.md", text))
    assert [text_at(reading.source, found.span) for found in reading.findings] == ["4. Mai"]


def test_a_misspelt_front_key_is_shown_without_its_value() -> None:
    text = f"---\n{FRONT.replace('writers:', 'writrs :')}---\n# Ä\n"
    reading = read_text(Source("a.md", text))
    assert [text_at(reading.source, found.span) for found in reading.findings] == ["writrs"]


def test_a_tab_counts_as_one_column() -> None:
    source, document = _read("# A\n\n## B\n\n### C\n\nSet\tit {part}`x`.\n")
    (role,) = _roles(document)
    assert text_at(source, role.span) == "{part}`x`"
    assert role.span.column == 8


def test_decomposed_letters_keep_their_columns_and_mean_the_same() -> None:
    link = unicodedata.normalize("NFD", "[x](#fällig)")
    source, document = _read(f"# A\n\n## B\n\n### Fällig\n\nSee {link} {{part}}`ü`.\n")
    (found,) = (run for run in runs_of(document) if isinstance(run, Link))
    assert found.target.removeprefix("#") in document.steps
    assert text_at(source, found.span) == link
    assert text_at(source, _roles(document)[0].span) == "{part}`ü`"


def test_plain_words_stand_where_they_say() -> None:
    source, document = _read(SAFE + END)
    for said, there in words_at(source, document):
        assert said == there or (said == " " and there == ""), (said, there)


def test_words_that_repeat_in_a_line_have_their_own_places() -> None:
    _, document = _read("# A\n\n## B\n\n### C\n\nnut {part}`nut` nut *nut* `nut` nut\n")
    plain = [r.span.column for r in runs_of(document) if isinstance(r, Text) and "nut" in r.text]
    assert plain == [1, 16, 22, 32]


def _sound(reading: Reading) -> None:
    outside = [span for span in spans_of(reading) if not inside(reading.source, span)]
    assert outside == []
    assert [found.message for found in reading.findings if found.rule == "tool-fault"] == []


SNIPPETS = st.sampled_from(
    """# A|## B|## B {shared}|### C|#### D|---|:id: x|:hands: inside|:go-to: #c|:exit: left as found|:do: b|:zone:
Undo {part}`nut`.|{isolates}`battery, boom`|{read}`≥ 5 V`|{torque}``5 ` N·m``|{x}`y`|{shared}|{not-zero}|{a
:::{warning} boom|:::{figure} a.png|:::|::::|:::{calc}|:1: 1,2 Nut|:alt: A nut.|- one|  - two|1. three|> quote|>> deep
- Green: [C](#c)|- Dark: [D](#d) {not-ok}|[x](y|[x](<y z>)|[x]: y|<https://x>|![p](q)|**bold**|*em|_a_b_|`code|``c`d``
| a | b ||---|---|| {part}`x` | \\| ||<b>|<!-- allow x: a b c d -->|<!--|-->|&amp;|&#0;|\\{|\\`|é ß 中 😀|\t tab|    code|```
===|***|x  |\\||$|{|}|{}|{ }|[fill in: x]|kind: procedure|a: [b|'""".replace("\n", "|").split("|")
)
JOINERS = st.sampled_from(["\n", "\n\n", " ", "", "\r\n", "\n    ", "\n> "])
MIXES = st.lists(st.tuples(SNIPPETS, JOINERS), max_size=30).map(
    lambda parts: "".join(a + b for a, b in parts)
)
SETTINGS = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@SETTINGS
@given(st.binary(max_size=400))
def test_no_bytes_make_the_reader_fall_over(data: bytes) -> None:
    _sound(read_bytes("a.md", data))


@SETTINGS
@given(MIXES)
@example("# A\n> :::{warning} boom\n> ")
def test_no_mix_of_the_syntax_makes_the_reader_fall_over(text: str) -> None:
    _sound(read_bytes("a.md", f"---\n{FRONT}---\n{text}".encode()))


@SETTINGS
@given(MIXES)
def test_no_front_matter_makes_the_reader_fall_over(text: str) -> None:
    _sound(read_bytes("a.md", f"---\n{text}\n---\n# A\n".encode()))


@SETTINGS
@given(st.text(max_size=60), st.integers(0, 400))
def test_nothing_put_into_a_sound_file_makes_the_reader_fall_over(more: str, at: int) -> None:
    for text in (f"---\n{PROFILE}---\n{PROFILE_BODY}", f"---\n{FRONT}---\n{SAFE}{END}"):
        where = at * len(text) // 400
        _sound(read_bytes("a.md", (text[:where] + more + text[where:]).encode("utf-8", "surrogatepass")))


def test_a_place_never_lies_past_its_row() -> None:
    """YAML names a column past the end when a quote is left open; the place stays inside the file."""
    found = read_bytes("a.md", b"---\n:id: x\n'\n'\n---\n").findings
    assert found
    rows = ["---", ":id: x", "'", "'", "---", ""]
    assert all(f.span.end_column <= len(rows[f.span.end_line - 1]) + 1 for f in found)
