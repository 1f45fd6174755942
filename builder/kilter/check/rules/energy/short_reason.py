"""A reason of a word or two; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K734"
SEVERITY = Severity.ERROR
