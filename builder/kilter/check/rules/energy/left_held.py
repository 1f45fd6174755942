"""As found, but a lock of ours is on; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K722"
SEVERITY = Severity.ERROR
