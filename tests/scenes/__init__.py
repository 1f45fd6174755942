"""The pictures of the demo library, made from models of machines that we invented."""
