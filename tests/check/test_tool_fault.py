"""A rule that fails refuses the document; it neither passes it nor ends the run."""

from dataclasses import replace

from kilter.check import run
from kilter.check.rule import Context, all_rules
from kilter.diagnostic import Severity
from kilter.model.library import Library
from kilter.read.document import read_bytes


def test_a_failing_rule_refuses(monkeypatch, tmp_path):
    def broken(context):
        raise IndexError("tuple index out of range")

    text = "---\nkind: equipment\nid: a-1\ntitle: A\nsources: {}\nnone: []\n---\n"
    library = Library(tmp_path)
    library.add(read_bytes("a.md", text.encode()))
    rule = replace(next(r for r in all_rules().values() if r.check is not None), check=broken)
    monkeypatch.setattr(run, "_document_rules", lambda: (rule,))
    found = run.check_document(Context(library, library.documents["a.md"], library.documents["a.md"]))
    fault = next(f for f in found if f.rule == "tool-fault")
    assert fault.severity is Severity.ERROR
    assert rule.name in fault.message
    assert "IndexError" in fault.message
