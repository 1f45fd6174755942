"""Whatever a writer does, the editor shows what a fresh check says, and nothing else comes out of the server."""

import os
import shutil
import time
from pathlib import Path

import pytest
from tests.lsp.client import Client
from tests.lsp.session import Writer, published

DEMO = Path(__file__).parents[2] / "procedures"
EDITS = int(os.environ.get("KILTER_SESSION_EDITS", "100"))
"""For each of the two seeds."""


@pytest.mark.parametrize("seed", [1, 2])
def test_after_every_edit_the_editor_shows_what_a_fresh_check_says(tmp_path, seed):
    root = tmp_path / "procedures"
    shutil.copytree(DEMO, root)
    with Client([tmp_path], pause=3) as client:
        writer = Writer(client, root, seed)
        writer.settled()
        for _ in range(EDITS):
            writer.act()
            writer.settled()
        for _ in range(EDITS // 5):  # a burst with no pause at all
            writer.act()
        writer.settled()
        shown = published(client)
        time.sleep(1.0)  # the last of the burst may be told once more, with the same findings
        count = client.count
        time.sleep(0.2)
        assert published(client) == shown and client.count == count  # nothing later, nothing for ever
        assert client.close() == 0
    assert client.junk == [] and client.errors == []
    assert len(set(writer.acts)) > 10 and client.count > EDITS
