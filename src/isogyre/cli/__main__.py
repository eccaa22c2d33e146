"""`python -m isogyre.cli` is the command `isogyre`."""

import sys

from isogyre.cli import main

sys.exit(main())
