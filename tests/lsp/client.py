"""A small editor: starts the server, speaks its protocol over pipes, keeps the last findings of every file."""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

CAPABILITIES = {
    "general": {"positionEncodings": ["utf-16"]},
    "textDocument": {"publishDiagnostics": {"relatedInformation": True}, "rename": {"prepareSupport": True}},
    "workspace": {
        "workspaceEdit": {"documentChanges": True},
        "didChangeWatchedFiles": {"dynamicRegistration": True},
        "workspaceFolders": True,
    },
}


class Client:
    """One session. Everything that comes is read by a thread; `junk` holds what was no message."""

    def __init__(
        self, folders: list[Path], capabilities: dict[str, Any] = CAPABILITIES, **options: Any
    ) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "kilter", "lsp", "--stdio"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        self.published: dict[str, dict[str, Any]] = {}
        self.times: dict[str, float] = {}
        self.count = 0
        self.requests: list[dict[str, Any]] = []
        self.junk: list[bytes] = []
        self.errors: list[str] = []
        self._answers: queue.Queue[dict[str, Any]] = queue.Queue()
        self._id = 0
        self._readers = [threading.Thread(target=self._read), threading.Thread(target=self._read_errors)]
        for reader in self._readers:
            reader.start()
        self.versions: dict[str, int] = {}
        self.capabilities = self.request(
            "initialize",
            {
                "processId": None,
                "rootUri": None,
                "capabilities": capabilities,
                "initializationOptions": options,
                "workspaceFolders": [{"uri": f.as_uri(), "name": f.name} for f in folders] or None,
            },
        )["capabilities"]
        self.notify("initialized", {})

    def __enter__(self) -> Client:
        return self

    def __exit__(self, *trouble: object) -> None:
        self.close()

    def close(self) -> int:
        """Hang up as the protocol asks; returns the server's exit code."""
        if self.process.poll() is None:
            self.request("shutdown", None)
            self.notify("exit", None)
        code = self.process.wait(10)
        for reader in self._readers:
            reader.join(5)
        for pipe in (self.process.stdin, self.process.stdout, self.process.stderr):
            if pipe is not None and not pipe.closed:
                pipe.close()
        return code

    # messages

    def notify(self, method: str, params: Any) -> None:
        self._send({"jsonrpc": "2.0", "method": method, "params": params})

    def request(self, method: str, params: Any, timeout: float = 20) -> Any:
        """The answer's result; raises RuntimeError for an error."""
        self._id += 1
        wanted = self._id
        self._send({"jsonrpc": "2.0", "id": wanted, "method": method, "params": params})
        while True:
            answer = self._answers.get(timeout=timeout)
            if answer["id"] == wanted:
                if "error" in answer:
                    raise RuntimeError(f"{answer['error']['code']} {answer['error']['message']}")
                return answer["result"]

    def raw(self, body: bytes) -> None:
        """Bytes that may be no message."""
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self.process.stdin.flush()

    def _send(self, message: dict[str, Any]) -> None:
        self.raw(json.dumps(message).encode())

    def _read(self) -> None:
        out = self.process.stdout
        assert out is not None
        while line := out.readline():
            if not line.startswith(b"Content-Length: "):
                self.junk.append(line)
                continue
            while out.readline().strip():
                pass
            self._take(json.loads(out.read(int(line.split()[1]))))

    def _read_errors(self) -> None:
        assert self.process.stderr is not None
        self.errors += [line.decode() for line in self.process.stderr]

    def _take(self, message: dict[str, Any]) -> None:
        if message.get("method") == "textDocument/publishDiagnostics":
            params = message["params"]
            self.published[params["uri"]] = params
            self.times[params["uri"]] = time.perf_counter()
            self.count += 1
        elif "method" in message and "id" in message:
            self.requests.append(message)
            self._send({"jsonrpc": "2.0", "id": message["id"], "result": None})
        elif "id" in message:
            self._answers.put(message)

    # an editor's acts

    def open(self, file: Path, text: str | None = None) -> None:
        text = file.read_text(encoding="utf-8") if text is None else text
        self.versions[file.as_uri()] = 1
        document = {"uri": file.as_uri(), "languageId": "markdown", "version": 1, "text": text}
        self.notify("textDocument/didOpen", {"textDocument": document})

    def change(self, file: Path, text: str) -> int:
        """Send a new text; returns its version."""
        version = self.versions[file.as_uri()] = self.versions[file.as_uri()] + 1
        document = {"uri": file.as_uri(), "version": version}
        self.notify("textDocument/didChange", {"textDocument": document, "contentChanges": [{"text": text}]})
        return version

    def shut(self, file: Path) -> None:
        self.versions.pop(file.as_uri())
        self.notify("textDocument/didClose", {"textDocument": {"uri": file.as_uri()}})

    def saved(self, file: Path) -> None:
        self.notify("textDocument/didSave", {"textDocument": {"uri": file.as_uri()}})
        self.on_disk(file)

    def on_disk(self, *files: Path, kind: int = 2) -> None:
        """Tell of files that changed (2), came (1) or went (3)."""
        changes = [{"uri": f.as_uri(), "type": kind} for f in files]
        self.notify("workspace/didChangeWatchedFiles", {"changes": changes})

    def ask(self, method: str, file: Path, line: int, character: int, **more: Any) -> Any:
        """A question about a 0-based place."""
        params = {"textDocument": {"uri": file.as_uri()}, "position": {"line": line, "character": character}}
        return self.request(f"textDocument/{method}", params | more)

    def wait(self, file: Path, version: int, timeout: float = 20) -> float:
        """Until the findings of that version of a file are here; returns when they came."""
        end = time.perf_counter() + timeout
        while self.published.get(file.as_uri(), {}).get("version") != version:
            if time.perf_counter() > end:
                raise TimeoutError(f"no findings of version {version} of {file.name}: {self.errors[-5:]}")
            time.sleep(0.001)
        return self.times[file.as_uri()]

    def messages(self, file: Path) -> list[str]:
        return [d["message"] for d in self.published.get(file.as_uri(), {}).get("diagnostics", [])]
