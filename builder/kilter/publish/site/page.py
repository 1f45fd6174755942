"""What the site consists of before anything is written: pages and other files."""

from __future__ import annotations

from dataclasses import dataclass, field

from kilter.publish.site.markup import Html

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'self'"
)
"""Content-Security-Policy of every page: nothing inline, nothing from elsewhere. `data:` is for the theme's
icons, which are masks inside its style sheet. A server should send it as a header too, together with
`frame-ancestors 'none'`, which counts only there."""

DOCUMENT = "kilter-document.html"
"""Our own template, without the theme's style sheet: what a phone opens at the machine."""
STATES = "kilter-states.html"
"""The same with the style sheet of the reviewer's page."""
QUIZ = "kilter-quiz.html"
"""A paper, question by question: for practice."""
PLAIN = "main.html"
"""The theme's template with our blocks: front, lists, guide, rules."""


@dataclass(frozen=True)
class Page:
    """One page: its address is its file name, the same for ever."""

    address: str
    title: str
    body: Html
    template: str = PLAIN
    description: str = ""
    language: str = ""
    """Language of the body where it is always the same; else that of the interface."""
    searchable: bool = True
    """Whether the header has the search box; the search page has its own."""


@dataclass
class Site:
    """Everything to be written."""

    pages: list[Page] = field(default_factory=list)
    sets: dict[str, tuple[str, tuple[str, ...]]] = field(default_factory=dict)
    """What a phone may keep together: equipment id to its title and pages."""
    files: dict[str, bytes] = field(default_factory=dict)
    """By path inside the site, with forward slashes."""
