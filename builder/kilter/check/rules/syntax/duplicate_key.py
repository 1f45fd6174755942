"""A key, field or option that stands twice; raised by `read`."""

from kilter.diagnostic import Severity

CODE = "K107"
SEVERITY = Severity.ERROR
