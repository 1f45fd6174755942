"""A source is explained away where it need not be; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K731"
SEVERITY = Severity.ERROR
