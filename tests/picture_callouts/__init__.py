"""Layout, drawing and use of the numbers in the margins of pictures."""
