"""Pages that come with Kilter: the guide and one page a rule; and the library's front page."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Protocol

from jinja2 import Environment

from kilter.check.rule import Rule, all_rules
from kilter.model.base import fold
from kilter.publish.site import guide
from kilter.publish.site.calculations import CHECKED
from kilter.publish.site.indexes import EQUIPMENT, NUMBERS, SYMPTOMS
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, text
from kilter.publish.site.page import PLAIN, Page
from kilter.publish.site.prose import NO_TERMS, Terms, prose, title_of
from kilter.publish.site.scope import WITHHELD, Directory
from kilter.publish.site.words import count, theirs, word

GUIDE, RULES, SEARCH, FRONT, LOST = guide.FIRST, "rules.html", "search.html", "index.html", "404.html"
_OWN = {
    "shelf.html",
    "training.html",
    CHECKED,
    GUIDE,
    RULES,
    SEARCH,
    FRONT,
    EQUIPMENT,
    SYMPTOMS,
    NUMBERS,
    WITHHELD,
}


class Known(Protocol):
    """Names that a plain page may link to, folded, each with its address."""

    def get(self, name: str, /) -> str | None:
        """The address, None where the name is not known."""


def resolver(directory: Directory) -> dict[str, str]:
    """Every name that a plain page may link to, folded."""
    known = {fold(number): address for number, (address, _) in directory.published.items()}
    for rule in all_rules().values():
        for name in (rule.name, rule.code, f"{rule.name}.md", f"{rule.name.replace('-', '_')}.md"):
            known[fold(name)] = rule_address(rule)
    known |= guide.guide_resolver()
    known |= {name: name for name in _OWN} | {name.replace(".html", ".md"): name for name in _OWN}
    return known


def rule_address(rule: Rule) -> str:
    return f"rule-{rule.name}.html"


def code_address(rule: Rule) -> str:
    """The rule's row in the list of all rules, by the code that is printed with a finding."""
    return f"{RULES}#{rule.code.lower()}"


def _prose(markdown: str, known: Known, where: str, terms: Terms = NO_TERMS) -> Html:
    def resolve(target: str) -> str | None:
        if target.startswith("#") or target.lower().startswith(("https://", "http://", "mailto:")):
            return target
        name, hash, anchor = target.removeprefix("./").partition("#")
        found = known.get(fold(name))
        return f"{found}{hash}{anchor}" if found else None

    return prose(markdown, resolve, where, terms)


def front_page(markdown: str, name: str, known: Known, counts: tuple[int, int], modules: int = 0) -> Page:
    """The library's own words, then the three ways in; below them, and quieter, the way of those who teach."""
    body = (
        el("div", _prose(markdown, known, "front page"), lang=theirs())
        if markdown.strip()
        else el("h1", text(name))
    )
    documents, machines = counts
    ways = [
        (EQUIPMENT, word("list.by-equipment"), count("list.machines", machines)),
        (SYMPTOMS, word("list.by-symptom"), word("list.noticed")),
        (NUMBERS, word("list.by-number"), count("list.documents", documents)),
    ]
    rows = (el("li", link(to, el("b", text(words)), el("small", text(note)))) for to, words, note in ways)
    teach = el(
        "p",
        link("training.html", text(word("training.teach"))),
        text(f": {word('training.teach-why')}"),
        cls="soft",
    )
    parts = [body, el("ul", *rows, cls="ways"), teach if modules else NOTHING]
    return Page(FRONT, title_of(markdown, name), join(parts), PLAIN)


def guide_addresses() -> frozenset[str]:
    """The addresses of the guide's pages."""
    return frozenset(page.address for page in guide.guide_files())


def guide_pages(known: Known) -> list[Page]:
    """Every page of the guide, in order."""
    return [guide_page(known, page.address) for page in guide.guide_files()]


def guide_page(known: Known, address: str = GUIDE) -> Page:
    """One page of the guide; raises KeyError where there is none at this address."""
    page = {p.address: p for p in guide.guide_files()}[address]
    body = _prose(page.markdown, known, f"guide, {page.name}", guide.words_for(page))
    return Page(address, page.title, guide.around(page, body), PLAIN, page.about, language="en")


def rule_pages(known: Known) -> list[Page]:
    """A page a rule, and the list of them by family."""
    return [*(rule_page(rule, known) for rule in all_rules().values()), rules_page()]


def rules_page() -> Page:
    rules = list(all_rules().values())
    parts = [el("h1", text("Rules"))]
    parts.append(
        el(
            "p",
            text("What the check looks for, in the order of the codes. An error refuses a document; "),
            text(
                "warnings and hints do not. A finding ends with its code and name, as in [K137 blank-left]: "
            ),
            text("look here for either, or type "),
            el("code", text("kilter explain")),
            text(" and one of them."),
        )
    )
    for family in dict.fromkeys(r.family for r in rules):
        parts.append(el("h2", text(family.capitalize()), id=f"{family}"))
        rows = (_rule_row(r) for r in rules if r.family == family)
        parts.append(el("ul", *rows, cls="documents"))
    return Page(RULES, "Rules", join(parts), PLAIN, language="en")


def _rule_row(rule: Rule) -> Html:
    return el(
        "li",
        link(rule_address(rule), el("b", text(rule.code)), SPACE, text(rule.name)),
        text(f" ({rule.severity})"),
        id=rule.code.lower(),
    )


def rule_page(rule: Rule, known: Known) -> Page:
    markdown = re.sub(r"\A\s*# .*\n", "", rule.page)
    fixed = "It can't be allowed away." if rule.safety else ""
    about = f"{str(rule.severity).capitalize()}, {rule.family}. {fixed}".strip()
    heading = el("h1", el("span", text(rule.code), cls="no"), SPACE, text(rule.name))
    body = join([heading, el("p", text(about), cls="about"), _prose(markdown, known, rule.name)])
    return Page(rule_address(rule), f"{rule.code} {rule.name}", body, PLAIN, language="en")


def search_page() -> Page:
    ways = ((EQUIPMENT, "by-equipment"), (SYMPTOMS, "by-symptom"), (NUMBERS, "by-number"))
    links = join((link(to, text(word(f"search.{name}"))) for to, name in ways), text(", "))
    needs = text(f"{word('search.needs')} ")
    body = join([el("h1", text(word("search.label"))), search_form(), el("p", needs, links, text("."))])
    return Page(SEARCH, word("search.label"), body, PLAIN, searchable=False)


def search_form() -> Html:
    """The same form as in the head of every page, see `templates/kilter-search.html`."""
    template = files("kilter.publish.site").joinpath("templates/kilter-search.html")
    shown = Environment(autoescape=True).from_string(template.read_text(encoding="utf-8"))
    return Html(shown.render(config={"extra": {"word": word}}))


def lost_page() -> Page:
    body = join(
        [
            el("h1", text(word("lost.heading"))),
            el(
                "p",
                text(word("lost.words")),
            ),
            el("p", link(WITHHELD, text(word("lost.link"))), NOTHING),
        ]
    )
    return Page(LOST, word("lost.title"), body)
