"""Another source stays live in energised work. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K704"
SEVERITY = Severity.ERROR
