"""Block tokens to blocks: paragraphs, lists, tables, panels, figures."""

from __future__ import annotations

import re

from markdown_it.token import Token

from kilter.diagnostic import Fix, did_you_mean
from kilter.model.document import ROLES
from kilter.model.text import (
    SIGNAL_WORDS,
    Block,
    Calculation,
    Figure,
    Item,
    Listing,
    Panel,
    Paragraph,
    Quote,
    Table,
    Verbatim,
)
from kilter.read.calculations import calculation_name, given_in
from kilter.read.cures import inserted, line_start, put, spelt
from kilter.read.fields import deleted, field_at
from kilter.read.figures import (
    FIGURE_OPTIONS,
    MANY_OPTIONS,
    OF_THE_PAIR,
    area_in,
    detail_in,
    motion_in,
    scale_in,
)
from kilter.read.inline import Inlines, split_names
from kilter.read.markdown import tokens_of, too_deep
from kilter.read.notes import Notes
from kilter.source import Span

CALCULATIONS = ("calc", "stack")
DIRECTIVES = (*SIGNAL_WORDS, "figure", *CALCULATIONS)
_INFO = re.compile(r"^\{([^}]*)\}[ \t]*(.*)$")
_MARK = re.compile(r"\{([a-z-]+)\}`")
_CELL_END = re.compile(r"(?<!\\)\|")
_ITEM = re.compile(r"^\s*(\d+(?:\.\d+)?)\s*,\s*(\d+(?:\.\d+)?)\s+(\S.*)$")


class Blocks:
    """Reads the block tokens of one file; `at` walks over a token list."""

    def __init__(self, notes: Notes, inlines: Inlines) -> None:
        self.notes, self.inlines, self.source = notes, inlines, notes.source

    def read(self, tokens: list[Token], offset: int, nested: bool = False) -> list[Block]:
        """All blocks of a token list whose row 0 is `offset` in the file."""
        blocks: list[Block] = []
        at = 0
        while at < len(tokens):
            end = closing(tokens, at)
            blocks += self._block(tokens[at : end + 1], offset, nested)
            at = end + 1
        return blocks

    def _block(self, tokens: list[Token], offset: int, nested: bool) -> list[Block]:
        head = tokens[0]
        span = self.span(head, offset)
        match head.type:
            case "paragraph_open":
                return [Paragraph(runs=self.inlines.runs(tokens[1], offset), span=span)]
            case "bullet_list_open" | "ordered_list_open":
                return [self._list(tokens, offset, span)]
            case "table_open":
                return [self._table(tokens, offset, span)]
            case "fence" | "code_block":
                self._lost_marks(head, offset)
                return [Verbatim(text=head.content, span=span)]
            case "blockquote_open":
                return [Quote(blocks=tuple(self.read(tokens[1:-1], offset, True)), span=span)]
            case "colon_fence":
                return self._directive(head, offset, nested)
            case "html_block":
                self._html(head, span)
            case "fields":
                self._misplaced_fields(head, offset)
            case "heading_open":
                self.notes.error(
                    "heading-inside", "a heading inside another block", span, "begin it at the line's start"
                )
        return []

    def _list(self, tokens: list[Token], offset: int, span: Span) -> Listing:
        items, at = [], 1
        while at < len(tokens) - 1:
            end = closing(tokens, at)
            items.append(tuple(self.read(tokens[at + 1 : end], offset, True)))
            at = end + 1
        ordered = tokens[0].type == "ordered_list_open"
        start = int(tokens[0].attrGet("start") or 1) if ordered else 1
        return Listing(ordered=ordered, start=start, items=tuple(items), span=span)

    def _table(self, tokens: list[Token], offset: int, span: Span) -> Table:
        rows: list[list[Paragraph]] = []
        for n, token in enumerate(tokens):
            if token.type == "tr_open":
                rows.append([])
            elif token.type in ("th_open", "td_open"):
                cell = tokens[n + 1]
                rows[-1].append(Paragraph(runs=self.inlines.runs(cell, offset), span=self.span(cell, offset)))
        self._lost_cells(tokens, offset, len(rows[0]) if rows else 0)
        head, *rest = rows or [[]]
        return Table(header=tuple(head), rows=tuple(tuple(r) for r in rest), span=span)

    def _lost_cells(self, tokens: list[Token], offset: int, width: int) -> None:
        """The parser drops, without a word, the cells that stand beyond the header's last one."""
        for token in tokens:
            if token.type != "tr_open" or token.map is None:
                continue
            row = offset + token.map[0]
            cells = _CELL_END.split(self.source.row(row).strip().removeprefix("|").removesuffix("|"))
            if len(cells) > width:
                help = "give the header a cell more, or write a real bar as `\\|`"
                message = f"a row of {len(cells)} cells in a table of {width}"
                self.notes.error("table-shape", message, self.source.whole_row(row), help)

    def _lost_marks(self, token: Token, offset: int) -> None:
        """A mark in a block that is shown letter for letter does nothing; an indented text is one by mistake."""
        first, last = token.map or [0, 0]
        for row in range(offset + first, offset + last):
            for match in _MARK.finditer(self.source.row(row)):
                if match.group(1) in ROLES:
                    message = f"mark `{{{match.group(1)}}}` in a block that is shown letter for letter"
                    help = "begin the line with fewer than four blanks, and without a tab"
                    span = self.source.in_row(row, match.start(), match.end() - 1)
                    self.notes.error("stray-brace", message, span, help)

    def _html(self, token: Token, span: Span) -> None:
        if not token.content.lstrip().startswith("<!--"):
            help = "write it in Markdown; put a real `<` as `\\<`"
            shown = token.content.strip().split("\n")[0][:40]
            self.notes.error("raw-html", f"HTML is not allowed: `{shown}`", span, help)
        elif "-->" not in token.content:
            self.notes.error("raw-html", "a comment does not end", span, "close it with `-->`")
        elif token.content.rsplit("-->", 1)[1].strip():
            self.notes.error(
                "raw-html", "words on the line where a comment ends", span, "begin a new line after `-->`"
            )

    def _misplaced_fields(self, token: Token, offset: int) -> None:
        first = offset + (token.map or [0, 0])[0]
        field = field_at(self.source, first)
        name = field.name if field else "..."
        help = "fields stand right under their heading; only `:exit:` and `:go-to:` may be a step's last line"
        span = field.span if field else self.source.whole_row(first)
        self.notes.error("misplaced-field", f"field `:{name}:` stands in the middle of the text", span, help)

    def _directive(self, token: Token, offset: int, nested: bool) -> list[Block]:
        first, last = ((token.map or [0, 0])[0] + offset, (token.map or [0, 0])[1] + offset)
        row = self.source.whole_row(first)
        if not self._closed(token, first, last, row):
            return []
        match = _INFO.match(token.info.strip())
        if not match:
            help = "write `:::{warning} source`, the text, and `:::`; possible: " + ", ".join(
                f"`{d}`" for d in DIRECTIVES
            )
            cure = self._braced(token.info.strip(), row)
            self.notes.error("unknown-directive", "a `:::` block without a name in braces", row, help, cure)
            return []
        name, argument = match.group(1).strip(), match.group(2).strip()
        if name not in (known := self.known_directives()):
            cure = spelt(self.source, row, name, known, alone=True) if name not in FIGURE_OPTIONS else ()
            message = f"block `{{{name}}}` is not known"
            self.notes.error("unknown-directive", message, row, _instead(name, known), cure)
        elif nested:
            help = "let it stand by itself, at the line's start, outside lists and other blocks"
            self.notes.error("nested-directive", f"a {name} inside another block", row, help)
        elif (own := self.directive_of_kind(name, token, argument, first, last)) is not None:
            return own
        elif name == "figure":
            return [self._figure(token, argument, first, last)]
        elif name in CALCULATIONS:
            return [self._calculation(token, name, argument, first, last)]
        else:
            return [self._panel(token, name, argument, first, last)]
        return []

    def known_directives(self) -> tuple[str, ...]:
        """Names that may stand in the braces of a `:::` block."""
        return DIRECTIVES

    def directive_of_kind(
        self, name: str, token: Token, argument: str, first: int, last: int
    ) -> list[Block] | None:
        """What a directive that only one kind of file has becomes; None for all others."""
        return None

    def _closed(self, token: Token, first: int, last: int, row: Span) -> bool:
        inner = next(
            (n for n in range(first + 1, last - 1) if self.source.row(n).lstrip().startswith(":::")), None
        )
        ends = last - 1 > first and self.source.row(last - 1).strip().strip(":") == ""
        if inner is None and ends and self.source.row(last - 1).strip():
            return True
        more = f"; the next one begins in line {inner + 1}" if inner is not None else ""
        self.notes.error(
            "unclosed-directive",
            "a `:::` block does not end" + more,
            row,
            "write `:::` on a line of its own after its text",
            self._closing(first, last if inner is None else inner),
        )
        return False

    def _braced(self, info: str, row: Span) -> tuple[Fix, ...]:
        """The name of a block set into the braces that it lacks."""
        name = info.split()[0].strip("{}").casefold() if info.strip("{} ") else ""
        return put(self.source, row, info.split()[0], f"{{{name}}}") if name in DIRECTIVES else ()

    def _closing(self, first: int, last: int) -> tuple[Fix, ...]:
        """The end of a block below its first rows of text: what stands after a blank is hardly meant to be in it."""
        row = first + 1
        while row < last and self.source.row(row).strip() and not self.source.row(row).startswith("#"):
            row += 1
        if row == first + 1 or row >= len(self.source.lines):
            return ()
        return inserted(f"end it after line {row}", line_start(self.source.in_row(row)), ":::\n")

    def _argument(self, row: int, argument: str) -> tuple[int, int]:
        text = self.source.row(row)
        at = text.rfind(argument) if argument else len(text.rstrip())
        return at, at + len(argument)

    def _panel(self, token: Token, word: str, argument: str, first: int, last: int) -> Panel:
        at, _ = self._argument(first, argument)
        names = split_names(argument, lambda a, b: self.source.in_row(first, at + a, at + b))
        text = self.source.row(first)
        word_at = max(text.find(word), 0)
        return Panel(
            word=word,
            sources=names,
            blocks=tuple(self._content(token, first + 1)),
            span=self.source.rows(first, last),
            word_span=self.source.in_row(first, word_at, word_at + len(word)),
        )

    def _content(self, token: Token, row: int, skip: int = 0) -> list[Block]:
        tokens = tokens_of("\n".join(token.content.split("\n")[skip:]))
        if (deep := too_deep(tokens)) is not None:
            span = self.source.whole_row(row + skip + deep)
            self.notes.error("nested-too-deep", "lists or quotes nested too deeply", span, "make it flatter")
        return self.read(tokens, row + skip, True)

    def _figure(self, token: Token, argument: str, first: int, last: int) -> Figure:
        at, end = self._argument(first, argument)
        path_span = self.source.in_row(first, at, end) if argument else self.source.whole_row(first)
        if not argument:
            self.notes.error(
                "bad-value", "a figure without a picture", path_span, "write `:::{figure} picture.png`"
            )
        options, skip = self._options(first + 1, last - 1)
        caption = tuple(self._content(token, first + 1, skip))
        split = next((n for n, option in enumerate(options) if option[0] == "after"), len(options))
        before, rest = options[:split], options[split:]
        rows = self.source.rows(first, last)
        second = None
        if rest:
            _, path, place = rest[0]
            second = self._drawn(path, rest[1:], self._value_span(place, path), rows)
        return self._drawn(argument, before, path_span, rows, caption, second)

    def _value_span(self, row: Span, value: str) -> Span:
        """Where the value of an option stands, which ends its row."""
        at = self.source.row(row.line - 1).rindex(value)
        return self.source.in_row(row.line - 1, at, at + len(value))

    def _drawn(
        self,
        path: str,
        options: list[tuple[str, str, Span]],
        path_span: Span,
        rows: Span,
        caption: tuple[Block, ...] = (),
        after: Figure | None = None,
    ) -> Figure:
        """One picture with its own options."""
        items = tuple(i for n, v, s in options if n.isdigit() and (i := self._item(int(n), v, s)))
        named = {n: (v, s) for n, v, s in options if not n.isdigit()}
        fid = named.get("id", (None, None))
        areas = [(n, area_in(self.notes, n, v, s)) for n, v, s in options if n in ("crop", "cover")]
        details = (detail_in(self.notes, v, s) for n, v, s in options if n == "detail")
        motions = (motion_in(self.notes, v, s) for n, v, s in options if n == "motion")
        scale = named.get("scale")
        looked = named.get("looked", (None, None))
        return Figure(
            path=path,
            id=fid[0],
            id_span=fid[1],
            alt=named.get("alt", (None, None))[0],
            items=items,
            caption=caption,
            span=rows,
            path_span=path_span,
            crop=next((a for n, a in areas if n == "crop"), None),
            covers=tuple(a for n, a in areas if n == "cover" and a is not None),
            details=tuple(d for d in details if d is not None),
            looked=looked[0],
            looked_span=looked[1],
            motions=tuple(m for m in motions if m is not None),
            scale=scale_in(self.notes, *scale) if scale else None,
            after=after,
        )

    def _calculation(self, token: Token, word: str, argument: str, first: int, last: int) -> Calculation:
        at, end = self._argument(first, argument)
        place = self.source.in_row(first, at, end) if argument else self.source.whole_row(first)
        given, skip = given_in(self.notes, first + 1, last - 1)
        return Calculation(
            name=calculation_name(self.notes, word, argument, place),
            given=given,
            caption=tuple(self._content(token, first + 1, skip)),
            span=self.source.rows(first, last),
            name_span=place,
        )

    def _options(self, first: int, last: int) -> tuple[list[tuple[str, str, Span]], int]:
        found: list[tuple[str, str, Span]] = []
        row = first
        while row < last and (field := field_at(self.source, row)) is not None:
            name = field.name
            if not name.isdigit() and name not in FIGURE_OPTIONS:
                help = (
                    did_you_mean(name, FIGURE_OPTIONS)
                    + "; items are numbers, such as `:1: 412,310 Roller lever`"
                )
                cure = spelt(self.source, field.name_span, name, FIGURE_OPTIONS, alone=True)
                message = f"option `:{name}:` of a figure is not known"
                self.notes.error("unknown-field", message, field.name_span, help, cure)
            elif name == "id" and any(n == "after" for n, _, _ in found):
                help = "move it above `:after:`; a pair of pictures has one name"
                self.notes.error("misplaced-field", "`:id:` stands below `:after:`", field.span, help)
            elif name not in MANY_OPTIONS and any(n == name for n, _, _ in self._same_picture(name, found)):
                message, same = (
                    f"option `:{name}:` stands twice",
                    (name, field.value) in [f[:2] for f in found],
                )
                cure = deleted(self.notes, field, alone=same)
                self.notes.error("duplicate-key", message, field.name_span, "keep one of them", cure)
            elif not field.value:
                self.notes.error("empty-field", f"option `:{name}:` says nothing", field.span)
            else:
                found.append((name, field.value, field.span))
            row += 1
        return found, row - first

    @staticmethod
    def _same_picture(name: str, found: list[tuple[str, str, Span]]) -> list[tuple[str, str, Span]]:
        """The options that stand for the same picture: of a pair each picture has its own."""
        begins = [n for n, option in enumerate(found) if option[0] == "after"]
        return found[begins[0] + 1 :] if begins and name not in OF_THE_PAIR else found

    def _item(self, number: int, value: str, span: Span) -> Item | None:
        match = _ITEM.match(value)
        if not match:
            help = f"write the place in pixels from the upper left, and a name: `:{number}: 412,310 Roller lever`"
            self.notes.error("bad-value", f"item {number} of a figure can't be read", span, help)
            return None
        x, y, label = match.groups()
        return Item(number=number, x=float(x), y=float(y), label=label.strip(), span=span)

    def span(self, token: Token, offset: int) -> Span:
        first, last = token.map or [0, 1]
        while last > first + 1 and not self.source.row(offset + last - 1).strip():
            last -= 1
        return self.source.rows(offset + first, offset + last, blanks=False)


def _instead(name: str, known: tuple[str, ...]) -> str:
    """What to write in the place of a block that is not known."""
    if name in FIGURE_OPTIONS:
        return f"write it as an option of a figure: `:{name}:` in a row below `:::{{figure}} picture.png`"
    return did_you_mean(name, known)


def closing(tokens: list[Token], at: int) -> int:
    """The position of the token that closes the one at `at`; itself if it opens nothing."""
    if tokens[at].nesting != 1:
        return at
    depth = 0
    for n in range(at, len(tokens)):
        depth += tokens[n].nesting
        if depth == 0:
            return n
    return len(tokens) - 1
