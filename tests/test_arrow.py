"""Data walks one way: a stage imports only what stands left of it."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "builder" / "kilter"
ORDER = [
    "outcome",
    "parallel",
    "source",
    "diagnostic",
    "model",
    "read",
    "compute",
    "check",
    "mend",
    "assist",
    "report",
    "picture",
    "publish",
    "records",
    "lsp",
    "live",
    "cli",
]


def stage_of(module: str) -> str | None:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 and parts[0] == "kilter" else None


def imports(file: Path):
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{name.name}" for name in node.names)


FILES = sorted(
    f for f in PACKAGE.rglob("*.py") if f.name not in ("__init__.py", "__main__.py") or f.parent != PACKAGE
)


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.relative_to(PACKAGE).as_posix())
def test_a_stage_imports_nothing_to_its_right(file):
    own = file.relative_to(PACKAGE).parts[0].removesuffix(".py")
    assert own in ORDER, f"{own} has no place in the order: add it to ORDER"
    for module in imports(file):
        stage = stage_of(module)
        if stage in ORDER:
            assert ORDER.index(stage) <= ORDER.index(own), f"{file.name} ({own}) imports {module}"


def test_the_test_sees_a_wrong_import(tmp_path):
    wrong = tmp_path / "wrong.py"
    wrong.write_text("from kilter.publish import view\n")
    assert "kilter.publish" in list(imports(wrong))
    assert ORDER.index("publish") > ORDER.index("read")
