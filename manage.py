#!/usr/bin/env python
"""Run administrative tasks for the site."""

import os
import sys


def main():
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "training.settings")
    # The settings are read before the command runs, so it could not say this itself.
    if sys.argv[1:2] == ["demo"]:
        os.environ.setdefault("SITE_DEMO", "1")
    from django.core.management import execute_from_command_line

    from training.deck.environment import WrongSettings

    try:
        execute_from_command_line(sys.argv)
    except WrongSettings as error:
        sys.exit(str(error))


if __name__ == "__main__":
    main()
