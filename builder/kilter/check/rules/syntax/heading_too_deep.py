"""A heading below H3; raised by `read.structure`."""

from kilter.diagnostic import Severity

CODE = "K124"
SEVERITY = Severity.ERROR
