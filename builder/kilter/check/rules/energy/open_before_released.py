"""A guard comes off over a live source; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K701"
SEVERITY = Severity.ERROR
