"""`:hands:` can't be read; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K739"
SEVERITY = Severity.ERROR
