"""One call of a worksheet function from raw cells, the same for every host."""
