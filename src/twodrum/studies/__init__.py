"""What one function can't say: given values in, rows of results out, no input or output."""
