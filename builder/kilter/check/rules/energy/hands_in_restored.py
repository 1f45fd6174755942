"""Energy comes back under the hands. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K705"
SEVERITY = Severity.ERROR
