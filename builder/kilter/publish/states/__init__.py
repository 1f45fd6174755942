"""What a reviewer asks of a document: the states before every step, and the ways that lead there."""
