"""A `:field:` without a value; raised by `read.fields`."""

from kilter.diagnostic import Severity

CODE = "K117"
SEVERITY = Severity.ERROR
