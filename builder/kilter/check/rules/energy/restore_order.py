"""A source comes back before what the profile wants live first; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K712"
SEVERITY = Severity.ERROR
