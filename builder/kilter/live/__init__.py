"""`kilter serve`: the library as live pages, and writing in the browser."""
