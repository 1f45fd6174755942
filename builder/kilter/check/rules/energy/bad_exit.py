"""`:exit:` is none of the three there are; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K741"
SEVERITY = Severity.ERROR
