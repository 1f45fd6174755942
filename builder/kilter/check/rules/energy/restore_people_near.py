"""Energy comes back while people may be near; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K714"
SEVERITY = Severity.ERROR
