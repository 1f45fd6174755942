"""Nobody ever comes to this step. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K725"
SEVERITY = Severity.ERROR
