"""The machine goes back to service untested; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K720"
SEVERITY = Severity.ERROR
