"""A proof, a test or a reading as left that can't fail. Raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K732"
SEVERITY = Severity.ERROR
