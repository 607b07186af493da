"""The package in a Python that runs in a browser, here under Node."""
