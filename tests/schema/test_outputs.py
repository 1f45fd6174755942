"""What the tool writes fits its schema, and whatever does not is refused by two validators."""

import json
from pathlib import Path

import pytest
from tests.demo import CHARGE, SOUND, TOP

from kilter.cli import main
from kilter.publish.build import MANIFEST

from .judges import Judges, broken


@pytest.fixture
def faulty(library):
    file = library / CHARGE
    text = file.read_text(encoding="utf-8").replace(":do: make-safe", "", 1)
    text = text.replace("Undo the mast screws.", "Undo the mast screws roughly.")
    file.write_text(text.replace("{torque}", "{torqe}", 1), encoding="utf-8")
    return library


@pytest.fixture
def told(capsys):
    def run(*words, code=0):
        capsys.readouterr()
        assert main([*words]) == code
        return json.loads(capsys.readouterr().out)

    return run


def refuse_all(judges, sample, free=(), least=10):
    done = list(broken(sample, free))
    assert len(done) >= least
    assert judges.kept(done) == []


def test_findings(faulty, told):
    judges = Judges("findings")
    main(["check", "--write-baseline", "old.json"])
    sample = told("check", "--format", "json", code=1)
    assert sample["baseline"] is None
    assert judges.accept(sample)
    kinds = {(bool(f["way"]), bool(f["fixes"])) for f in sample["findings"]}
    assert (True, True) in kinds and len(kinds) > 1
    sample = told("check", "--format", "json", "--baseline", "old.json", code=1)
    assert sample["baseline"]["putOff"] > 0
    assert judges.accept(sample)
    refuse_all(judges, sample, least=60)
    assert not judges.accept({**sample, "files": -1})


def test_findings_of_all_cases(told, monkeypatch):
    monkeypatch.chdir(TOP / "tests" / "cases")
    folders = sorted(f.name for f in Path().iterdir() if f.is_dir())
    sample = told("check", "--format", "json", *folders, code=1)
    assert len(sample["findings"]) > 200
    assert Judges("findings").accept(sample)


def test_states(library, told):
    judges = Judges("states")
    for file in SOUND:
        assert judges.accept(told("states", "--format", "json", file))
    refuse_all(judges, told("states", "--format", "json", CHARGE), least=60)


def test_documents(library, told):
    judges = Judges("document")
    for file in SOUND:
        assert judges.accept(told("data", file))
    sample = told("data", CHARGE)
    refuse_all(judges, sample, least=200)
    assert not judges.accept({**sample, "status": "approved"})
    assert not judges.accept({**sample, "hash": sample["hash"][:12]})


def test_built(faulty, capsys):
    judges = Judges("built")
    assert main(["build", "--quiet"]) == 1
    sample = json.loads((faulty / "out" / MANIFEST).read_text(encoding="utf-8"))
    assert len(sample["documents"]) > 4 and list(sample["withheld"]) == [CHARGE]
    assert judges.accept(sample)
    refuse_all(judges, sample, free=("documents", "withheld"))
    assert not judges.accept({**sample, "withheld": {"a.md": 1}})


def test_baseline(faulty, capsys):
    judges = Judges("baseline")
    main(["check", "--write-baseline", "old.json"])
    sample = json.loads((faulty / "old.json").read_text(encoding="utf-8"))
    assert sample["findings"]
    assert judges.accept(sample)
    refuse_all(judges, sample)
    assert not judges.accept({**sample, "findings": [{**sample["findings"][0], "fingerprint": "0"}]})
    assert not judges.accept({**sample, "findings": [{**sample["findings"][0], "rule": "No Rule"}]})
