"""`:clear-of:` can't be read; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K740"
SEVERITY = Severity.ERROR
