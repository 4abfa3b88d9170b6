"""The demo's settings, but scripts and styles are served as an office serves them."""

import os
from pathlib import Path

from training.settings import *  # noqa: F403
from training.settings import STORAGES

STATIC_ROOT = Path(os.environ["COLLECTED"])
WHITENOISE_USE_FINDERS = WHITENOISE_AUTOREFRESH = False
STORAGES = STORAGES | {"staticfiles": {"BACKEND": "training.deck.scripts.Collected"}}
