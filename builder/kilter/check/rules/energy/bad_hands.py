"""`:hands:` can't be read. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K739"
SEVERITY = Severity.ERROR
