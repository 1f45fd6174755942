"""Front matter that is missing, does not end or is no YAML; raised by `read.yaml_front`."""

from kilter.diagnostic import Severity

CODE = "K106"
SEVERITY = Severity.ERROR
