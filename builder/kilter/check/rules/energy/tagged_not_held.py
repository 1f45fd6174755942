"""A tag hangs where a lock is missing; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K721"
SEVERITY = Severity.ERROR
