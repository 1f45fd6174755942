"""A reason of a word or two. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K734"
SEVERITY = Severity.ERROR
