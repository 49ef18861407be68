"""``python -m cardgen`` does what the ``cardgen`` command does."""

import sys

from cardgen.cli import main

if __name__ == "__main__":
    sys.exit(main())
