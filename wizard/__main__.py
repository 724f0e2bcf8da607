"""``python -m wizard`` is the command line."""

import sys

from wizard.commands.main import main

if __name__ == "__main__":
    sys.exit(main())
