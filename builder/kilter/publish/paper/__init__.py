"""Cards on a printer's sheets, and telling from a printed card whether it is still in force."""
