"""How a model stands in a workbook: what is where, how it is read, mended and filled."""
