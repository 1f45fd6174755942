"""An answer that is not `what is seen: [where to](#step)`; raised by `read.answers`."""

from kilter.diagnostic import Severity

CODE = "K132"
SEVERITY = Severity.ERROR
