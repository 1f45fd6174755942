"""The yearly inspection of a document's control of energy, as a sheet to fill in.

29 CFR 1910.147(c)(6): at least yearly, by an authorised employee other than those who use the procedure; with a
review between inspector and each user of their duties; the certificate names the machine, the date, the employees
and the inspector. (c)(7): retraining on a change of assignment, machine, process or energy control procedure, or
when an inspection shows gaps. Both from memory of the published text: hold it against the text in force.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from kilter.publish.training.packages.table import csv_bytes
from kilter.publish.training.standing.matrix import NOT_TRAINED, Cell
from kilter.publish.training.standing.months import months_later
from kilter.publish.training.standing.today import Document

EVERY = 12
"""Months."""
SOURCE = "29 CFR 1910.147(c)(6)(i)-(ii), (c)(7)(iii), from memory: hold it against the text in force"
COLUMNS = ("what", "asked for by", "entry")


def inspection_sheet(document: Document, cells: Sequence[Cell], today: date) -> bytes:
    """Lines to fill in; the people are those with a record on the document."""
    people = [c for c in cells if c.document == document.number and c.state != NOT_TRAINED]
    rows = [
        ("source of this sheet", "", SOURCE),
        ("procedure", "", f"{document.number} revision {document.revision}: {document.title}"),
        ("machine or equipment", "(c)(6)(ii)", document.machine),
        ("asset numbers inspected at", "(c)(6)(ii)", ""),
        ("date of the inspection", "(c)(6)(ii)", ""),
        ("inspector: authorised, and not one who uses this procedure", "(c)(6)(i)(A), (c)(6)(ii)", ""),
        *((f"employee included: {c.person} ({c.state})", "(c)(6)(ii)", "") for c in people),
        ("employee included, further", "(c)(6)(ii)", ""),
        ("duties reviewed with each of them (yes / no)", "(c)(6)(i)(C)-(D)", ""),
        ("gaps found, each with what was done", "(c)(6)(i)(B)", ""),
        ("retraining needed: assignment, machine, process or procedure changed, or gaps found", "(c)(7)(iii)", ""),
        ("next inspection at the latest", "(c)(6)(i)", f"12 months after this one (if done today: {months_later(today, EVERY).isoformat()})"),
    ]  # fmt: skip
    return csv_bytes(COLUMNS, rows)
