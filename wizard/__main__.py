"""`python -m wizard` does what `crosstape` does."""

import sys

from wizard.command import main

sys.exit(main())
