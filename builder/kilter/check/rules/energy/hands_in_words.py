"""The words talk of work inside, the hands are said to stay out; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K743"
SEVERITY = Severity.HINT
