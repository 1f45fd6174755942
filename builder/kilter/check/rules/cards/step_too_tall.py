"""A step that does not fit on a page of its card; raised when the card is laid out."""

from kilter.diagnostic import Severity

CODE = "K801"
SEVERITY = Severity.ERROR
