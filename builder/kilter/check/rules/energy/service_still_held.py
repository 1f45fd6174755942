"""A lock of ours goes back to service with the machine; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K718"
SEVERITY = Severity.ERROR
