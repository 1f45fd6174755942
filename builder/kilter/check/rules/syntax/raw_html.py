"""HTML in the text; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K122"
SEVERITY = Severity.ERROR
