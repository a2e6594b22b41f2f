"""Run the command line with `python -m loomwright`."""

import sys

from loomwright.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
