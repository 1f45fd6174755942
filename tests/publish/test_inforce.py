"""The lists of what is in force: one, or one a machine."""

import json
from pathlib import Path

from tests.publish.site_frame import small_library

from kilter.publish.prepare import prepare
from kilter.publish.site.inforce import REVISIONS, SPLIT_SCHEMA, revisions_files


def test_a_large_library_has_a_list_a_machine_with_the_same_documents(tmp_path: Path):
    views = prepare(small_library(tmp_path, copies=2)).views
    whole = json.loads(revisions_files(views)[REVISIONS])
    assert list(whole["documents"]) == ["TRL-110", "TRL-111"]
    split = revisions_files(views, most=10)
    assert json.loads(split[REVISIONS]) == {"schema": SPLIT_SCHEMA, "machines": ["larch-1"]}
    assert json.loads(split["revisions/larch-1.json"]) == whole
