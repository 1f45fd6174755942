"""Energy is put back where no hold of ours was on; raised by the energy analysis."""

from kilter.diagnostic import Severity

CODE = "K713"
SEVERITY = Severity.ERROR
