"""A character that the typeface of the cards does not have; raised before a card is laid out."""

from kilter.diagnostic import Severity

CODE = "K802"
SEVERITY = Severity.ERROR
