"""Open pages, and what they are told: server-sent events."""

from __future__ import annotations

import json
import queue
import threading
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from kilter.live.bench import Bench

MOST = 100
"""Streams at once; a browser keeps no more than six to one server."""
BEAT = 15.0
"""Seconds between comments on a silent stream: so either side sees when the other is gone."""


@dataclass(eq=False)
class Stream:
    """One open page."""

    page: str
    """Its address; empty for a page that does not want to be put in place anew."""
    waiting: queue.Queue[bytes | None] = field(default_factory=lambda: queue.Queue(200))
    """Events to send; None ends the stream."""

    def put(self, event: bytes | None) -> None:
        """A stream whose page takes nothing any more is ended."""
        try:
            self.waiting.put_nowait(event)
        except queue.Full:
            self.waiting = queue.Queue(200)
            self.waiting.put_nowait(None)

    def next(self, seconds: float = BEAT) -> bytes | None:
        """The next event, or a comment where nothing has happened."""
        try:
            return self.waiting.get(timeout=seconds)
        except queue.Empty:
            return b": still here\n\n"


class Hub:
    """Knows the open pages. After a change each is made again and told if it came out different."""

    def __init__(self, bench: Bench, version: Callable[[str], str]) -> None:
        self.bench, self.version = bench, version
        self._streams: set[Stream] = set()
        self._lock = threading.Lock()
        self._over = False

    def open(self, page: str) -> Stream | None:
        """A new stream, its first event in it; None where there are too many."""
        stream = Stream(page)
        with self._lock:
            if self._over or len(self._streams) >= MOST:
                return None
            self._streams.add(stream)
        # asked for after it is in the list: a change in between is told twice rather than not at all
        stream.put(event("hello", {"token": self.bench.token, "version": self._version(page)}))
        return stream

    def close(self, stream: Stream) -> None:
        with self._lock:
            self._streams.discard(stream)

    def announce(self, paths: Iterable[str]) -> None:
        """Tell every open page what changed, and which look its own page has now."""
        with self._lock:
            streams = list(self._streams)
        if not streams:
            return
        with self.bench.lock:
            names = sorted(filter(None, map(self.bench.name_of, paths)))
        versions = {page: self._version(page) for page in {s.page for s in streams}}
        for stream in streams:
            stream.put(event("changed", {"names": names, "version": versions[stream.page]}))

    def end(self) -> None:
        """No more pages; the open ones are let go."""
        with self._lock:
            self._over, streams = True, list(self._streams)
        for stream in streams:
            stream.put(None)

    def _version(self, page: str) -> str:
        return self.version(page) if page else ""

    def __len__(self) -> int:
        return len(self._streams)


def event(name: str, data: Any) -> bytes:
    """One event as it goes over the line."""
    return f"event: {name}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n".encode()
