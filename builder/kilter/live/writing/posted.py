"""What our scripts send, as values; whatever else comes is told what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from kilter.live.bench import Bench
from kilter.live.web import Handler, Request, Response, answer_json
from kilter.live.writing.store import StoreError
from kilter.outcome import CouldNotRunError


class Posted(BaseModel):
    """A JSON body."""

    model_config = ConfigDict(frozen=True, extra="forbid")


Body = TypeVar("Body", bound=BaseModel)


def takes(model: type[Body]) -> Callable[[Callable[[Bench, Body], Response]], Handler]:
    """Make a route of a function that wants the body as this model; its refusals become answers."""

    def dressed(answer: Callable[[Bench, Body], Response]) -> Handler:
        @wraps(answer)
        def route(bench: Bench, request: Request) -> Response:
            try:
                body = model.model_validate(request.json())
            except ValidationError as trouble:
                return refused(f"The page sent something unexpected: {_first(trouble)}. Load it again.", 400)
            except (ValueError, RecursionError):
                return refused("The page sent something that is not JSON. Load it again.", 400)
            try:
                return answer(bench, body)
            except (StoreError, CouldNotRunError) as trouble:
                return refused(str(trouble), 422)

        return route

    return dressed


def _first(trouble: ValidationError) -> str:
    """Where the first thing is that is wrong, and what."""
    detail = trouble.errors(include_url=False, include_input=False)[0]
    where = ".".join(str(part) for part in detail["loc"])
    return f"{where}: {detail['msg'][:1].lower()}{detail['msg'][1:]}" if where else detail["msg"]


def refused(words: str, status: int) -> Response:
    """Why a request is not done, in words for the writer."""
    return answer_json({"error": words}, status)
