"""A link that leads nowhere a reader should go."""

import re
from collections.abc import Iterator
from pathlib import PurePosixPath

from kilter.check.fixes import name_put
from kilter.check.lookup import links
from kilter.check.rule import Context
from kilter.check.rules.structure.procedure_link import is_number
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.model.front import ProfileFront
from kilter.model.text import Link
from kilter.source import Span

CODE = "K218"
SEVERITY = Severity.ERROR

_SCHEME = re.compile(r"^([A-Za-z][A-Za-z0-9+.-]+):")
_ALLOWED = ("http", "https", "mailto", "tel")


def check(context: Context) -> Iterator[Diagnostic]:
    for _, _, link in links(context.document):
        if (said := _trouble(link.target)) is not None:
            yield error("bad-link", said[0], _span(link), said[1], fixes=_by_number(context, link))


def _by_number(context: Context, link: Link) -> tuple[Fix, ...]:
    """The number of the document that a path of files names."""
    name = PurePosixPath(link.target.split("#")[0]).name
    for document in context.library.numbers.values() if name.endswith(".md") else ():
        if PurePosixPath(document.path).name == name and not isinstance(document.front, ProfileFront):
            return name_put(context.library, link.target_span, link.target, document.front.number)
    return ()


def _trouble(target: str) -> tuple[str, str] | None:
    if target.startswith("#") or is_number(target):
        return None
    if not target:
        return "a link without a target", "write where it leads in the round brackets"
    if (scheme := _SCHEME.match(target)) is not None:
        return _scheme(scheme.group(1).lower(), target)
    help = "link to a document by its number alone, such as `LFT-120`; to a step by `#` and its name"
    return f"`{target}` is a path of files, not an address of the site", help


def _scheme(scheme: str, target: str) -> tuple[str, str] | None:
    if scheme not in _ALLOWED:
        return f"a link with `{scheme}:` is not allowed", "only http, https, mailto and tel are"
    rest = target.split(":", 1)[1]
    if scheme in ("http", "https") and not re.match(r"//[^/\s]+", rest):
        return f"`{target}` names no server", f"write `{scheme}://` and the server's name"
    return None


def _span(link: Link) -> Span:
    return link.target_span if link.target else link.span
