"""Declarations of the workbooks: job, office and month."""
