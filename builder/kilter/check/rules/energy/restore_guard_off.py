"""Energy comes back while a guard is off; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K715"
SEVERITY = Severity.ERROR
