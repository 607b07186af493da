"""Build the templates: ``python -m twodrum.build``."""

from .builder import main

if __name__ == "__main__":
    main()
