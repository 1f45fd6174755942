"""Energy comes back under the hands; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K705"
SEVERITY = Severity.ERROR
