"""A zone without the source that hands or instruments act on there; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K747"
SEVERITY = Severity.WARNING
