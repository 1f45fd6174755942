"""A file's name need not be text; no report breaks on it."""

import json
import os
import subprocess
import sys

import pytest
from lxml import etree

KILTER = [sys.executable, "-m", "kilter", "check"]


@pytest.mark.skipif(sys.platform != "linux", reason="other systems have no such names")
@pytest.mark.parametrize("form", ["text", "json", "sarif", "github", "junit"])
def test_a_name_of_odd_bytes(tmp_path, form):
    (tmp_path / "procedures").mkdir()
    with open(os.fsencode(tmp_path / "procedures") + b"/\xff.md", "wb") as stream:  # noqa: PTH123
        stream.write(b"---\nkind: x\n---\n")
    settings = os.environ | {"PYTHONIOENCODING": "utf-8:strict"}
    done = subprocess.run([*KILTER, "--format", form], cwd=tmp_path, capture_output=True, env=settings)
    out = done.stdout.decode("utf-8")
    assert (done.returncode, done.stderr) == (1, b"")
    if form == "json":
        assert json.loads(out)["findings"][0]["place"]["path"] == "procedures/\udcff.md"
    elif form == "sarif":
        run = json.loads(out)["runs"][0]
        assert run["artifacts"][0]["location"]["uri"] == "procedures/%FF.md"
        assert run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["index"] == 0
    elif form == "junit":
        assert etree.fromstring(done.stdout)[0].get("name") == "procedures/\ufffd.md"
    else:
        assert "procedures/\\udcff.md" in out
