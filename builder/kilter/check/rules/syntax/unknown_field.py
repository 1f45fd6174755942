"""A `:field:` that is not known, or not here; raised by `read.fields`."""

from kilter.diagnostic import Severity

CODE = "K116"
SEVERITY = Severity.ERROR
