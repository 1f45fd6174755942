"""A number whose address on the site belongs to another page."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K205"
SEVERITY = Severity.ERROR

RESERVED_ADDRESSES = frozenset(
    [
        "index",
        "search",
        "guide",
        "rules",
        "404",
        "front",
        "equipment",
        "symptoms",
        "numbers",
        "tasks",
        "withheld",
        "cards",
        "assets",
        "pictures",
        "css",
        "js",
        "records",
        "sitemap",
        "robots",
        "about",
        "states",
        "print",
    ]
)
"""Names of the site's own pages and folders, without `.html`; a number may be none of them, whatever its case."""

RESERVED_BEGINNINGS = ("equipment-", "guide-", "rules-")
"""How the addresses of profiles, of the guide and of the rules begin."""


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if document.is_profile:
        return
    if document.key in RESERVED_ADDRESSES or document.key.startswith(RESERVED_BEGINNINGS):
        help = "choose another number, such as LFT-120"
        message = f"number `{document.key}` is the address of another page of the site"
        yield error("reserved-number", message, document.places.of("number"), help)
