"""The sentence cuts a source off, but not what keeps it so; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K742"
SEVERITY = Severity.WARNING
