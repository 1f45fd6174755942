"""A learning platform for tests: two public runtimes behind a strict table of what SCORM 1.2 allows.

The runtimes take much that the standard does not, so the table stands between page and runtime: element to pattern,
order of calls, strings only. SCORM 1.2 Run-Time Environment, 2001, sections 3.3-3.4 (data types from memory).
"""

from __future__ import annotations

import contextlib
import http.server
import io
import json
import os
import subprocess
import sys
import tempfile
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

AGAIN, HOSTED = "scorm-again@3.4.3", "scormhost==0.1.0"

TABLE = r"""
globalThis.strict = (api) => {
  const faults = [], last = {}, calls = [], id = /^[\x21-\x7E]{1,255}$/, n = 'cmi\\.interactions\\.(\\d+)\\.';
  let state = "before", count = 0, begun = [];
  const write = [
    [/^cmi\.core\.lesson_location$/, /^[^]{0,255}$/], [/^cmi\.core\.lesson_status$/, /^(passed|completed|failed|incomplete|browsed)$/],
    [/^cmi\.core\.exit$/, /^(time-out|suspend|logout|)$/], [/^cmi\.core\.session_time$/, /^\d{2,4}:[0-5]\d:[0-5]\d(\.\d{1,2})?$/],
    [/^cmi\.core\.score\.raw$/, /^(100(\.0+)?|\d{1,2}(\.\d+)?)$/], [/^cmi\.core\.score\.min$/, /^(100|\d{1,2})$/], [/^cmi\.core\.score\.max$/, /^(100|\d{1,2})$/],
    [/^cmi\.suspend_data$/, /^[^]{0,4096}$/], [RegExp(`^${n}id$`), id], [RegExp(`^${n}objectives\\.0\\.id$`), id],
    [RegExp(`^${n}time$`), /^([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d{1,2})?$/], [RegExp(`^${n}type$`), /^(true-false|choice|fill-in|matching|performance|likert|sequencing|numeric)$/],
    [RegExp(`^${n}correct_responses\\.0\\.pattern$`), /^[a-z0-9](,[a-z0-9])*$/], [RegExp(`^${n}weighting$`), /^\d+(\.\d+)?$/],
    [RegExp(`^${n}student_response$`), /^[a-z0-9](,[a-z0-9])*$/], [RegExp(`^${n}result$`), /^(correct|wrong|unanticipated|neutral|\d+(\.\d+)?)$/],
    [RegExp(`^${n}latency$`), /^\d{2,4}:[0-5]\d:[0-5]\d(\.\d{1,2})?$/],
  ];
  const read = /^cmi\.(core\.(student_id|student_name|lesson_mode|entry|credit|lesson_status|lesson_location)|suspend_data|interactions\._count)$/;
  const wrong = (words) => { faults.push(words); };
  const open = (what) => { if (state !== "open") wrong(`${what} while ${state}`); };
  const empty = (what, given) => { if (given.length !== 1 || given[0] !== "") wrong(`${what} without ""`); };
  const set = (name, value) => {
    open("SetValue");
    if (typeof name !== "string" || typeof value !== "string") { wrong(`${name}: no string`); return; }
    const row = write.find(([pattern]) => pattern.test(name));
    if (!row) wrong(`${name} can't be written`); else if (!row[1].test(value)) wrong(`${name} = ${value.slice(0, 60)}`);
    if (!calls.length && !(name === "cmi.core.lesson_status" && value === "incomplete")) wrong("the first word is not that it is incomplete");
    const at = name.match(/^cmi\.interactions\.(\d+)\.(.+)$/);
    if (at) {
      if (at[2] === "id") { if (Number(at[1]) !== count) wrong(`answer ${at[1]} follows ${count - 1}`); count++; begun = ["id"]; }
      else if (Number(at[1]) !== count - 1) wrong(`${name} without its id`);
      if (/response/.test(at[2]) && !begun.includes("type")) wrong(`${name} before its type`);
      begun.push(at[2]);
    }
    if (name === "cmi.core.lesson_status" && /^(passed|failed)$/.test(value) && !("cmi.core.score.raw" in last)) wrong("a verdict without a score");
    calls.push(name); last[name] = value;
    if (value === "incomplete") delete last["cmi.core.score.raw"];
  };
  return { faults, last, count: (held) => { count = held; }, API: {
    LMSInitialize(...a) { empty("Initialize", a); if (state !== "before") wrong("Initialize twice"); state = "open"; return api.LMSInitialize(...a); },
    LMSGetValue(name) { open("GetValue"); if (!read.test(name)) wrong(`${name} can't be read`); return api.LMSGetValue(name); },
    LMSSetValue(name, value) { set(name, value); return api.LMSSetValue(name, value); },
    LMSCommit(...a) { open("Commit"); empty("Commit", a); if (last["cmi.core.score.raw"] && !/^(passed|failed)$/.test(last["cmi.core.lesson_status"] ?? "")) wrong("a score without a verdict"); return api.LMSCommit(...a); },
    LMSFinish(...a) { open("Finish"); empty("Finish", a); for (const name of ["cmi.core.exit", "cmi.core.session_time"]) if (!(name in last)) wrong(`Finish without ${name}`); state = "finished"; return api.LMSFinish(...a); },
    LMSGetLastError: () => api.LMSGetLastError(), LMSGetErrorString: (c) => api.LMSGetErrorString(c), LMSGetDiagnostic: (c) => api.LMSGetDiagnostic(c),
  }, state: () => state };
};
"""
OF_AGAIN = """<!doctype html><meta charset=utf-8><title>platform</title><script src=/table.js></script><script src=/again.js></script>
<script>
fetch("/held").then((r) => r.json()).then((held) => {
  const api = new Scorm12API({ autocommit: false, lmsCommitUrl: "/commit", logLevel: 5 });
  api.loadFromFlattenedJSON({ "cmi.core.student_id": "P17", "cmi.core.lesson_mode": "normal", ...held });
  globalThis.table = strict(api);
  globalThis.API = table.API;
  const frame = document.createElement("iframe"); frame.src = "/pkg/index.html"; frame.style = "width:360px;height:700px;border:0"; document.body.append(frame);
});
</script><body></body>"""
OF_HOSTED = """<!doctype html><meta charset=utf-8><title>platform</title><body><iframe id="scormhost-content" style="width:360px;height:700px;border:0"></iframe>
<script src=/table.js></script>
<script>
globalThis.__SCORMHOST_SCORM12__ = { learnerId: "P17", cmiUrl: "/cmi", contentUrl: "/pkg/index.html" };
let shown; Object.defineProperty(globalThis, "API", { get: () => shown, set: (api) => { globalThis.table = strict(api); shown = table.API; } });
</script><script src=/hosted.js></script></body>"""


def runtimes() -> dict[str, str]:
    """Script of each runtime by name, fetched once by the registries' own clients.

    Skipped visibly where they can't be had, but never on the build server.
    """
    folder = Path(os.environ.get("KILTER_SCORM_RUNTIMES") or _fetched())
    files = {"again": "scorm12.min.js", "hosted": "scorm12-api.js"}
    missing = [name for name in files.values() if not (folder / name).is_file()]
    if missing:
        why = f"no SCORM runtimes ({', '.join(missing)}): needs npm, pip and a connection, or KILTER_SCORM_RUNTIMES"
        assert not os.environ.get("CI"), why
        pytest.skip(why)
    return {name: (folder / file).read_text(encoding="utf-8") for name, file in files.items()}


def _fetched() -> Path:
    """Where they are kept; each process fetches aside and moves whole files in, as others may fetch at the same time."""
    kept = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "kilter-test-runtimes"
    if (kept / "scorm12.min.js").is_file() and (kept / "scorm12-api.js").is_file():
        return kept
    kept.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=kept) as made:
        folder = Path(made)
        with contextlib.suppress(OSError, subprocess.SubprocessError):
            subprocess.run(["npm", "install", "--ignore-scripts", "--no-audit", "--no-fund", "--prefix", str(folder), AGAIN], check=True, capture_output=True, timeout=120)  # fmt: skip
            (folder / "node_modules/scorm-again/dist/scorm12.min.js").replace(kept / "scorm12.min.js")
        with contextlib.suppress(OSError, subprocess.SubprocessError, StopIteration):
            subprocess.run([sys.executable, "-m", "pip", "download", "-q", "--no-deps", "-d", str(folder), HOSTED], check=True, capture_output=True, timeout=120)  # fmt: skip
            with zipfile.ZipFile(next(iter(sorted(folder.glob("scormhost-*.whl"))))) as wheel:
                (folder / "api.js").write_bytes(wheel.read("scormhost/static/scorm12-api.js"))
            (folder / "api.js").replace(kept / "scorm12-api.js")
    return kept


class Server:
    """Keeps what a runtime stores, and can be gone."""

    def __init__(self, files: dict[str, bytes]) -> None:
        self.files, self.held, self.gone, self.commits = files, dict[str, Any](), False, 0
        self.forgets = False
        """Whether every start is the first one, also while the last page is still storing."""

    def package(self, data: bytes) -> None:
        self.files = {k: v for k, v in self.files.items() if not k.startswith("/pkg/")}
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            self.files |= {f"/pkg/{name}": archive.read(name) for name in archive.namelist()}

    @property
    def kept(self) -> dict[str, str]:
        """What it would hand out at the next start."""
        names = ("cmi.suspend_data", "cmi.core.lesson_status", "cmi.core.lesson_location")
        return {name: self.held[name] for name in names if self.held.get(name) and not self.forgets}


TYPES = {"html": "text/html", "js": "text/javascript", "css": "text/css", "jpg": "image/jpeg", "woff2": "font/woff2"}  # fmt: skip


@contextlib.contextmanager
def platform(runtime: dict[str, str]) -> Iterator[tuple[str, Server]]:
    """Address and server; `/again.html` and `/hosted.html` start a package."""
    held = Server(
        {
            "/table.js": TABLE.encode(), "/again.html": OF_AGAIN.encode(), "/hosted.html": OF_HOSTED.encode(),
            "/again.js": runtime["again"].encode(), "/hosted.js": runtime["hosted"].encode(), "/favicon.ico": b"",
        }
    )  # fmt: skip

    class Handler(http.server.BaseHTTPRequestHandler):
        def answer(self, code: int, body: bytes, kind: str = "application/json") -> None:
            self.send_response(code)
            self.send_header("Content-Type", f"{kind}; charset=utf-8")
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def do_GET(self) -> None:
            path = self.path.split("?")[0]
            if path in ("/held", "/cmi"):
                kept = held.kept
                self.answer(200, json.dumps(kept if path == "/held" else {"elements": kept}).encode())
            elif path in held.files:
                self.answer(
                    200, held.files[path], TYPES.get(path.rsplit(".", 1)[-1], "application/octet-stream")
                )
            else:
                self.answer(404, b"")

        def store(self) -> None:
            body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
            if held.gone:
                self.answer(500, b"{}")
                return
            held.commits += 1
            held.held |= _flat(body.get("elements", body))
            self.answer(200, b'{"result": true, "errorCode": 0}')

        do_PUT = do_POST = store

        def log_message(self, *args: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}", held
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def _flat(data: Any, above: str = "") -> dict[str, str]:
    if not isinstance(data, dict):
        return {above: str(data)}
    return {
        k: v
        for name, each in data.items()
        for k, v in _flat(each, f"{above}.{name}" if above else name).items()
    }
