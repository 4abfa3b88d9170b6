"""
Print what every finding says, for a person to read: ``python -m tests.readings``.

With ``--all`` it is every way to break a rule, all that was not measured and the officer's
sheet too.
"""

import sys

from tests.readings.page import page

print(page(whole="--all" in sys.argv[1:]))
