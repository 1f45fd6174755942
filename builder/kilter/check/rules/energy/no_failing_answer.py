"""A proof, a test or a reading as left that can't fail; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K732"
SEVERITY = Severity.ERROR
