"""What gets installed: one package with its pages, templates and licences, and nothing beside it."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def names(tmp_path_factory):
    out = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(out), str(ROOT)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (wheel,) = out.glob("*.whl")
    return zipfile.ZipFile(wheel).namelist()


def test_one_import_package(names):
    assert {n.split("/")[0] for n in names if ".dist-info" not in n} == {"kilter"}


def test_every_file_of_the_package_is_in(names):
    package = ROOT / "builder" / "kilter"
    ours = {
        f.relative_to(package.parent).as_posix()
        for f in package.rglob("*")
        if f.is_file() and "__pycache__" not in f.parts
    }
    assert ours <= set(names)


def test_typed_licensed_and_with_a_command(names):
    assert "kilter/py.typed" in names
    assert any(n.endswith("licenses/LICENSE") for n in names)
    assert any(n.endswith("atkinson-hyperlegible.LICENSE") for n in names)
    assert any(n.endswith("entry_points.txt") for n in names)
