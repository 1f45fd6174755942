"""Zero is proved while there is still something to let out; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K710"
SEVERITY = Severity.ERROR
