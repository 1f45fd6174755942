"""An independent check of the energy-state analysis: abstract procedures, a brute-force oracle, generators."""
