"""As found, but a guard is off; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K723"
SEVERITY = Severity.ERROR
