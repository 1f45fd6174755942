"""Giving a thing another name everywhere at once, so that a fresh check says the same as before."""

from __future__ import annotations

import re
from collections.abc import Callable
from unicodedata import normalize
from urllib.parse import unquote

from kilter.assist.memory import equipment_in
from kilter.assist.navigate import everywhere, text_in, thing_at
from kilter.assist.profilenames import Kind
from kilter.assist.uses import Use, uses
from kilter.assist.values import RefusedError
from kilter.check.module import number_of
from kilter.check.targets import BACK
from kilter.check.workspace import Workspace
from kilter.diagnostic import Edit
from kilter.model.base import fold, slugify
from kilter.model.document import Document, Stage, Step
from kilter.model.text import Link, Text
from kilter.source import Span, unseen

LISTED: tuple[Kind, ...] = ("source", "guard", "zone", "switch", "test")
"""Things that a profile names and that every document of the machine uses."""
_LINK = re.compile(r"\]\(\s*<?(#[^\s)>]*)")
_PLAIN = re.compile(r"[^\W\d_](?:[\w ./()+°%·µΩ-]*[\w)%])?")
"""Names that YAML takes for words without quotes."""
_NO_WORDS = frozenset(("null", "true", "false", "yes", "no", "on", "off", "y", "n"))


def renameable(workspace: Workspace, path: str, line: int, column: int) -> tuple[Span, str]:
    """The name under the cursor and where it stands; raises RefusedError where nothing can be renamed."""
    use = _wanted(workspace, path, line, column)
    text = text_in(workspace.library.sources[use.span.path], use.span)
    return use.span, text.strip("\"'#")


def rename(workspace: Workspace, path: str, line: int, column: int, new_name: str) -> dict[str, list[Edit]]:
    """The edits, by path, that give the thing at a place a new name; raises RefusedError with the reason.

    A step or shared stage without an `:id:` takes the new words as its heading, and all links follow; with an
    `:id:` the new name is the id, and the heading stays. A source, guard, zone, switch or test is renamed in the
    profile and in every document that stands on it.
    """
    use = _wanted(workspace, path, line, column)
    new = normalize("NFC", " ".join(new_name.split()))
    _sound(new)
    kind = use.thing[0]
    edits = _headed(workspace, use, new) if kind in ("step", "stage") else _listed(workspace, use, new)
    by_path: dict[str, list[Edit]] = {}
    for edit in sorted(dict.fromkeys(edits), key=lambda e: e.span):
        by_path.setdefault(edit.span.path, []).append(edit)
    return by_path


def _wanted(workspace: Workspace, path: str, line: int, column: int) -> Use:
    if path in workspace.library.readings and path not in workspace.library.documents:
        raise RefusedError("the file can't be read yet: mend its front matter first")
    use = thing_at(workspace, path, line, column)
    if use is None:
        raise RefusedError("there is no name here that could be changed")
    kind, _, name = use.thing
    if kind == "number":
        raise RefusedError("a number is the document's address for ever: it can't be changed from here")
    if kind not in (*LISTED, "step", "stage"):
        raise RefusedError(f"a {kind} can't be renamed: only steps, shared stages and names of the profile")
    if not any(u.defines for u in everywhere(workspace, use.thing)):
        raise RefusedError(f"`{name}` is not defined anywhere, so it can't be renamed")
    return use


def _sound(new: str) -> None:
    if not new:
        raise RefusedError("the new name is empty")
    if "," in new:
        raise RefusedError("the new name has a comma: in the text a comma separates names")
    if any(map(unseen, new)) or set(new) & set("{}`[]<>|\\*_#&\"'"):
        raise RefusedError("the new name has a sign that means something in the text: use plain words")
    if " - " in new or " – " in new or " — " in new:
        raise RefusedError("the new name has a dash between blanks: in the text it begins a reason")


# steps and shared stages


def _headed(workspace: Workspace, use: Use, new: str) -> list[Edit]:
    kind, home, old = use.thing
    document = workspace.library.documents[home]
    part = document.steps[old] if kind == "step" else document.shared_stages[old]
    own = part.field("id")
    slug = slugify(new)
    if own is not None and slug != new:
        raise RefusedError(f"the new name goes to `:id:`, in letters, digits and hyphens: `{slug}`")
    _free_slug(workspace, document, part, slug)
    found = everywhere(workspace, use.thing)
    edits: list[Edit] = []
    for each in found:
        if each.defines and own is None:
            edits.append(_exact(workspace, each.span, part.title, new, slugify))
        elif not each.defines and slug != old:
            edits.append(_to_slug(workspace, each.span, old, slug))
    edits += _taught(workspace, document, part, old, slug) if isinstance(part, Step) and slug != old else []
    return edits + (_link_words(workspace, document, part, new) if own is None else [])


def _taught(workspace: Workspace, document: Document, step: Step, old: str, slug: str) -> list[Edit]:
    """Where training modules name the step, as `NUMBER#step`: of a profile's step under each number that does it."""
    library = workspace.library
    paths = workspace.users(document.path) if document.is_profile else {document.path}
    numbers = "|".join(re.escape(number_of(library.documents[path])) for path in sorted(paths)) or "$^"
    named = re.compile(rf"\b(?:{numbers})#({re.escape(old)})(?![\w-])", re.IGNORECASE)
    edits = []
    for path in library.modules:
        source = library.sources[path]
        for row, text in enumerate(source.lines):
            edits += [Edit(source.in_row(row, m.start(1), m.end(1)), slug) for m in named.finditer(text)]
    return edits


def _free_slug(workspace: Workspace, document: Document, part: Step | Stage, slug: str) -> None:
    if not slug:
        raise RefusedError("the new name gives nothing to link to: use letters or digits")
    if slug == BACK:
        raise RefusedError(f"`{BACK}` is the way back from a shared stage: take another name")
    if slug == part.slug:
        return
    profile = workspace.library.profile_of(document)
    stages = {**document.shared_stages, **(profile.shared_stages if profile else {})}
    if document.is_profile:
        for other in workspace.users(document.path):
            stages |= workspace.library.documents[other].shared_stages
    taken = document.steps if isinstance(part, Step) else stages
    if slug in taken:
        raise RefusedError(f"`{slug}` already exists")
    if slug in (stages if isinstance(part, Step) else document.steps):
        raise RefusedError(f"`{slug}` already exists: a step and a shared stage would share the name")


def _to_slug(workspace: Workspace, span: Span, old: str, slug: str) -> Edit:
    """A link's target, a `:go-to:`, a `:do:` or an `:id:`; the hash stays where there is one."""
    text = text_in(workspace.library.sources[span.path], span)
    hash = "#" if text.startswith("#") else ""
    if slugify(unquote(text.removeprefix("#"))) == old:
        return Edit(span, hash + slug)
    match = _LINK.search(text)
    if match is None or span.line != span.end_line or slugify(unquote(match.group(1)[1:])) != old:
        raise RefusedError(f"the place of the name in {span.path} line {span.line} can't be told for sure")
    at = span.column + match.start(1)
    return Edit(Span(span.path, span.line, at, span.line, at + len(match.group(1))), f"#{slug}")


def _link_words(workspace: Workspace, document: Document, part: Step | Stage, new: str) -> list[Edit]:
    """Links that repeat the old heading repeat the new one."""
    if not isinstance(part, Step):
        return []
    links: list[Link] = [link for *_, link in document.all_links]
    links += [answer.link for _, step in document.all_steps() for answer in step.answers]
    source = workspace.library.sources[document.path]
    words = [
        link.runs[0]
        for link in links
        if link.target == f"#{part.slug}" and len(link.runs) == 1 and isinstance(link.runs[0], Text)
    ]
    return [Edit(w.span, new) for w in words if text_in(source, w.span) == part.title]


# names of the profile


def _listed(workspace: Workspace, use: Use, new: str) -> list[Edit]:
    kind, machine, old = use.thing
    profile = workspace.library.profiles.get(machine)
    if profile is None:
        raise RefusedError("the equipment profile can't be read: mend it first")
    there = {u.thing for u in uses(workspace.library, profile) if u.defines}
    if fold(new) != old and (kind, machine, fold(new)) in there:
        raise RefusedError(f"a {kind} `{new}` already exists")
    _refuse_unread(workspace, machine, old)
    edits = []
    for each in everywhere(workspace, use.thing):
        front = workspace.library.documents[each.span.path].places.whole
        yaml = each.span.end_line < front.end_line
        edits.append(_exact(workspace, each.span, old, _yaml(new) if yaml else new, fold))
    return edits


def _refuse_unread(workspace: Workspace, machine: str, old: str) -> None:
    """A file that can't be read may hold the name too, and would be left behind."""
    library = workspace.library
    for path in workspace.paths():
        source = library.sources[path]
        mine = fold(equipment_in(source, None)) in ("", machine)
        if (
            path not in library.documents
            and path not in library.modules
            and mine
            and old in fold(source.text)
        ):
            raise RefusedError(f"{path} can't be read, and may use the name: mend it first")


def _yaml(name: str) -> str:
    plain = _PLAIN.fullmatch(name) and fold(name) not in _NO_WORDS
    return name if plain else f'"{name}"'


def _exact(workspace: Workspace, span: Span, old: str, new: str, form: Callable[[str], str]) -> Edit:
    """The edit of a span, once it is sure that the span holds the name and nothing else."""
    text = text_in(workspace.library.sources[span.path], span).strip()
    bare = text[1:-1] if len(text) > 1 and text[0] == text[-1] and text[0] in "\"'" else text
    if form(bare) != form(old):
        raise RefusedError(f"the place of the name in {span.path} line {span.line} can't be told for sure")
    return Edit(span, new)
