"""As found, but something was done to it; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K724"
SEVERITY = Severity.ERROR
