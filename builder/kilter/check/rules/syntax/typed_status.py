"""A key that claims an approval; raised by `read.front`."""

from kilter.diagnostic import Severity

CODE = "K112"
SEVERITY = Severity.ERROR
