"""Pure functions: what follows from what is written. Formulas name their source."""
