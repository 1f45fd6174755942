"""Another source stays live in energised work; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K704"
SEVERITY = Severity.ERROR
