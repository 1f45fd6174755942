"""`kilter calc`: every calculation by its own example, wrong input in words, JSON that says the same."""

import json

import pytest

from kilter.cli import main
from kilter.cli.calc import SUMMARIES
from kilter.compute.calculation import NAMES, calculator

SOUND = {
    "torque": ["--fastener", "M8 8.8", "--torque", "22 ± 2 N·m"],
    "setting": ["--op", "8.8 ± 0.2 mm", "--ot", "1.2 mm", "--set", "7.9 ± 0.05 mm"],
    "stack": ["--part", "+ case: 40.00 ± 0.10 mm", "--part", "− lever: 10.00 ± 0.05 mm"],
    "bleed": ["--capacitance", "470 µF ± 20 %", "--resistance", "10 kΩ", "--from", "400 V", "--wait", "30 s"],
    "battery": ["--chemistry", "lead-acid AGM", "--capacity", "12 Ah", "--use", "standby: 0.08 A, 22 h"],
    "fuse": ["--rating", "3.15 A", "--load", "1.8 A"],
    "cable": ["--size", "0.75 mm²", "--length", "3 m", "--current", "8 A"],
    "hydraulic": ["--bore", "40 mm", "--mass", "250 kg"],
    "leakage": ["--measure", "insulation", "--class", "I", "--read", "20 MΩ"],
    "reading": ["--limit", "≤ 0.3 Ω", "--read", "0.27 Ω", "--uncertainty", "0.02 Ω"],
}


def test_every_calculation_is_tried_here():
    assert set(SOUND) == set(NAMES) == set(SUMMARIES)


@pytest.mark.parametrize("name", NAMES)
def test_the_list_says_what_the_calculator_says(name):
    assert SUMMARIES[name] == calculator(name).summary
    assert calculator(name).name == name


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_has_formula_source_and_the_word_of_caution(name, capsys):
    assert main(["calc", name, *SOUND[name]]) == 0
    said = capsys.readouterr().out
    for word in ("formula:", "source:", "service manual"):
        assert word in said


@pytest.mark.parametrize("name", NAMES)
def test_json_says_the_same_as_the_text(name, capsys):
    main(["calc", name, *SOUND[name]])
    text = capsys.readouterr().out
    main(["calc", name, *SOUND[name], "--json"])
    data = json.loads(capsys.readouterr().out)
    assert data["calculation"] == name
    for line in data["lines"]:
        assert line["name"] in text and line["text"] in text
    assert data["formula"] in text and data["source"] in text
    assert all(a in text for a in (*data["assumptions"], *data["cautions"]))


@pytest.mark.parametrize("name", NAMES)
def test_help_names_every_input(name, capsys):
    with pytest.raises(SystemExit):
        main(["calc", name, "--help"])
    said = capsys.readouterr().out
    assert all(f"--{i.name}" in said for i in calculator(name).inputs)


@pytest.mark.parametrize(
    "hostile",
    ["nan", "inf mm", "1e400 mm", "8,8 mm", "~8 mm", "8 ± −1 mm", "9–8 mm", "8 N", "", " ", "8 ｍm", "9" * 10_000 + " mm",
     "8 mm; rm", "\x00", "8 mm " * 1000],
)  # fmt: skip
@pytest.mark.parametrize("name", NAMES)
def test_hostile_values_are_refused_in_words(name, hostile, capsys):
    """Each input of each calculation in turn, the others sound."""
    for wanted in calculator(name).inputs:
        if wanted.kind == "words" and wanted.name in ("standard", "cord"):
            continue  # any words are words there
        sound = dict(zip(SOUND[name][::2], SOUND[name][1::2], strict=True))
        given = [text for pair in ({**sound, f"--{wanted.name}": hostile}).items() for text in pair]
        if wanted.name == "table" and wanted.kind == "words" and not wanted.many:
            continue  # a file's name
        if hostile == "8 N" and "force" in wanted.dimensions:
            continue  # sound there
        code = main(["calc", name, *given])
        said = capsys.readouterr().err
        assert code == 2, (wanted.name, hostile)
        assert said.startswith("kilter: calc") and "Traceback" not in said and len(said) < 1000


def test_a_librarys_own_limits_count(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "limits.toml").write_text(
        '[[limit]]\nstandard = "House rule"\nedition = "3"\nmeasure = "insulation"\nlimit = "≥ 30 MΩ"\nmark = "read"\n',
        encoding="utf-8",
    )
    given = ["calc", "leakage", "--measure", "insulation", "--standard", "House rule", "--read", "20 MΩ"]
    assert main(given) == 1
    assert "verdict: fails" in capsys.readouterr().out
    (tmp_path / "procedures" / "limits.toml").write_text("[[limit]]\n", encoding="utf-8")
    assert main(given) == 2
    assert "row 1" in capsys.readouterr().err
