"""The form of `built.json`, which lies beside every site and says what it was made of."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, StringConstraints

from kilter.model.base import Value


class Form(Value):
    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)


class BuiltDocument(Form):
    """A procedure or pre-use check that was published."""

    revision: str
    hash: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
    """Content hash: two with one hash say the same thing."""
    page: str
    """From the folder of this file."""
    cards: tuple[str, ...]
    """Its cards, from the folder of this file."""


class BuiltEquipment(Form):
    """A machine whose profile was published."""

    revision: str
    """The profile's date; empty where it has none."""
    hash: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]
    """Content hash of the profile."""
    page: str
    """From the folder of this file."""
    cards: tuple[str, ...]
    """Its cards, from the folder of this file."""


class Built(Form):
    """What a build has made, and what it held back."""

    version: Literal["1"]
    documents: dict[str, BuiltDocument]
    """By number."""
    equipment: dict[str, BuiltEquipment]
    """By id."""
    withheld: dict[str, str]
    """Path to number and title of each document that was not published, because it or its profile has errors."""
