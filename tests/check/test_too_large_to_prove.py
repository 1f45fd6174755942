"""Past the bound nothing is accepted, and the finding says so."""

from pathlib import Path

import pytest

from kilter.check import flow
from kilter.check.flow import analyse
from kilter.diagnostic import Severity
from kilter.read.library import read_library

DEMO = Path(__file__).parent.parent.parent / "procedures"


def test_past_the_bound_is_an_error_and_no_states_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    library = read_library(DEMO)
    document = next(d for d in library.documents.values() if not d.is_profile)
    assert not analyse(document, library.profile_of(document)).findings
    monkeypatch.setattr(flow, "MOST_STATES", 5)
    found = analyse(document, library.profile_of(document))
    assert ("too-large-to-prove", Severity.ERROR) in {(f.rule, f.severity) for f in found.findings}
    assert not found.before
