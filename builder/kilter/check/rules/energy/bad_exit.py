"""`:exit:` is none of the three there are. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K741"
SEVERITY = Severity.ERROR
