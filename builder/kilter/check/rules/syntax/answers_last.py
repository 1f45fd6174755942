"""Something after a list of answers; raised by `read.answers`."""

from kilter.diagnostic import Severity

CODE = "K133"
SEVERITY = Severity.ERROR
