"""``python -m wizard`` is the command line."""

import sys

from wizard.cli import main

if __name__ == "__main__":
    sys.exit(main())
