"""The kinds of exercise, found in the modules of this package: see ``base.Kind``."""

import sys

from .finding import find, newest

VERSIONS = find(sys.modules[__name__])
"""The kinds by slug and version: tasks that an earlier one set go by it for ever."""
KINDS = {slug: newest(versions) for slug, versions in VERSIONS.items()}
"""The newest of each by slug, as they are shown."""


def get(slug, version=None):
    """
    Return the kind called ``slug``, the newest or that of ``version``.

    Raise KeyError if there is none.
    """
    return KINDS[slug] if version is None else VERSIONS[slug][version]
