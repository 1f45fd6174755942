"""An effect or a value outside a step; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K130"
SEVERITY = Severity.ERROR
