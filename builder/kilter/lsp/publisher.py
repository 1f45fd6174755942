"""Waits until the writer pauses, then tells what was found, one file after the other.

All work on the libraries is done by one thread, in the order in which it was asked for; the loop that talks to the
editor only waits for it, and an answer asked for meanwhile comes between two files.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import TypeVar

from lsprotocol import types

from kilter.lsp.desk import Desk
from kilter.lsp.room import News, Opened

Result = TypeVar("Result")
Render = Callable[[Desk, News], types.PublishDiagnosticsParams]
_log = logging.getLogger("kilter.lsp")

QUIET = 0.06
"""Seconds without a change after which findings are worked out."""
LONGEST = 0.5
"""Seconds after which they are worked out even while the writer goes on."""


class Publisher:
    """Owns the desk: nothing else touches it, but through `do`."""

    def __init__(self, render: Render, send: Callable[[types.PublishDiagnosticsParams], None]) -> None:
        self.desk = Desk()
        self._render, self._send = render, send
        """The first is called by the worker, while the texts are those that were checked; the second by the loop."""
        self._worker = ThreadPoolExecutor(1, "kilter")
        self._texts: dict[Path, Opened] = {}
        """The latest text of each file that was not taken yet; older ones are never read."""
        self.quiet = QUIET
        self._changed = asyncio.Event()
        self._last = self._first = 0.0
        self._task: asyncio.Task[None] | None = None
        self._telling: set[asyncio.Task[bool]] = set()

    def text(self, file: Path, opened: Opened) -> None:
        """A file was opened or changed."""
        self._texts[file] = opened
        self.note()

    def note(self) -> None:
        """Something changed: findings are due."""
        loop = asyncio.get_running_loop()
        self._last = loop.time()
        if not self._changed.is_set():
            self._first = self._last
            self._changed.set()
        if self._task is None or self._task.done():
            self._task = loop.create_task(self._run())

    def start(self, work: Callable[[Desk], Result]) -> asyncio.Future[Result]:
        """Begin something at the desk, after all that came before; the order is that of the calls."""
        texts, self._texts = self._texts, {}

        def job() -> Result:
            for file, opened in texts.items():
                try:
                    self.desk.take(file, opened)
                except Exception:
                    _log.exception("%s was not taken", file)
            return work(self.desk)

        return asyncio.get_running_loop().run_in_executor(self._worker, job)

    async def do(self, work: Callable[[Desk], Result]) -> Result:
        """Have something done at the desk."""
        return await self.start(work)

    def stop(self) -> None:
        """No further work is begun."""
        if self._task is not None:
            self._task.cancel()
        self._worker.shutdown(wait=False, cancel_futures=True)

    def tell(self, work: Callable[[Desk], list[News] | None]) -> asyncio.Task[bool]:
        """Begin to work findings out and hand them on; the result is whether there were any to be looked for."""
        messages = self.start(lambda desk: self._messages(desk, work(desk)))
        task = asyncio.get_running_loop().create_task(self._hand_on(messages))
        self._telling.add(task)  # the loop itself does not hold on to it
        task.add_done_callback(self._telling.discard)
        return task

    async def _hand_on(self, waiting: asyncio.Future[list[types.PublishDiagnosticsParams] | None]) -> bool:
        try:
            messages = await waiting
            for message in messages or ():
                self._send(message)
        except Exception:
            _log.exception("findings could not be told")
            return True  # the next file may have some
        return messages is not None

    def _messages(self, desk: Desk, news: list[News] | None) -> list[types.PublishDiagnosticsParams] | None:
        if news is None:
            return None
        return [message for each in news if (message := self._rendered(desk, each)) is not None]

    def _rendered(self, desk: Desk, news: News) -> types.PublishDiagnosticsParams | None:
        """One that can't be shown holds no other back."""
        try:
            return self._render(desk, news)
        except Exception:
            _log.exception("findings of %s could not be told", news.path)
            return None

    async def _run(self) -> None:
        while True:
            await self._changed.wait()
            await self._pause()
            self._changed.clear()
            try:
                await self._drain()
            except Exception:
                _log.exception("findings could not be told")

    async def _pause(self) -> None:
        loop = asyncio.get_running_loop()
        while (wait := min(self._last + self.quiet, self._first + LONGEST) - loop.time()) > 0:
            await asyncio.sleep(wait)

    async def _drain(self) -> None:
        """Tell of every file that is due, until the writer goes on."""
        while await self.tell(lambda desk: desk.next()):
            if self._changed.is_set():
                return
