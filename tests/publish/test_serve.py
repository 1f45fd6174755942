"""What `kilter serve` shows: the site, on this machine only, never kept by the browser."""

import http.client
import shutil
import subprocess
import sys
import time
from pathlib import Path

from kilter.publish.serve import served

ROOT = Path(__file__).parent.parent.parent


def get(port, path):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    connection.request("GET", path)
    answer = connection.getresponse()
    return answer.status, answer.getheader("Cache-Control"), answer.read().decode()


def test_only_the_folder_is_served_and_nothing_is_kept(tmp_path):
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "index.html").write_text("hello")
    (tmp_path / "secret.txt").write_text("no")
    with served(tmp_path / "site", 0) as url:
        assert url.startswith("http://127.0.0.1:")
        port = int(url.rstrip("/").rsplit(":", 1)[1])
        assert get(port, "/index.html") == (200, "no-store", "hello")
        for path in ("/../secret.txt", "/%2e%2e/secret.txt", "//secret.txt"):
            assert get(port, path)[0] == 404


def test_a_change_is_built_and_a_broken_one_leaves_the_rest(tmp_path):
    shutil.copytree(ROOT / "procedures", tmp_path / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    log = (tmp_path / "log").open("w+")
    command = [sys.executable, "-m", "kilter", "serve", "--port", "0"]
    server = subprocess.Popen(command, cwd=tmp_path, stdout=log, stderr=subprocess.STDOUT)
    try:
        port = int(_until(tmp_path / "log", "http://127.0.0.1:").split("http://127.0.0.1:")[1].split("/")[0])
        file = next((tmp_path / "procedures").rglob("lft-120-*.md"))
        file.write_text(
            file.read_text(encoding="utf-8").replace("Watch the dock lamp", "Watch the lamp"),
            encoding="utf-8",
        )
        _eventually(lambda: "Watch the lamp" in get(port, "/lft-120.html")[2])
        file.write_text("---\nkind: [\n---\n", encoding="utf-8")
        _eventually(lambda: get(port, "/lft-120.html")[0] == 404)
        assert get(port, "/str-110.html")[0] == 200
        assert server.poll() is None
    finally:
        server.kill()
        server.wait()
        log.close()


def _until(file, words):
    _eventually(lambda: words in file.read_text())
    return next(line for line in file.read_text().splitlines() if words in line)


def _eventually(true, seconds=60):
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        if true():
            return
        time.sleep(0.1)
    raise AssertionError(f"not within {seconds} s")
