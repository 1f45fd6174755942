"""Random cards: no step is split or parted from its panels, panels come back on each page, nothing is cut off."""

from __future__ import annotations

import os
import random
import shutil
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

import pytest

from kilter.publish.cards.data import card_data
from kilter.publish.cards.make import main_card
from kilter.publish.cards.problems import CardProblems
from kilter.publish.cards.template import FOLDER, Template

from .cards_frame import Word, check, draw_picture, procedure, view, words

CARDS = int(os.environ.get("KILTER_CARDS", "20"))
"""How many random cards are made; more for a longer look."""
EDGE = 8.9
"""Free of print on each side, mm."""
SHEETS = {"procedure": (148, 210), "check": (297, 210)}
SENTENCE = "Undo the nut with the key and lay it on the cloth beside the lift"


@dataclass
class Marked:
    """The marker words of one random document: each stands at the start and the end of what it marks."""

    steps: list[str] = field(default_factory=list)
    panels: dict[str, list[str]] = field(default_factory=dict)
    """By step: the step's own and its stage's."""
    stages: dict[str, list[str]] = field(default_factory=dict)
    text: str = ""


def panel(name: str, chance: random.Random) -> str:
    """Some can be said shortly when they are printed again, some can't; their markers stand in both."""
    word = chance.choice(("danger", "warning", "caution", "notice"))
    body = f"It can kill. {SENTENCE}" if chance.random() < 0.7 else f"{SENTENCE}."
    return f":::{{{word}}} mains\n**{name}a shock.** {body} {name}z.\n:::\n\n"


def step(name: str, chance: random.Random, lines: bool) -> str:
    text = " ".join(f"{SENTENCE}." for _ in range(chance.randint(1, 4)))
    if chance.random() < 0.3:
        text += " Measure the play: {read}`play: ≤ 0.4 mm`. Tighten to {torque}`22 ± 2 N·m`."
    if chance.random() < 0.2:
        text += "\n\n:::{figure} strut.png\n:alt: A strut.\n:1: 80,70 Upper pin\n:2: 330,230 Lower pin\n:::\n"
    if lines or chance.random() < 0.4:
        return text + f"\n\n- It is so: [Last](#last)\n- It is not so {name}z: [Last](#last)\n\n"
    return text + f" {name}z.\n\n"


def document(seed: int, kind: str) -> Marked:
    """A document of 1 to 4 stages with up to 2 panels each and up to 8 steps, by chance."""
    chance, made, parts = random.Random(seed), Marked(), []
    for s in range(chance.randint(1, 4)):
        own = [f"Zq{s}{p}" for p in range(chance.randint(0, 2))]
        parts += [f"## Stage Zs{s}\n\n", *(panel(name, chance) for name in own)]
        made.stages[f"Zs{s}"] = []
        for t in range(chance.randint(1, 8)):
            name = f"Zt{s}{t}"
            mine = [f"Zp{s}{t}"] if chance.random() < 0.3 else []
            parts += [f"### {name}a do\n\n", *(panel(n, chance) for n in mine)]
            parts.append(step(name, chance, kind == "check" and chance.random() < 0.8))
            made.steps.append(name)
            made.stages[f"Zs{s}"].append(name)
            made.panels[name] = [*own, *mine]
    parts.append("## End\n\n### Last\n:exit: left as found\n\nStop.\n")
    made.text = (check if kind == "check" else procedure)("".join(parts))
    return made


def faults(made: Marked, seen: list[Word], sheet: tuple[int, int]) -> list[str]:
    """Everything that is wrong with the layout of a card."""
    found = [f"{w.text} reaches over the edge of page {w.page}" for w in seen if outside(w, sheet)]
    at: dict[str, list[Word]] = {}
    for word in seen:
        at.setdefault(word.text.strip(".:"), []).append(word)
    for name in made.steps:
        start, end = at.get(f"{name}a", []), at.get(f"{name}z", [])
        if len(start) != 1 or len(end) != 1 or start[0].page != end[0].page:
            found.append(f"{name} is split or cut off")
            continue
        for other in made.panels[name]:
            if not before(at, other, start[0]):
                found.append(f"{name} stands without its panel {other}")
    found += [f"heading {s} is left behind" for s, own in made.stages.items() if left_behind(at, s, own)]
    return found


def outside(word: Word, sheet: tuple[int, int]) -> bool:
    width, height = sheet
    return min(word.left, word.top) < EDGE or word.right > width - EDGE or word.bottom > height - EDGE


def before(at: dict[str, list[Word]], name: str, step: Word) -> bool:
    """Whether the whole panel stands above the step on its page."""
    ends = [[w for w in at.get(f"{name}{e}", []) if w.page == step.page and w.top < step.top] for e in "az"]
    return all(len(each) == 1 for each in ends)


def left_behind(at: dict[str, list[Word]], stage: str, steps: list[str]) -> bool:
    pages = {w.page for w in at.get(stage, [])}
    starts = {w.page for s in steps for w in at.get(f"{s}a", [])}
    return not starts <= pages or min(pages) not in starts


@pytest.mark.parametrize("seed", range(CARDS))
@pytest.mark.parametrize("kind", ["procedure", "check"])
def test_random_cards(kind: str, seed: int, tmp_path: Path) -> None:
    """Whatever the lengths, the layout has no fault."""
    draw_picture(tmp_path / "strut.png")
    made = document(seed, kind)
    card = main_card(view(tmp_path, made.text))
    assert faults(made, words(card), SHEETS[kind]) == []


def test_random_cards_do_run_over_pages(tmp_path: Path) -> None:
    """The test above sees what it is about: stages that go on over a page's end, with panels."""
    draw_picture(tmp_path / "strut.png")
    again = 0
    for seed in range(6):
        made = document(seed, "procedure")
        card = main_card(view(tmp_path, made.text))
        again += sum(w.text == "(continued)" for w in words(card))
    assert again >= 6


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("if n > 0 and r.need > left", "if false", "over the edge"),
        ("page = (again.body,)", "page = ()", "without its panel"),
        ("{ short-panel(p) }", "{}", "without its panel"),
    ],
)
def test_faults_are_seen(old: str, new: str, fault: str, tmp_path: Path) -> None:
    """With a rule of the template switched off, the same look finds faults."""
    folder = tmp_path / "cards"
    shutil.copytree(FOLDER, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    steps = folder / "steps.typ"
    assert old in steps.read_text(encoding="utf-8")
    steps.write_text(steps.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    draw_picture(tmp_path / "strut.png")
    template, found = Template("procedure.typ", folder), []
    for seed in range(6):
        made = document(seed, "procedure")
        found += faults(
            made, words(template.pdf(card_data(view(tmp_path, made.text), 148, 210))), SHEETS["procedure"]
        )
    assert any(fault in f for f in found), found


@pytest.mark.parametrize("kind", ["procedure", "check"])
def test_heights_that_are_noted_are_those_that_would_be_measured(kind: str, tmp_path: Path) -> None:
    """Without the notes every height is measured each time: the card is the same to the byte."""
    folder = tmp_path / "cards"
    shutil.copytree(FOLDER, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    steps = folder / "steps.typ"
    text, old = steps.read_text(encoding="utf-8"), "if name in size.noted {"
    assert text.count(old) == 1
    steps.write_text(text.replace(old, "if false {"), encoding="utf-8")
    draw_picture(tmp_path / "strut.png")
    template, plain = Template(f"{kind}.typ"), Template(f"{kind}.typ", folder)
    for seed in range(100, 105):
        data = card_data(view(tmp_path, document(seed, kind).text), *SHEETS[kind])
        assert template.pdf(data) == plain.pdf(data)


@pytest.mark.parametrize(("kind", "most"), [("procedure", 60), ("check", 140)])
def test_too_tall_is_refused_never_cut(kind: str, most: int, tmp_path: Path) -> None:
    """A step that grows is whole on its page until it is refused, and then it stays refused."""
    outcomes = []
    for sentences in range(most // 3, most, most // 30):
        body = f"## Do\n\n### Zt00a do\n\n{f'{SENTENCE}. ' * sentences} Zt00z.\n\n### Last\n:exit: left as found\n\nStop.\n"
        made = Marked(
            steps=["Zt00"], panels={"Zt00": []}, text=(check if kind == "check" else procedure)(body)
        )
        try:
            card = main_card(view(tmp_path, made.text))
        except CardProblems as trouble:
            (found,) = trouble.findings
            assert found.rule == "step-too-tall"
            outcomes.append(False)
        else:
            assert faults(made, words(card), SHEETS[kind]) == []
            outcomes.append(True)
    assert outcomes[0]
    assert not outcomes[-1]
    assert all(before or not after for before, after in pairwise(outcomes))


def test_a_figure_shrinks_before_its_step_is_refused(tmp_path: Path) -> None:
    """Beside a short text a picture is large, beside a long one small; the step stays whole."""
    draw_picture(tmp_path / "strut.png")
    heights = []
    for sentences in (2, 24):
        figure = ":::{figure} strut.png\n:alt: A strut.\n:1: 80,30 Upper\n:2: 330,290 Lower\n:::\n"
        body = f"## Do\n\n### Zt00a do\n\n{f'{SENTENCE}. ' * sentences} Zt00z.\n\n{figure}"
        made = Marked(
            steps=["Zt00"],
            panels={"Zt00": []},
            text=procedure(f"{body}\n### Last\n:exit: left as found\n\nStop.\n"),
        )
        card = main_card(view(tmp_path, made.text))
        seen = words(card)
        assert faults(made, seen, SHEETS["procedure"]) == []
        (page,) = {w.page for w in seen if w.text == "Zt00a"}
        numbers = [w.top for w in seen if w.text in "12" and w.page == page and w.left > 15 and w.top > 40]
        heights.append(max(numbers) - min(numbers))
    assert heights[0] > heights[1] + 5


def test_a_figure_gets_a_little_smaller_before_it_leaves_its_page(tmp_path: Path) -> None:
    """As the step before it grows, the figure is large, then smaller on the same page, then large on the next."""
    draw_picture(tmp_path / "strut.png")
    figure = ":::{figure} strut.png\n:alt: A strut.\n:1: 80,30 Upper\n:2: 330,290 Lower\n:::\n"
    found = []
    for sentences in range(2, 20):
        first = f"### Zt00a do\n\n{f'{SENTENCE}. ' * sentences} Zt00z.\n\n"
        body = f"## Do\n\n{first}### Zt01a do\n\nDo it. Zt01z.\n\n{figure}"
        made = Marked(
            steps=["Zt00", "Zt01"],
            panels={"Zt00": [], "Zt01": []},
            text=procedure(f"{body}\n### Last\n:exit: left as found\n\nStop.\n"),
        )
        seen = words(main_card(view(tmp_path, made.text)))
        assert faults(made, seen, SHEETS["procedure"]) == []
        (page,) = {w.page for w in seen if w.text == "Zt01a"}
        numbers = [w.top for w in seen if w.text in "12" and w.page == page and w.left > 15 and w.top > 40]
        found.append((page, round(max(numbers) - min(numbers))))
    pages, (large, *_) = [page for page, _ in found], [high for _, high in found]
    assert pages == sorted(pages) and pages[0] < pages[-1]
    assert {high for page, high in found if page == pages[-1]} == {large}
    here = [high for page, high in found if page == pages[0]]
    assert here == sorted(here, reverse=True) and large > here[-1] > large / 2


@pytest.mark.parametrize(
    ("start", "line", "words"),
    [("{panel}## Do\n\n", 10, "panel above the first stage"), ("## Do\n\n{panel}", 14, "step `Step`")],
)
def test_too_tall_panels_are_refused(start: str, line: int, words: str, tmp_path: Path) -> None:
    """A panel that fills a page is refused where it stands above everything, and at the steps it would stand above."""
    panel = f":::{{warning}} mains\n**Shock.** {'It kills at once. ' * 300}\n:::\n\n"
    text = procedure(f"{start.format(panel=panel)}### Step\n:exit: left as found\n\nStop.\n")
    with pytest.raises(CardProblems) as refused:
        main_card(view(tmp_path, text))
    first = refused.value.findings[0]
    assert first.rule == "step-too-tall"
    assert first.message.startswith(words)
    assert "panel" in first.help
