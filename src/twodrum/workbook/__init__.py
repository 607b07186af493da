"""Sheets: what stands where, how it looks, how it is read and written."""
