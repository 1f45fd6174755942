"""Nobody ever comes to this step; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K725"
SEVERITY = Severity.ERROR
