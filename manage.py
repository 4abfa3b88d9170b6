#!/usr/bin/env python
"""Run administrative tasks for the site."""

import logging
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
    except Exception:
        # Nobody may be looking: a command that a scheduler began tells the log and the office.
        command = next(iter(sys.argv[1:]), "")
        log = logging.getLogger("training.commands")
        log.exception("a command failed", extra={"command": command})
        sys.exit(1)


if __name__ == "__main__":
    main()
